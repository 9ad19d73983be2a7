"""Names stand in deliveries where the file of them is there, and nobody does where asked for."""

import contextlib
import json
import shutil
import sqlite3
import zipfile
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from sweepbook.people.names import People
from sweepbook.people.table import parse
from tests.program import run

NAME = "Ines Korbel"
WHY = ("--who", "op-17", "--why", "looked it up")


@pytest.fixture
def book(demo_book: Path, tmp_path: Path) -> Path:
    """The demo's book with a correction and an acceptance by its operator op-17."""
    copy = Path(shutil.copytree(demo_book, tmp_path / "book"))
    run("correct", copy, "1A-P1-01", "purpose", "acceptance", *WHY)
    run("accept", copy, "REC003", "1A-P1-02", *WHY)
    return copy


def name(book: Path) -> None:
    (book / "people.csv").write_text(f"id,name\nop-17,{NAME}\n", encoding="utf-8")


def texts(workbook: Path) -> str:
    """Everything that is written in a workbook."""
    with zipfile.ZipFile(workbook) as parts:
        return "".join(parts.read(part).decode() for part in parts.namelist())


def cells(workbook: Path, sheet: str, column: str) -> set[Any]:
    rows = list(load_workbook(workbook)[sheet].iter_rows(values_only=True))
    at = rows[0].index(column)
    return {row[at] for row in rows[1:]}


def test_names_are_shown_only_where_the_file_is_there(book: Path, tmp_path: Path) -> None:
    before, after = tmp_path / "before.xlsx", tmp_path / "after.xlsx"
    run("export", book, "--to", "xlsx", "-o", before)
    assert NAME not in texts(before)
    assert "op-17" in cells(before, "Links", "Operator")
    name(book)
    run("export", book, "--to", "xlsx", "-o", after)
    assert cells(after, "Links", "Operator") == cells(before, "Links", "Operator")
    assert cells(after, "Links", "Operator's name") == {NAME, None}
    assert f"{NAME} (op-17)" in cells(after, "Corrections", "Who")
    assert any(said and NAME in said for said in cells(after, "Findings", "Accepted by"))
    assert f"operator {NAME} (op-17)" in " ".join(run("show", book, "1A-P1-01").stdout.split())
    records = [path.read_bytes() for path in book.glob("records/*/*.json")]
    assert not any(NAME.encode() in raw for raw in records)
    assert run("doctor", book).exit_code == 0


@pytest.mark.parametrize("to", ["xlsx", "as-built"])
def test_a_delivery_without_people_names_nobody(book: Path, tmp_path: Path, to: str) -> None:
    name(book)
    target = tmp_path / "delivery"
    done = run("export", book, "--to", to, "-o", target, "--without-people")
    assert done.exit_code == 0, done.stderr
    if to == "xlsx":
        said = texts(target)
    else:
        with contextlib.closing(sqlite3.connect(target)) as connection:
            said = "\n".join(connection.iterdump())
    assert "op-17" not in said
    assert NAME not in said
    assert "(left out)" in said
    assert "1A-P1-02" in said


def test_records_as_they_are_cannot_be_written_without_people(book: Path, tmp_path: Path) -> None:
    refused = run("export", book, "--to", "json", "-o", tmp_path / "r.jsonl", "--without-people")
    assert refused.exit_code == 3
    assert "holds the records as they are" in refused.stderr
    assert not (tmp_path / "r.jsonl").exists()


def test_a_judgement_does_not_depend_on_people(book: Path, tmp_path: Path) -> None:
    told = json.loads(run("check", book, "--json").stdout)
    run("export", book, "--to", "xlsx", "-o", tmp_path / "w.xlsx", "--without-people")
    sheet = load_workbook(tmp_path / "w.xlsx")["Links"]
    titles, *rows = sheet.iter_rows(values_only=True)
    judged = [row[titles.index("Judgement")] for row in rows]
    assert judged == [record["judgement"] for record in told["records"]]


@pytest.mark.parametrize(
    ("text", "names", "places"),
    [
        ("id,name\na,A B\n", {"a": "A B"}, []),
        ("\ufeffName;Firm;ID\nA B;F;007\n\n", {"007": "A B"}, []),
        ('id,name\n"a","B, C"\na,"B, C"\n', {"a": "B, C"}, []),
        ("id,name\na,A\na,B\n", {"a": "A"}, ["line 3"]),
        ("id,name\na\n,B\nc,C\n", {"c": "C"}, ["line 2", "line 3"]),
        ("who,name\na,A\n", {}, ["line 1"]),
        ('id,name\na,A\nb,"B\n', {"a": "A"}, ["line 3"]),
        ("", {}, []),
    ],
)
def test_what_cannot_be_used_is_told_with_its_line(
    text: str, names: dict[str, str], places: list[str]
) -> None:
    people = parse(text.encode())
    assert people.names == names
    assert [problem.place for problem in people.problems] == places


def test_a_file_in_another_encoding_names_nobody() -> None:
    assert [one.place for one in parse("id,name\na,\xe9\n".encode("latin-1")).problems] == [
        "line 2"
    ]


def test_an_id_that_is_two_people_in_two_books_has_no_name() -> None:
    both = People.together([People({"a": "A", "b": "B"}), People({"a": "C", "c": "C"})])
    assert both.names == {"b": "B", "c": "C"}
    assert both.shown("a") == "a"
    assert both.shown("b") == "B (b)"


def test_faults_of_the_file_are_told_and_harm_nothing(book: Path, tmp_path: Path) -> None:
    (book / "people.csv").write_text("id,name\nop-17\n", encoding="utf-8")
    done = run("export", book, "--to", "xlsx", "-o", tmp_path / "w.xlsx")
    assert done.exit_code == 1
    assert "people.csv, line 2: A line takes an id and a name." in done.stderr
    proved = run("doctor", book)
    assert proved.exit_code == 0
    assert "people.csv, line 2" in proved.stdout + proved.stderr
