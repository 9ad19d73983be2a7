"""The first sheet counts what check, retests and reconcile count, on the demo's book."""

import json
import shutil
from collections import defaultdict
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from tests.program import run

SCHEDULE = Path(str(files("sweepbook_demo").joinpath("schedule.csv")))
JOB = """schema = "urn:sweepbook:project-0"
[job]
owner = "Thornquay Borough"
marginal_pass = "retest"
"""


@pytest.fixture(scope="module")
def book(demo_book: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    copy = Path(shutil.copytree(demo_book, tmp_path_factory.mktemp("summary") / "book"))
    (copy / "project.toml").write_text(JOB, encoding="utf-8")
    return copy


def summary(target: Path) -> dict[str, tuple[Any, str]]:
    """Number and text by name; of one name the first."""
    sheet = load_workbook(target).worksheets[0]
    assert sheet.title == "Summary"
    found: dict[str, tuple[Any, str]] = {}
    for name, number, text in sheet.iter_rows(min_row=2, max_col=3, values_only=True):
        found.setdefault(str(name), (number, str(text or "")))
    return found


def test_it_counts_what_the_commands_count(book: Path, tmp_path: Path) -> None:
    target = tmp_path / "w.xlsx"
    run("export", book, "--schedule", SCHEDULE, "--to", "xlsx", "-o", target)
    told = summary(target)
    audit = json.loads(run("check", book, "--json").stdout)
    listed = json.loads(run("retests", book, "--schedule", SCHEDULE, "--json").stdout)["retests"]
    held = json.loads(run("reconcile", book, "--schedule", SCHEDULE, "--json").stdout)
    assert told["All tests"][0] == audit["summary"]["records"] == len(audit["records"])
    for word in ("upheld", "overturned", "unproven", "unstated"):
        assert told[word][0] == audit["summary"]["judgements"].get(word, 0)
    for word in ("error", "warning", "note"):
        assert told[word][0] == audit["summary"]["findings"][word]
    assert told["Marginal passes"][0] is None  # the sentence of the job stands first
    assert told["Failed by the sweeps"][0] == audit["summary"]["recomputed"]["fail"]
    assert told["Links to test again"][0] == len(listed) > 0
    assert told["Open by the schedule"][0] == held["open"]
    for state, count in held["summary"].items():
        if state not in ("unproven", "overturned") and count:
            assert told[state][0] == count
    assert told["Owner"] == (None, "Thornquay Borough")
    closed = sum(not one["open"] for one in held["links"])
    places = [text for name, (_, text) in told.items() if text.endswith("open.") and "/" in name]
    assert sum(int(text.split()[0]) for text in places) == closed
    assert told["Caution"][1].startswith("This workbook judges data")


def test_what_is_closed_does_not_stand_under_open(book: Path, tmp_path: Path) -> None:
    target = tmp_path / "w.xlsx"
    run("export", book, "--schedule", SCHEDULE, "--to", "xlsx", "-o", target)
    held = json.loads(run("reconcile", book, "--schedule", SCHEDULE, "--json").stdout)
    heading, under = "", defaultdict[str, list[str]](list)
    for name, number, text in load_workbook(target)["Summary"].iter_rows(
        min_row=2, max_col=3, values_only=True
    ):
        if number is None and not text:
            heading = str(name)
        under[heading].append(str(name))
    states = {state: one["open"] for one in held["links"] for state in [one["state"]]}
    assert set(states.values()) == {True, False}
    for state, is_open in states.items():
        assert (state in under["Open"]) is is_open
        assert (state in under["Closed by the schedule"]) is not is_open


def test_without_a_schedule_it_does_not_say_that_nothing_is_untested(
    book: Path, tmp_path: Path
) -> None:
    run("export", book, "--to", "xlsx", "-o", tmp_path / "w.xlsx")
    told = summary(tmp_path / "w.xlsx")
    assert told["Untested links"][0] is None
    assert told["Untested links"][1].startswith("Not known")
    assert "Open by the schedule" not in told
