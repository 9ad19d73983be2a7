"""The questions of the dictionary, asked of the demo's database as they stand beside it.

The answers are the model's, from `truth.json`, `schedule.csv` and the demo's README. The book has
no corrections, so that the label that the demo corrects stands as it was typed.
"""

import csv
import json
from pathlib import Path
from typing import Any

import pytest

from tests.program import DEMO, run

from .made_up import ask

_DUE = "2023-02-02"
"""When the calibration of TK-7731 was due, by the exports; it tested on 7 March 2023."""


@pytest.fixture(scope="module")
def database(tmp_path_factory: pytest.TempPathFactory, demo_book: Path) -> Path:
    target = tmp_path_factory.mktemp("owner") / "as-built.sqlite"
    schedule = DEMO / "schedule.csv"
    result = run("export", demo_book, "--schedule", schedule, "--to", "as-built", "-o", target)
    assert result.exit_code == 0, result.output
    return target


@pytest.fixture(scope="module")
def answers(database: Path) -> dict[str, list[tuple[Any, ...]]]:
    """The rows by question, each read from the dictionary and run without a change."""
    beside = database.with_name("as-built.sqlite.columns.csv")
    with beside.open(encoding="utf-8", newline="") as stream:
        rows = [row for row in csv.DictReader(stream) if row["kind"] == "question"]
    assert len(rows) >= 10
    assert all(row["meaning"].endswith((".", "?")) for row in rows)
    return {row["table_name"]: ask(database, row["sql"]) for row in rows}


def _truth() -> dict[str, list[dict[str, Any]]]:
    """The tests of each label, in time."""
    found: dict[str, list[dict[str, Any]]] = {}
    for link in json.loads((DEMO / "truth.json").read_bytes())["links"]:
        found.setdefault(link["label"], []).append(link)
    return found


def test_every_question_has_an_answer_in_the_demo_but_those_on_what_it_lacks(
    answers: dict[str, list[tuple[Any, ...]]],
) -> None:
    empty = {name for name, rows in answers.items() if not rows}
    assert empty == {"what_did_people_correct"}


def test_where_sources_differ(answers: dict[str, list[tuple[Any, ...]]]) -> None:
    (planted,) = [
        label
        for label, (link, *_) in _truth().items()
        if any(item["code"] == "end-mislabelled" for item in link["planted"])
    ]
    ((label, what, differs_in, one, other),) = answers["where_do_sources_differ"]
    assert (label, what, differs_in) == (planted, "end: far", "termination")
    assert "RR-02" in one
    assert "RR-20" in other


def test_what_is_unproven_on_floor_2_and_why(answers: dict[str, list[tuple[Any, ...]]]) -> None:
    told = {row[0]: row[-1] for row in answers["what_is_unproven_on_a_floor"]}
    last = {label: tests[-1] for label, tests in _truth().items()}
    with (DEMO / "schedule.csv").open(encoding="utf-8", newline="") as stream:
        floors = {
            row["label"]: {row["from floor"], row["to floor"]} for row in csv.DictReader(stream)
        }
    assert set(told) == {
        label
        for label, where in floors.items()
        if "2" in where and label in last and last[label]["judgement"] == "unproven"
    }
    assert "NEXT at the far end is missing" in told["2A-P1-07"]


def test_what_was_tested_after_calibration_ended(
    answers: dict[str, list[tuple[Any, ...]]],
) -> None:
    planted = {
        label
        for label, (link, *_) in _truth().items()
        if any("calibration" in planted["what"] for planted in link["planted"])
    }
    rows = answers["what_was_tested_after_calibration_ended"]
    assert {row[3] for row in rows} == planted == {"05-31", "05-32"}
    assert {row[2] for row in rows} == {_DUE}


def test_which_links_have_no_test(answers: dict[str, list[tuple[Any, ...]]]) -> None:
    told = {row[0]: row[-1] for row in answers["which_links_have_no_test"]}
    assert told == {"1A-P2-06": None, "PW-1-04": '["PW-1-O4"]'}


def test_all_tests_of_a_link_in_time(answers: dict[str, list[tuple[Any, ...]]]) -> None:
    rows = answers["all_tests_of_a_link_in_time"]
    truth = [(t["purpose"], t["stated"], t["recomputed"]) for t in _truth()["PW-1-02"]]
    assert [(row[2], row[4], row[5]) for row in rows] == truth
    assert [row[-1] for row in rows] == [0, 1]


def test_which_cables_of_a_reel_failed(
    database: Path, answers: dict[str, list[tuple[Any, ...]]]
) -> None:
    failing = {
        label for label, tests in _truth().items() if tests[-1]["recomputed"] == "fail"
    }  # fmt: skip
    of_reel = {
        row[0]
        for row in ask(
            database,
            "SELECT test.label FROM test JOIN cable ON cable.id = test.cable_id "
            "WHERE cable.reel = 'W6A-20412'",
        )
    }
    told = {row[0] for row in answers["which_cables_of_a_reel_failed"]}
    assert told == failing & of_reel
    assert told


def test_where_an_outlet_leads(answers: dict[str, list[tuple[Any, ...]]]) -> None:
    (row,) = answers["where_does_an_outlet_lead"]
    assert row == ("03-11", "Children's Library", "CL-11", "Annexe", "3", "TR-3", "A3", "P2", "11",
                   "A3-P2-11")  # fmt: skip


def test_which_links_are_nearest_to_their_limit(
    answers: dict[str, list[tuple[Any, ...]]],
) -> None:
    margins = {
        label: min(
            worst["margin_db"] for worst in tests[-1]["worst"] if worst.get("margin_db") is not None
        )
        for label, tests in _truth().items()
        if tests[-1]["recomputed"] == "pass"
    }
    told = [(row[0], row[-2]) for row in answers["which_links_are_nearest_to_their_limit"]]
    nearest = sorted(margins.items(), key=lambda pair: pair[1])[:10]
    assert [label for label, _ in told] == [label for label, _ in nearest]
    assert [margin for _, margin in told] == pytest.approx(
        [margin for _, margin in nearest], abs=0.0051
    )


def test_how_much_is_proved(answers: dict[str, list[tuple[Any, ...]]]) -> None:
    entries = json.loads((DEMO / "truth.json").read_bytes())["reconciliation"]["labels"]
    scheduled = [entry for entry in entries if entry["outcome"] != "not-on-schedule"]
    rows = answers["how_much_is_proved_in_each_building"]
    assert sum(row[2] for row in rows) == len(scheduled)
    assert sum(row[3] for row in rows) == sum(not entry["open"] for entry in scheduled)
    assert all(row[2] == row[3] + row[4] for row in rows)


def test_what_is_warned_of_on_floor_4(answers: dict[str, list[tuple[Any, ...]]]) -> None:
    """The field reference of the channels was 69 days old, rounded, says the demo's README."""
    rows = answers["what_is_warned_of_on_a_floor"]
    late = {row[0] for row in rows if "field reference 68.7 days" in row[4]}
    assert late == {"04-21", "04-22", "04-23"}
    assert all(row[5] for row in rows)


def test_how_much_is_open_on_a_floor(answers: dict[str, list[tuple[Any, ...]]]) -> None:
    told = {row[:3]: row[3] for row in answers["how_much_is_open_on_each_floor"]}
    assert told["Main House", "2", "unproven"] == 3
    assert told["Main House", "1", "untested"] == 1
    assert told["Printworks", "1", "untested"] == 1
