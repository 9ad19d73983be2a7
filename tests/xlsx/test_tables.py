"""The flat tables hold what the workbook holds, and say what each column is."""

import csv
import math
import re
from importlib.resources import files
from pathlib import Path

import pytest
from openpyxl import load_workbook

from sweepbook.errors import ReadProblem, SweepbookError
from sweepbook_plugins.xlsx import flat
from sweepbook_plugins.xlsx.about import ABOUT
from sweepbook_plugins.xlsx.columns import dictionary, flat_name
from sweepbook_plugins.xlsx.filling import LAYOUTS
from sweepbook_plugins.xlsx.meanings import MEANINGS
from sweepbook_plugins.xlsx.workbook import write as write_workbook
from tests.program import run

from .making import assessment, delivery, document, record

SCHEDULE = Path(str(files("sweepbook_demo").joinpath("schedule.csv")))


def table(path: Path) -> list[dict[str, str]]:
    with path.open(newline="", encoding="utf-8") as stream:
        return list(csv.DictReader(stream))


def test_they_hold_what_the_workbook_holds(demo_book: Path, tmp_path: Path) -> None:
    asked = ("export", demo_book, "--schedule", SCHEDULE)
    assert run(*asked, "--to", "tables", "-o", tmp_path / "flat").exit_code == 0
    assert run(*asked, "--to", "xlsx", "-o", tmp_path / "w.xlsx").exit_code == 0
    workbook = load_workbook(tmp_path / "w.xlsx")
    for layout in LAYOUTS:
        found = table(tmp_path / "flat" / f"{flat_name(layout.name)}.csv")
        if layout.name not in workbook:
            assert found == []
            continue
        titles, *rows = workbook[layout.name].iter_rows(values_only=True)
        assert len(found) == len(rows)
        for row, there in zip(rows, found, strict=True):
            assert list(there) == [flat_name(str(title)) for title in titles]
            for cell, text in zip(row, there.values(), strict=True):
                if isinstance(cell, float | int):
                    assert math.isclose(float(text), cell, rel_tol=0, abs_tol=0)
                else:
                    said = str(cell or "").replace("\n", " ")  # a cell has a line for each sentence
                    assert text.removeprefix("'") == said.removeprefix("'")


def test_the_dictionary_has_every_column_of_every_file_and_no_other(
    demo_book: Path, tmp_path: Path
) -> None:
    assert run("export", demo_book, "--to", "tables", "-o", tmp_path).exit_code == 0
    told = {(one["table"], one["column"]) for one in table(tmp_path / "columns.csv")}
    there = set()
    for path in tmp_path.glob("*.csv"):
        if path.stem != "columns":
            with path.open(newline="", encoding="utf-8") as stream:
                there |= {(path.stem, name) for name in next(csv.reader(stream))}
    assert told == there
    assert {path.stem for path in tmp_path.glob("*.csv")} == {
        "columns", "about", *(flat_name(layout.name) for layout in LAYOUTS)
    }  # fmt: skip


def test_every_meaning_is_of_a_column_and_says_more_than_its_title() -> None:
    rows = list(dictionary((*LAYOUTS, ABOUT)))
    titles = {one.column for one in rows} | {f"{one.table}: {one.column}" for one in rows}
    assert MEANINGS.keys() <= titles
    assert all(one.meaning.rstrip(".").casefold() != one.column.casefold() for one in rows)
    names = [(one.table, one.flat_name) for one in rows]
    assert len(set(names)) == len(names)


def test_they_tell_of_the_job_what_the_last_sheet_tells(tmp_path: Path) -> None:
    gone = "2 tests of old.csv (withdrawn 2026-03-04 by op-17: the wrong building)"
    problem = ReadProblem("b.csv", "line 3", "no limit")
    both = [delivery([assessment()], problems=[problem]) for _ in range(2)]
    for one in both:
        one.about.options["withdrawn"] = gone
    flat.write(both[0], tmp_path / "t")
    write_workbook(both[1], tmp_path / "w.xlsx")
    sheet = {
        (str(name).strip(), text)
        for name, text in load_workbook(tmp_path / "w.xlsx")["About"].values
        if text
    }
    told = table(tmp_path / "t" / "about.csv")
    otherwise = ("Title", "Caution", "Other columns", "On paper", "Colours")
    assert {(one["name"], one["text"]) for one in told if one["name"] not in otherwise} == {
        row for row in sheet if row[0] not in otherwise
    }
    parts = {one["name"]: one["part"] for one in told}
    assert parts["Withdrawn"] == ""
    assert gone in next(one["text"] for one in told if one["name"] == "Withdrawn")
    assert parts["b.csv line 3"] == "Could not be read"


@pytest.mark.parametrize("label", ["=1+1", "+A", "-A", "@A", "'A"])
def test_no_text_is_taken_for_a_formula(tmp_path: Path, label: str) -> None:
    flat.write(delivery([assessment(record(document(label)))]), tmp_path / "t")
    assert table(tmp_path / "t" / "links.csv")[0]["link"] == f"'{label}"


def test_a_table_of_a_delivery_before_does_not_stay(tmp_path: Path) -> None:
    (tmp_path / "schedule.csv").write_text("state\nuntested\n", encoding="utf-8")
    (tmp_path / "notes.txt").write_text("mine", encoding="utf-8")
    flat.write(delivery([assessment()]), tmp_path)
    assert table(tmp_path / "schedule.csv") == []
    assert (tmp_path / "notes.txt").read_text() == "mine"


def test_a_crash_on_the_way_leaves_what_was_there(tmp_path: Path) -> None:
    flat.write(delivery([assessment()]), tmp_path)
    before = {path.name: path.read_bytes() for path in tmp_path.iterdir()}

    def breaking() -> object:
        yield assessment(record(document("other")))
        raise RuntimeError("stop")

    with pytest.raises(RuntimeError):
        flat.write(delivery(breaking()), tmp_path)  # type: ignore[arg-type]
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == before


def test_a_name_for_one_file_makes_no_folder(tmp_path: Path) -> None:
    for name in ("x.csv", "X.CSV", "tables.xlsx"):
        with pytest.raises(SweepbookError, match="several files") as caught:
            flat.write(delivery([assessment()]), tmp_path / name)
        assert f"such as {tmp_path / Path(name).stem}." in caught.value.todo
    assert list(tmp_path.iterdir()) == []
    (tmp_path / "old.csv").mkdir()
    flat.write(delivery([assessment()]), tmp_path / "old.csv")
    assert (tmp_path / "old.csv" / "links.csv").is_file()


def test_they_speak_of_tables_and_never_of_sheets(demo_book: Path, tmp_path: Path) -> None:
    assert run("export", demo_book, "--to", "tables", "-o", tmp_path).exit_code == 0
    told = {row["name"]: row["text"] for row in table(tmp_path / "about.csv")}
    assert told["Caution"].startswith("These tables judge data; they do not authorise work.")
    assert "no remote power" in told["Caution"]
    assert told["Other columns"].startswith("columns.csv says")
    for name in ("about", "columns"):
        said = (tmp_path / f"{name}.csv").read_text(encoding="utf-8")
        assert not re.search(r"(?i)\bsheets?\b|\bworkbooks?\b", said), name


def test_what_could_not_be_read_is_told_in_one_order(tmp_path: Path) -> None:
    problems = [
        ReadProblem(source, place, "wrong")
        for source, place in (("a-10.csv", ""), ("a-2.csv", "line 10"), ("a-2.csv", "line 9"))
    ]
    for number, order in enumerate((problems, problems[::-1])):
        target = tmp_path / f"{number}"
        flat.write(delivery([assessment()], problems=order), target)
    names = [
        row["name"]
        for row in table(tmp_path / "0" / "about.csv")
        if row["part"] == "Could not be read"
    ]
    assert names == ["a-2.csv line 9", "a-2.csv line 10", "a-10.csv"]
    one, other = ((tmp_path / str(n) / "about.csv").read_text("utf-8") for n in (0, 1))
    assert one == other
