"""Labels that differ in case or runs of blanks only are one link, whichever command is asked."""

import csv
import json
import re
import shutil
import sqlite3
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest

from sweepbook.limits.library import Library
from sweepbook.schedule.attempt import Attempt
from sweepbook.schedule.model import End, Schedule, ScheduledLink
from sweepbook.schedule.reconcile import reconcile
from sweepbook.schedule.standing import State
from tests.program import DEMO, run

SCHEDULE = DEMO / "schedule.csv"
PLANNED = ("--schedule", SCHEDULE)
FAIL = Attempt(
    record_id="sb0-1", label="A 1", purpose="initial", started=datetime(2024, 5, 1, 9),
    stated="fail", recomputed="fail", judgement="upheld", reason="NEXT fails.",
    limit_path="tia-568.2-d/cat6a/channel",
)  # fmt: skip
PASS = replace(
    FAIL, record_id="sb0-2", started=datetime(2024, 5, 2, 9), stated="pass", recomputed="pass"
)


@pytest.fixture(scope="module")
def respelled(demo_book: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo's book, where the passed retest of PW-1-02 is called pw-1-02."""
    book = shutil.copytree(demo_book, tmp_path_factory.mktemp("respelled") / "book")
    held = json.loads(run("compare", book, "PW-1-02", "--json").stdout)
    retest = held["comparisons"][0]["later"]["record_id"]
    done = run("correct", book, retest, "label", "pw-1-02", "--who", "K. Orme", "--why", "seen")
    assert done.exit_code == 0, done.output
    return book


def _links(book: Path) -> dict[str, str]:
    told = json.loads(run("reconcile", book, *PLANNED, "--json").stdout)
    return {item["label"]: item["state"] for item in told["links"]}


def test_reconcile_has_it_as_one_link(demo_book: Path, respelled: Path) -> None:
    assert _links(respelled) == _links(demo_book)
    assert _links(respelled)["PW-1-02"] == "passed on retest"


@pytest.mark.parametrize("planned", [(), PLANNED])
def test_it_is_off_the_list_of_retests(respelled: Path, planned: tuple[str | Path, ...]) -> None:
    said = run("retests", respelled, *planned).stdout
    assert "PW-1-02" not in said.upper()
    assert "03-13  unproven" in said


@pytest.mark.parametrize("asked", [(), ("PW-1-02",), ("pw-1-02",)])
def test_compare_holds_its_tests_against_each_other(
    respelled: Path, asked: tuple[str, ...]
) -> None:
    told = json.loads(run("compare", respelled, *asked, "--json").stdout)
    found = {(one["earlier"]["stated"], one["later"]["stated"]) for one in told["comparisons"]}
    assert ("fail", "pass") in found


@pytest.mark.parametrize("planned", [(), PLANNED])
def test_what_is_written_has_it_as_one_link(
    demo_book: Path, respelled: Path, tmp_path: Path, planned: tuple[str | Path, ...]
) -> None:
    def written(book: Path, name: str) -> tuple[list[str], set[str]]:
        folder, page = tmp_path / name, tmp_path / f"{name}.html"
        for kind, target in (("tables", folder), ("report", page)):
            done = run("export", book, *planned, "--to", kind, "-o", target)
            assert done.exit_code == 0, done.output
        with (folder / "history.csv").open(newline="", encoding="utf-8-sig") as lines:
            rows = [next(iter(row.values())) for row in csv.DictReader(lines)]
        counts = re.findall(r"<dt>links? tested</dt><dd>[^<]*", page.read_text("utf-8"))
        return rows, set(counts)

    rows, counts = written(respelled, "respelled")
    assert rows == ["PW-1-02", "pw-1-02"]
    assert (len(rows), counts) == (2, written(demo_book, "as_it_came")[1])


def test_the_as_built_database_has_it_as_one_link(respelled: Path, tmp_path: Path) -> None:
    target = tmp_path / "o.sqlite"
    done = run("export", respelled, *PLANNED, "--to", "as-built", "-o", target)
    assert done.exit_code == 0, done.output
    with sqlite3.connect(target) as connection:
        rows = connection.execute(
            "SELECT label, state, link_id FROM scheduled WHERE upper(label) = 'PW-1-02'"
        ).fetchall()
        tests = connection.execute("SELECT count(*) FROM test WHERE link_id = ?", [rows[0][2]])
        assert [row[:2] for row in rows] == [("PW-1-02", "passed on retest")]
        assert tests.fetchone() == (2,)
    connection.close()


def _item(*tests: Attempt, link: ScheduledLink) -> list[tuple[str, State]]:
    held = reconcile(Schedule("s.csv", "", (link,)), tests, Library.load())
    return [(item.label, item.state) for item in held.items]


def test_case_and_runs_of_blanks_do_not_count_against_a_schedule() -> None:
    link = ScheduledLink(2, "A 1", limit=FAIL.limit_path)
    passed = replace(PASS, label="a  1")
    assert _item(FAIL, passed, link=link) == [("A 1", State.RETESTED)]
    held = reconcile(Schedule("s.csv", "", (link,)), (FAIL, passed), Library.load())
    assert held.items[0].remarks == ()
    assert len(set(held.links().values())) == 1
    apart = replace(PASS, label="A1")  # blanks that one has and the other has not do
    assert _item(FAIL, apart, link=link) == [
        ("A 1", State.FAILED), ("A1", State.NOT_SCHEDULED)
    ]  # fmt: skip


def test_a_label_of_another_case_at_another_place_is_remarked() -> None:
    link = ScheduledLink(2, "A 1", near=End({"building": "Mill"}))
    elsewhere = replace(PASS, label="a 1", near=End({"building": "Barn"}))
    held = reconcile(Schedule("s.csv", "", (link,)), (elsewhere,), Library.load())
    untested, stray = held.items
    assert (untested.state, stray.state) == (State.UNTESTED, State.NOT_SCHEDULED)
    assert "names another place, building Barn" in str(untested.words)
    assert "The schedule has this label at another building" in stray.reason
    assert untested.near_misses == stray.near_misses == ()
