"""The cable schedule in the database: where links stand, who says where an end is, what differs."""

import sqlite3
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from sweepbook.findings import Finding, Severity
from sweepbook.schedule.attempt import attempt_of
from sweepbook.schedule.model import End, Fault, Schedule, ScheduledLink
from sweepbook_plugins.asbuilt import database as asbuilt
from sweepbook_plugins.asbuilt import stored

from .either import connected
from .made_up import LIMIT, ask, assessed, delivery, dump, record

NEAR = {"place": {"building": "Hall", "floor": "1", "panel": "P9"}, "termination": "P9-01"}
FAR = {"place": {"site": "Quay", "floor": "2", "space": "Office"}, "termination": "Outlet 7"}
SCHEDULE = Schedule(
    "plan.csv",
    "0" * 64,
    (
        ScheduledLink(
            2,
            "A-1",
            LIMIT,
            cable="Weft",
            reel="R-7",
            near=End({"building": "Hall", "floor": "1", "panel": "P1", "port": "01"}, "P1-01"),
            far=End({}, "O-1"),
        ),
        ScheduledLink(3, "A-2", near=End({"building": "Hall", "panel": "P1"}), far=End({}, "O-2")),
        ScheduledLink(4, "A-O3"),
    ),
)


def _write(target: Path, schedule: Schedule | None, *tests: Any) -> Path:
    asbuilt.write(replace(delivery(tests), schedule=schedule), target)
    return target


def _tests() -> list[Any]:
    return [
        assessed(record("A-1", near=NEAR), "upheld"),
        assessed(record("A-03", near=NEAR), "overturned"),
    ]


@pytest.fixture
def database(tmp_path: Path) -> Path:
    return _write(tmp_path / "as-built.sqlite", SCHEDULE, *_tests())


def test_an_end_is_where_the_schedule_says_else_where_the_record_does(database: Path) -> None:
    told = ask(database, "SELECT label, at_end, said_by, panel, termination FROM link_end")
    assert sorted(told, key=str) == sorted(
        [
            ("A-1", "near", "schedule", "P1", "P1-01"),
            ("A-1", "far", "schedule", None, "O-1"),
            ("A-03", "near", "record", "P9", "P9-01"),
            ("A-03", "far", None, None, None),
            ("A-2", "near", "schedule", "P1", None),
            ("A-2", "far", "schedule", None, "O-2"),
            ("A-O3", "near", None, None, None),
            ("A-O3", "far", None, None, None),
        ],
        key=str,
    )


@pytest.mark.parametrize(
    ("scheduled", "place", "termination", "said_by"),
    [
        # a termination alone leaves the place that the record gave
        (End({}, "O-7"), ("Quay", "2", "Office"), "O-7", "schedule and record"),
        (End({}, "outlet  7"), ("Quay", "2", "Office"), "outlet  7", "schedule and record"),
        # what fits is added to, and the record adds its termination
        (End({"floor": "2"}), ("Quay", "2", "Office"), "Outlet 7", "schedule and record"),
        # of another place nothing is taken
        (End({"floor": "3"}), (None, "3", None), None, "schedule"),
        (End(), ("Quay", "2", "Office"), "Outlet 7", "record"),
    ],
)
def test_the_schedule_adds_to_what_the_record_says_and_nulls_nothing(
    tmp_path: Path,
    scheduled: End,
    place: tuple[str | None, ...],
    termination: str | None,
    said_by: str,
) -> None:
    schedule = replace(SCHEDULE, links=(ScheduledLink(2, "A-1", far=scheduled),))
    target = _write(tmp_path / "a.sqlite", schedule, assessed(record("A-1", far=FAR)))
    question = "SELECT site, floor, space, termination, said_by FROM link_end WHERE at_end = 'far'"
    assert ask(target, question) == [(*place, termination, said_by)]
    question = "SELECT far_site, far_floor, far_space, far_termination FROM schedule_state"
    assert ask(target, question) == [(*place, termination)]


def test_what_is_open_is_listed_with_what_was_never_tested(database: Path) -> None:
    told = ask(database, "SELECT label, state, near_panel, near_labels, tests FROM schedule_state "
               "WHERE is_open = 1 ORDER BY label")  # fmt: skip
    assert told == [
        ("A-03", "not on the schedule", "P9", '["A-O3"]', 1),
        ("A-2", "untested", "P1", None, 0),
        ("A-O3", "untested", None, '["A-03"]', 0),
    ]
    passed = ask(database, "SELECT label, cable, reel, link_id IS NOT NULL FROM schedule_state "
                 "WHERE state = 'passed'")  # fmt: skip
    assert passed == [("A-1", "Weft", "R-7", 1)]
    kinds = ask(database, "SELECT label, kind FROM open_items ORDER BY label, kind")
    assert kinds == [
        ("A-03", "failed"), ("A-03", "not on the schedule"), ("A-2", "untested"),
        ("A-O3", "untested"),
    ]  # fmt: skip


def test_plain_floors_and_rooms_answer_what_is_open_on_a_floor(tmp_path: Path) -> None:
    links = (
        ScheduledLink(2, "A-1", place={"floor": "2", "space": "Office"}),
        ScheduledLink(3, "A-2", place={"floor": "2", "space": "Hall"}),
        ScheduledLink(4, "A-3", place={"floor": "1", "space": "Hall"}),
    )
    stray = assessed(record("Z-9", near={"place": {"floor": "2", "space": "Attic"}}))
    failing = assessed(record("A-1"), "overturned")
    target = _write(tmp_path / "a.sqlite", replace(SCHEDULE, links=links), failing, stray)
    question = "SELECT label, {}, space FROM {} WHERE floor = '2' ORDER BY label"
    answer = [("A-1", "failed", "Office"), ("A-2", "untested", "Hall"),
              ("Z-9", "not on the schedule", "Attic")]  # fmt: skip
    assert ask(target, question.format("state", "schedule_state")) == answer
    assert ask(target, question.format("kind", "open_items")) == answer


def test_where_schedule_and_record_differ_is_told(database: Path) -> None:
    told = ask(database, "SELECT label, at_end, differs_in, said_by, termination, other_said_by, "
               "other_termination FROM end_conflicts")  # fmt: skip
    assert told == [
        ("A-1", "near", "panel, termination", "schedule", "P1-01", "record", "P9-01")
    ]  # fmt: skip
    ((remark,),) = ask(database, "SELECT remarks FROM schedule_state WHERE label = 'A-1'")
    assert "panel P9, termination P9-01 at the near end" in remark


def test_another_cable_than_scheduled_is_listed(tmp_path: Path) -> None:
    links = (
        ScheduledLink(2, "A-1", cable="Cat 6A F/UTP", reel="R-1"),
        ScheduledLink(3, "A-2", cable="Cat 6A F/UTP"),
        ScheduledLink(4, "A-3", cable="Cat 6A F/UTP"),
    )
    cable = {"maker": "Pellumbra", "part": "Weft", "category": "6A", "construction": "U/UTP"}
    tests = [
        assessed(record("A-1", link={"cable": {**cable, "reel": "R-2"}})),
        assessed(record("A-2", link={"cable": {**cable, "construction": "F/UTP"}})),
        assessed(record("A-3")),
    ]
    target = _write(tmp_path / "a.sqlite", replace(SCHEDULE, links=links), *tests)
    told = ask(target, "SELECT label, differs_in, scheduled_cable, scheduled_reel, tested_part, "
               "tested_construction, tested_reel, is_current FROM cable_conflicts")  # fmt: skip
    assert told == [
        ("A-1", "construction, reel", "Cat 6A F/UTP", "R-1", "Weft", "U/UTP", "R-2", 1)
    ]  # fmt: skip


def test_twice_is_the_same_and_without_a_schedule_its_word_stays(database: Path) -> None:
    before = dump(database)
    assert dump(_write(database, SCHEDULE, *_tests())) == before
    assert dump(_write(database, None, *_tests())) == before


def test_the_order_of_schedule_and_tests_does_not_matter(tmp_path: Path) -> None:
    first, second = _tests()
    one = _write(tmp_path / "1.sqlite", SCHEDULE, first, second)
    two = _write(_write(tmp_path / "2.sqlite", SCHEDULE, second), None, first)
    assert sorted(dump(one)) == sorted(dump(two))


def test_tests_that_come_later_are_held_against_the_schedule_that_is_there(tmp_path: Path) -> None:
    """A part of the tests is delivered at a time; none of the others becomes untested by that."""
    target = _write(tmp_path / "a.sqlite", SCHEDULE, _tests()[0])
    question = "SELECT label, state FROM schedule_state ORDER BY label"
    states = [("A-1", "passed"), ("A-2", "untested"), ("A-O3", "untested")]
    assert ask(target, question) == states
    _write(target, None, assessed(record("A-2"), "overturned"))
    states[1] = ("A-2", "failed")
    assert ask(target, question) == states
    assert ask(target, "SELECT label, kind FROM open_items ORDER BY label") == states[1:]


def test_a_label_that_differs_in_capitals_is_the_scheduled_one(tmp_path: Path) -> None:
    """The two tests share a row of `link`, and the last of them speaks for it."""
    links = (ScheduledLink(2, "A-1"),)
    tests = [
        assessed(record("A-1", started="2024-03-01T09:00:00Z"), "overturned"),
        assessed(record("a-1", started="2024-03-02T09:00:00Z")),
    ]
    target = _write(tmp_path / "a.sqlite", replace(SCHEDULE, links=links), *tests)
    told = ask(target, "SELECT scheduled.label, state, test.label, recomputed FROM scheduled "
               "JOIN test ON test.id = scheduled.test_id")  # fmt: skip
    assert told == [("A-1", "passed, no limit asked for", "a-1", "pass")]
    assert ask(target, "SELECT label FROM open_items") == []


def test_a_new_schedule_takes_the_place_of_the_old_one(database: Path) -> None:
    _write(database, replace(SCHEDULE, links=(ScheduledLink(2, "A-03"),)), *_tests())
    told = ask(database, "SELECT label, state FROM schedule_state ORDER BY label")
    assert told == [("A-03", "failed"), ("A-1", "not on the schedule")]
    said = ask(
        database, "SELECT said_by, panel FROM link_end WHERE label = 'A-1' AND at_end = 'near'"
    )
    assert said == [("record", "P9")]


def test_rows_that_could_not_be_taken_are_kept_as_problems(tmp_path: Path) -> None:
    faulty = replace(SCHEDULE, faults=(Fault(9, "This row has no label."),))
    target = _write(tmp_path / "a.sqlite", faulty, *_tests())
    question = "SELECT source, place, message, lost_record FROM reading_problem"
    assert ask(target, question) == [("plan.csv", "line 9", "This row has no label.", 0)]


def test_references_hold(database: Path) -> None:
    with sqlite3.connect(database) as connection:
        assert connection.execute("PRAGMA foreign_key_check").fetchall() == []


def test_tests_come_back_as_they_are_held_against_a_schedule_without_a_database(
    tmp_path: Path,
) -> None:
    """So both say the same of each link: one marginal, one dated after it was read, one plain."""
    cable = {"maker": "Weft", "part": "W6A", "category": "6A", "construction": "U/FTP", "reel": "7"}
    whole: dict[str, Any] = {"purpose": "retest", "configuration": {"kind": "channel"}}
    told = ("2031-03-01T09:00:00+01:00", "2024-03-02T08:00:00Z")
    marginal = assessed(record(" A-1 ", NEAR, FAR, *told, link={"cable": cable}, test=whole))
    tests = [
        replace(marginal, marginal="0.1 dB", again=True),
        assessed(record("A-2", started="2024-03-01T09:00:00-00:00"), "unproven", stated=None),
        assessed(record("A-3")),
    ]
    target = _write(tmp_path / "a.sqlite", None, *tests)
    ((job,),) = ask(target, "SELECT id FROM job")
    with connected(target) as connection:
        found = list(stored.attempts(connection, job))
    expected = sorted(map(attempt_of, tests), key=lambda test: test.record_id)
    assert found == expected
    assert {test.again != "" for test in found} == {test.ahead for test in found} == {True, False}


OF_LINK = Schedule(
    "plan.csv",
    "2" * 64,
    tuple(
        ScheduledLink(n, label, near=End({"floor": "1"}), far=far, place={"building": "Hall"})
        for n, (label, far) in enumerate(
            [
                ("B-1", End()),
                ("B-2", End({"building": "Mill"})),
                ("B-3", End()),
                ("B-4", End({}, "O-4")),
            ],
            start=2,
        )
    ),
)


def test_a_building_of_the_link_is_that_of_its_ends_unless_they_say_otherwise(
    tmp_path: Path,
) -> None:
    """B-3 leads into another house by its record, B-2 by the schedule; B-4 was never tested."""
    other = {"place": {"building": "Mill", "floor": "0"}}
    tests = [assessed(record(f"B-{n}")) for n in (1, 2)]
    tests.append(assessed(record("B-3", near={"place": {"building": "Hall"}}, far=other)))
    target = _write(tmp_path / "a.sqlite", OF_LINK, *tests)
    ends = "SELECT label, at_end, building, said_by FROM link_end ORDER BY label, at_end DESC"
    assert ask(target, ends) == [
        ("B-1", "near", "Hall", "schedule"),
        ("B-1", "far", "Hall", "schedule"),
        ("B-2", "near", "Hall", "schedule"),
        ("B-2", "far", "Mill", "schedule"),
        ("B-3", "near", "Hall", "schedule"),
        ("B-3", "far", "Mill", "record"),
        ("B-4", "near", "Hall", "schedule"),
        ("B-4", "far", "Hall", "schedule"),
    ]
    assert ask(target, "SELECT * FROM end_conflicts") == []
    for view in ("current_state", "schedule_state"):
        found = ask(target, f"SELECT near_building, near_floor, far_building FROM {view} "
                            "WHERE label < 'B-4' ORDER BY label")  # fmt: skip
        assert found == [("Hall", "1", b) for b in ("Hall", "Mill", "Mill")]
    untested = "SELECT near_building, far_building, remarks FROM schedule_state WHERE tests = 0"
    assert ask(target, untested) == [("Hall", "Hall", None)]
    once = dump(target)
    assert dump(_write(target, None, *tests)) == once


def test_a_link_whose_test_is_another_ones_too_stays_open(tmp_path: Path) -> None:
    due = ("REC005", Severity.ERROR, "near instrument F1: calibration due 2026-03-01")
    shared, late = assessed(record("A-1")), assessed(record("A-2"), findings=[due])
    ids = (shared.record.record_id,)
    error = Finding("SET002", Severity.ERROR, "$", "the labels share one test", {}, tests=ids)
    target = tmp_path / "as-built.sqlite"
    made = replace(delivery([shared, late], findings=[error]), schedule=SCHEDULE)
    asbuilt.write(made, target)
    told = ask(target, "SELECT label, state, reason, remarks FROM schedule_state ORDER BY label")
    why = "The labels share one test. So it proves nothing of this link (SET002)."
    assert told[0][:3] == ("A-1", "unproven", why)
    state, _, remarks = told[1][1:]
    assert state.startswith("passed")
    assert "Not in force at the test: near instrument F1" in remarks
