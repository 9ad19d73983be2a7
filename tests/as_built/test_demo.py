"""The demo's building, asked; the answers are the model's own, which knows nothing of sweepbook.

`truth.json` and `schedule.csv` are written by the model. Tests in a format that no installed
plugin reads are left out on both sides.
"""

import csv
import json
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from sweepbook.cli import main
from sweepbook.registry import load

from .made_up import ask, dump

DEMO = Path(str(files("sweepbook_demo")))


def _truth() -> list[dict[str, Any]]:
    links: list[dict[str, Any]] = json.loads((DEMO / "truth.json").read_bytes())["links"]
    suffixes = {suffix for entry in load([]).formats.values() for suffix in entry.suffixes}
    return [
        link for link in links if Path(link["file"].removesuffix(".gz")).suffix in suffixes
    ]  # fmt: skip


def _schedule() -> dict[str, dict[str, str]]:
    with (DEMO / "schedule.csv").open(encoding="utf-8", newline="") as stream:
        return {row["label"]: row for row in csv.DictReader(stream)}


def _run(*arguments: object) -> None:
    result = CliRunner().invoke(main, [str(argument) for argument in arguments])
    assert result.exit_code == 0, result.output


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("demo")
    _run("demo", made)
    return made


@pytest.fixture(scope="module")
def database(folder: Path) -> Path:
    return folder / "as-built.sqlite"


def test_every_test_is_there_with_its_verdicts(database: Path) -> None:
    truth = [(t["label"], t["stated"], t["recomputed"], t["judgement"]) for t in _truth()]
    told = ask(database, "SELECT label, stated, recomputed, judgement FROM test")
    assert len(truth) >= 20
    assert sorted(told, key=str) == sorted(truth, key=str)


_KINDS = {
    "failed": "failed",
    "overturned": "verdict overturned",
    "unproven": "unproven",
    "near-miss": "untested",
    "untested": "untested",
    "lesser-limit": "tested to a lesser limit",
    "other-configuration": "other configuration",
    "not-on-schedule": "not on the schedule",
}
"""Our words for those of `truth.json`, which says of every label where it should stand."""


def test_what_is_open_is_what_the_truth_says(database: Path) -> None:
    entries = json.loads((DEMO / "truth.json").read_bytes())["reconciliation"]["labels"]
    truth = [(entry["label"], _KINDS[entry["outcome"]]) for entry in entries if entry["open"]]
    truth += [(e["tested_as"], "not on the schedule") for e in entries if "tested_as" in e]
    told = ask(database, "SELECT label, kind FROM open_items WHERE kind <> 'error found'")
    assert sorted(told) == sorted(truth)
    assert len(truth) >= 15


def test_links_open_on_a_floor(database: Path) -> None:
    """The floors are the schedule's; of 05-32, which is not on it, the export's."""
    floors = {label: {row["from floor"]} for label, row in _schedule().items()}
    floors |= {"05-32": {"5"}, "PW-1-O4": {"1"}}
    question = "SELECT DISTINCT label FROM open_items WHERE ? IN (floor, far_floor)"
    told = {floor: {row[0] for row in ask(database, question, floor)} for floor in "12345"}
    assert all(floor in floors[label] for floor in told for label in told[floor])
    assert told["2"] == {"2A-P1-06", "2A-P1-07", "2A-P1-08", "2A-P1-09", "2A-P1-11"}
    assert told["5"] == {"05-31", "05-32"}
    assert {label for floor in told for label in told[floor]} == {
        row[0] for row in ask(database, "SELECT label FROM open_items")
    }


def test_errors_that_rules_found_are_items_of_their_own(database: Path) -> None:
    told = ask(database, "SELECT label, rule FROM open_items WHERE kind = 'error found'")
    errors = (
        "SELECT test.label, finding.rule FROM finding JOIN test ON test.id = finding.test_id "
        "WHERE finding.severity = 'error' AND test.is_current = 1"
    )
    assert sorted(told) == sorted(ask(database, errors))
    assert len(told) >= 3


def test_the_worst_next_margin_of_every_link(database: Path) -> None:
    """To half of the truth's last printed digit."""
    question = (
        "SELECT test.label, source.name, MIN(result.worst_margin) FROM test "
        "JOIN result ON result.test_id = test.id AND result.parameter = 'next' "
        "JOIN test_source ON test_source.test_id = test.id "
        "JOIN source ON source.id = test_source.source_id GROUP BY test.id"
    )
    told = {(label, name): worst for label, name, worst in ask(database, question)}
    truth = {
        (link["label"], link["file"]): margin["margin_db"]
        for link in _truth()
        for margin in link["worst"]
        if margin["parameter"] == "next"
    }
    assert told == pytest.approx(truth, abs=5.1e-5)
    assert len(truth) >= 20


def test_terminations_are_those_of_the_schedule(database: Path) -> None:
    columns = ("near_termination", "far_termination", "near_space", "far_space")
    names = ("from termination", "to termination", "from space", "to space")
    schedule = _schedule()
    told = ask(database, f"SELECT label, {', '.join(columns)} FROM current_state")
    known = [row for row in told if row[0] in schedule]
    assert len(known) >= 18
    for label, *ends in known:
        assert ends == [schedule[label][name] for name in names]


def test_the_label_that_was_put_right_is_shown_with_who_and_why(database: Path) -> None:
    """It is right in the database, both texts are there, and nothing contradicts any longer."""
    with (DEMO / "corrections.csv").open(encoding="utf-8", newline="") as stream:
        (row,) = csv.DictReader(stream)
    question = (
        "SELECT test.label, field, said_before, said_now, who, entered, why, applied "
        "FROM correction JOIN test ON test.id = correction.test_id"
    )
    assert ask(database, question) == [(*row.values(), 1)]
    assert row["to"] == _schedule()[row["label"]]["to termination"]
    assert row["to"] != row["from"]
    assert ask(database, "SELECT COUNT(*) FROM end_conflicts") == [(0,)]


def test_every_source_file_is_there_with_its_digest(database: Path) -> None:
    import hashlib

    exports = DEMO / "exports"
    read = {truth["file"] for truth in _truth()}
    assert set(ask(database, "SELECT name, sha256 FROM source")) == {
        (name, hashlib.sha256((exports / name).read_bytes()).hexdigest()) for name in read
    }


def test_exporting_the_book_again_changes_nothing(folder: Path, database: Path) -> None:
    before = dump(database)
    _run("export", folder / "book", "--to", "as-built", "-o", database)
    assert dump(database) == before
