"""One test in two exports: every command and writer counts it once, and lists both."""

import csv
import json
import sqlite3
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from lxml import html
from openpyxl import load_workbook

from sweepbook.record import codec, identity
from sweepbook.record.model import Record
from tests.program import DIALECTS, run

from .conftest import FAILED, UPHELD

LABEL = "1A-P1-03"
Document = dict[str, Any]
Change = Callable[[Document], None]


def export_of(book: Path, label: str, change: Change = lambda _: None) -> bytes:
    """A record of a test as another program may have exported it: another file says the same."""
    document = json.loads(run("show", book, label, "--json").stdout)
    document["origin"] = [{**document["origin"][0], "name": "anew.csv", "sha256": "ab" * 32}]
    document["extra"] = {**document.get("extra", {}), "written by": "another program"}
    change(document)
    del document["record_id"]
    found = codec.loads(json.dumps({"record_id": "sb0-" + "0" * 64, **document}).encode())
    made = {name: part for name, part in found.document.items() if name != "record_id"}
    return codec.dumps(Record({**made, "record_id": identity.record_id(made)}))


def gathered(folder: Path, change: Change = lambda _: None) -> Path:
    """A book of an upheld pass, an upheld fail and another export of that."""
    book = folder / "book"
    run("gather", book, UPHELD, FAILED, *DIALECTS)
    (folder / "anew.json").write_bytes(export_of(book, LABEL, change))
    assert run("gather", book, folder / "anew.json").exit_code == 0
    return book


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The book; do not write to it."""
    return gathered(tmp_path_factory.mktemp("exports"))


@pytest.fixture(scope="module")
def schedule(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A schedule of both links."""
    file = tmp_path_factory.mktemp("exports") / "schedule.csv"
    limit = "tia-568.2-d/cat6a/permanent-link"
    file.write_text(f"label,limit\n1A-P1-01,{limit}\n{LABEL},{limit}\n")
    return file


TOLD = "2 tests (in 3 records, of which 1 is another export)"


def flat(text: str) -> str:
    return " ".join(text.split())


def test_check_and_retests_count_it_once_and_say_so(book: Path) -> None:
    told = flat(run("check", book).output)
    assert f"{TOLD}: 2 upheld." in told
    assert "note SET012" in told
    assert told.count(f"{LABEL} fail") == 2  # both are listed
    told = flat(run("retests", book).output)
    assert f"{TOLD}; to be tested again: 1 link." in told
    assert "order is not known" not in told
    (link,) = json.loads(run("retests", book, "--json").stdout)["retests"]
    assert link["tests"] == 1


def test_reconcile_counts_it_once_and_names_it(book: Path, schedule: Path) -> None:
    told = flat(run("reconcile", book, "--schedule", schedule).output)
    assert "another export of: 1 record." in told
    found = json.loads(run("reconcile", book, "--schedule", schedule, "--json").stdout)
    (link,) = [one for one in found["links"] if one["label"] == LABEL]
    assert link["state"] == "failed" and link["remarks"] == []
    again, counts = link["tests"]
    assert again["export_of"] == counts["record_id"] and "export_of" not in counts


def test_testers_count_it_once(book: Path) -> None:
    units = json.loads(run("testers", book, "--json").stdout)["testers"]
    assert {one["tests"] for one in units} == {2}


def test_the_workbook_counts_it_once_and_its_history_has_both(
    book: Path, schedule: Path, tmp_path: Path
) -> None:
    target = tmp_path / "out.xlsx"
    said = run("export", book, "--schedule", schedule, "--to", "xlsx", "-o", target)
    assert flat(said.output).startswith(f"{TOLD} written to")
    sheets = load_workbook(target)
    summary = {row[0]: row[1] for row in sheets["Summary"].iter_rows(values_only=True)}
    assert (summary["All tests"], summary["Other exports"], summary["upheld"]) == (2, 1, 2)
    assert summary["Failed by the sweeps"] == summary["Links to test again"] == 1
    history = [row[:4] for row in sheets["History"].iter_rows(min_row=2, values_only=True)]
    assert history == [(LABEL, 1, 1, "other export"), (LABEL, 1, 1, "yes")]
    units = [row[4] for row in sheets["Instruments"].iter_rows(min_row=2, values_only=True)]
    assert set(units) == {2}
    planned = [row for row in sheets["Schedule"].iter_rows(min_row=2, values_only=True)]
    assert [row[12] for row in planned] == [1, 1]


def test_the_page_counts_it_once(book: Path, tmp_path: Path) -> None:
    target = tmp_path / "page.html"
    run("export", book, "--to", "report", "-o", target, "--plots", "none")
    page = html.parse(str(target))
    (said,) = [flat(one.text_content()) for one in page.iterfind(".//p[@class='soft']")
               if "2 exports" in one.text_content()]  # fmt: skip
    assert "1 test in 2 exports" in said
    rows = [
        [flat(cell.text_content()) for cell in row]
        for row in page.iterfind(".//section[@aria-labelledby='judgements']//tr")
    ]
    assert any(row[0] == "fail" and "1" in row and "2" not in row for row in rows), rows


def test_the_database_counts_it_once_and_its_history_has_both(
    book: Path, schedule: Path, tmp_path: Path
) -> None:
    target = tmp_path / "out.sqlite"
    run("export", book, "--schedule", schedule, "--to", "as-built", "-o", target)
    with sqlite3.connect(target) as database:
        ask = database.execute
        assert ask("SELECT label, tests FROM current_state ORDER BY label").fetchall() == [
            ("1A-P1-01", 1),
            (LABEL, 1),
        ]
        assert ask("SELECT DISTINCT tests FROM tests_per_instrument").fetchall() == [(2,)]
        assert ask("SELECT DISTINCT tests FROM schedule_state").fetchall() == [(1,)]
        history = ask(
            "SELECT is_current, export_of IS NULL FROM test_history "
            f"WHERE label = '{LABEL}' ORDER BY sequence"
        )
        assert history.fetchall() == [(0, 0), (1, 1)]
        counts = ask("SELECT record_id FROM current_state WHERE label = ?", [LABEL]).fetchone()
    run("export", book, "--to", "tables", "-o", tmp_path / "tables")
    with (tmp_path / "tables" / "history.csv").open(newline="") as file:
        (speaks,) = [row for row in csv.DictReader(file) if row["current"] == "yes"]
    assert speaks["record"] == counts[0]  # both writers let the same record speak


def _another_verdict(document: Document) -> None:
    document["stated"]["overall"]["verdict"] = "pass"


def _another_moment(document: Document) -> None:
    document["test"]["started"]["rfc3339"] = "2023-03-09T08:21:10+01:00"


@pytest.mark.parametrize("change", [_another_verdict, _another_moment])
def test_what_says_otherwise_or_is_of_another_day_counts(change: Change, tmp_path: Path) -> None:
    """Nothing that overturns, and no test that was copied, is hidden by what it is like."""
    told = flat(run("check", gathered(tmp_path, change)).output)
    assert "3 tests:" in told and "records" not in told


def test_the_fuller_export_counts(tmp_path: Path) -> None:
    def bare(document: Document) -> None:
        del document["link"]["near"], document["link"]["far"], document["link"]["cable"]

    book = gathered(tmp_path, bare)
    run("export", book, "--to", "tables", "-o", tmp_path / "tables")
    with (tmp_path / "tables" / "links.csv").open(newline="") as file:
        words = {row["current"]: row["near_termination"] for row in csv.DictReader(file)
                 if row["link"] == LABEL}  # fmt: skip
    assert words["yes"] and not words["other export"]


def test_tests_of_one_label_come_by_time_in_every_list(tmp_path: Path) -> None:
    book = tmp_path / "book"
    run("gather", book, UPHELD, *DIALECTS)

    def at(day: str) -> Change:
        def change(document: Document) -> None:
            document["test"]["started"] = {"as_stated": day, "rfc3339": f"2023-{day}T08:00:00Z"}
            document["extra"]["day"] = day

        return change

    def without(document: Document) -> None:
        del document["test"]["started"]

    for day, change in (("04-02", at("04-02")), ("04-01", at("04-01")), ("none", without)):
        file = tmp_path / f"{day}.json"
        file.write_bytes(export_of(book, UPHELD.stem.removeprefix("heron-"), change))
        other = tmp_path / "others"
        assert run("gather", other, file).exit_code == 0
    words = [line.strip() for line in run("check", other).output.splitlines()]
    days = [line.split(".")[0] for line in words if line.startswith(("Tested", "tia-568"))]
    assert days == ["Tested 2023-04-01 08:00", "Tested 2023-04-02 08:00", "tia-568"]
    shown = run("show", other, "1A-P1-01").output
    assert shown.index("04-01") < shown.index("04-02")
    with (other / "index.csv").open(newline="") as index:
        assert [row["tested"] for row in csv.DictReader(index)] == ["04-01", "04-02", ""]
