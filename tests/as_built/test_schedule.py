"""The cable schedule in the database: who says where an end is, what is open, where they differ."""

import sqlite3
from dataclasses import replace
from pathlib import Path

import pytest

from sweepbook.schedule.model import End, Schedule, ScheduledLink
from sweepbook_plugins import asbuilt

from .made_up import ask, assessed, delivery, dump, record

NEAR = {"place": {"building": "Hall", "floor": "1", "panel": "P9"}, "termination": "P9-01"}
SCHEDULE = Schedule(
    "plan.csv",
    "0" * 64,
    (
        ScheduledLink(
            2,
            "A-1",
            cable="Weft",
            reel="R-7",
            near=End({"building": "Hall", "floor": "1", "panel": "P1", "port": "01"}, "P1-01"),
            far=End({}, "O-1"),
        ),
        ScheduledLink(3, "A-2", near=End({"building": "Hall", "panel": "P1"})),
        ScheduledLink(4, "A-O3"),
    ),
)


@pytest.fixture
def database(tmp_path: Path) -> Path:
    target = tmp_path / "as-built.sqlite"
    tests = [
        assessed(record("A-1", near=NEAR), "upheld"),
        assessed(record("A-03", near=NEAR), "overturned"),
    ]
    asbuilt.write(replace(delivery(tests), schedule=SCHEDULE), target)
    return target


def test_an_end_is_where_the_schedule_says_else_where_the_record_does(database: Path) -> None:
    told = ask(database, "SELECT label, at_end, said_by, panel, termination FROM link_end")
    assert sorted(told, key=str) == sorted(
        [
            ("A-1", "near", "schedule", "P1", "P1-01"),
            ("A-1", "far", "schedule", None, "O-1"),
            ("A-03", "near", "record", "P9", "P9-01"),
            ("A-03", "far", None, None, None),
        ],
        key=str,
    )


def test_what_is_open_is_listed_with_what_was_never_tested(database: Path) -> None:
    told = ask(database, "SELECT label, state, near_panel, near_labels FROM schedule_state "
               "WHERE is_open = 1 ORDER BY label")  # fmt: skip
    assert told == [
        ("A-03", "not on the schedule", None, '["A-O3"]'),
        ("A-2", "untested", "P1", None),
        ("A-O3", "untested", None, '["A-03"]'),
    ]
    passed = ask(database, "SELECT label, cable, reel, link_id IS NOT NULL FROM schedule_state "
                 "WHERE state = 'passed'")  # fmt: skip
    assert passed == [("A-1", "Weft", "R-7", 1)]


def test_where_schedule_and_record_differ_is_told(database: Path) -> None:
    told = ask(database, "SELECT label, at_end, scheduled_termination, recorded_termination "
               "FROM end_conflicts")  # fmt: skip
    assert told == [("A-1", "near", "P1-01", "P9-01")]


def test_twice_is_the_same_and_without_a_schedule_its_word_stays(database: Path) -> None:
    before = dump(database)
    tests = [
        assessed(record("A-1", near=NEAR), "upheld"),
        assessed(record("A-03", near=NEAR), "overturned"),
    ]
    asbuilt.write(replace(delivery(tests), schedule=SCHEDULE), database)
    assert dump(database) == before
    asbuilt.write(delivery(tests), database)
    assert dump(database) == before


def test_references_hold(database: Path) -> None:
    with sqlite3.connect(database) as connection:
        assert connection.execute("PRAGMA foreign_key_check").fetchall() == []
