"""Tests whose label was put right after they came into the database: they move to their link."""

from dataclasses import replace
from pathlib import Path

import pytest

from sweepbook.corrections.apply import apply
from sweepbook.corrections.model import Correction
from sweepbook.judging.assessment import Assessment
from sweepbook.schedule.model import End, Schedule, ScheduledLink

from .made_up import LIMIT, ask, assessed, dump, record, write

HISTORY = "SELECT label, sequence, stated, is_current FROM test_history ORDER BY label, sequence"


def _test(label: str, day: int, stated: str = "pass") -> Assessment:
    made = record(label, started=f"2024-03-0{day}T09:00:00Z", origin=(f"{day}{stated}.csv", "all"))
    return assessed(made, stated=stated)


def _moved(test: Assessment, label: str) -> Assessment:
    """The test with its label put right."""
    made = test.record
    right = Correction(
        made.record_id, "link.label", made.label, label, "op-9", "2024-04-01", "read off the panel"
    )
    return replace(test, record=apply(made, [right]))


@pytest.mark.parametrize("day", [1, 3])
def test_a_test_moves_to_a_link_that_has_tests(tmp_path: Path, day: int) -> None:
    """The link that it comes to, and the one that it leaves, each have one that speaks for them."""
    first, astray = _test("A-01", 2), _test("A-02", day, "fail")
    left = _test("A-02", 2)
    target = write(tmp_path / "a.sqlite", first, astray, left)
    write(target, first, _moved(astray, "A-01"), left)
    last = day == 3
    tests = [("fail", int(last)), ("pass", int(not last))]
    ordered = tests[::-1] if last else tests
    assert ask(target, HISTORY) == [
        *(("A-01", n, *test) for n, test in enumerate(ordered, start=1)),
        ("A-02", 1, "pass", 1),
    ]
    told = ask(target, "SELECT field, said_before, said_now, why FROM correction")
    assert told == [("link.label", "A-02", "A-01", "read off the panel")]


def test_the_link_that_is_left_gets_another_current_test_in_part_deliveries(tmp_path: Path) -> None:
    astray, left = _test("A-02", 3, "fail"), _test("A-02", 2)
    target = write(tmp_path / "a.sqlite", astray, left)
    write(target, _moved(astray, "A-01"))
    assert ask(target, HISTORY) == [("A-01", 1, "fail", 1), ("A-02", 1, "pass", 1)]


def test_a_link_that_no_test_is_of_any_longer_has_no_row(tmp_path: Path) -> None:
    test = _test("A-O1", 1)
    target = write(tmp_path / "a.sqlite", test)
    write(target, _moved(test, "A-01"))
    assert ask(target, "SELECT label FROM current_state") == [("A-01",)]
    assert ask(target, "SELECT DISTINCT label FROM link_end") == [("A-01",)]
    assert ask(target, "SELECT label FROM link") == [("A-01",)]
    assert ask(target, "SELECT said_before, said_now FROM correction") == [("A-O1", "A-01")]


def test_a_test_that_moves_takes_its_cable_with_it(tmp_path: Path) -> None:
    astray = assessed(record("A-02", link={"cable": {"reel": "R-1"}}, origin=("3.csv", "all")))
    left = _test("A-02", 2)
    target = write(tmp_path / "a.sqlite", astray, left)
    write(target, _moved(astray, "A-01"), left)
    cables = "SELECT label, reel FROM cable JOIN link ON link.id = cable.link_id"
    assert ask(target, cables) == [("A-01", "R-1")]
    write(target, astray, left)
    assert ask(target, cables) == [("A-02", "R-1")]
    assert ask(target, "SELECT label FROM link") == [("A-02",)]


def test_a_link_on_the_schedule_is_untested_when_its_only_test_moves(tmp_path: Path) -> None:
    ordered = ScheduledLink(2, "A-O1", far=End({}, "RR-1")), ScheduledLink(3, "A-01", LIMIT)
    wanted = Schedule("plan.csv", "0" * 64, ordered)
    test = _test("A-O1", 1)
    target = write(tmp_path / "a.sqlite", test, schedule=wanted)
    write(target, _moved(test, "A-01"))
    stands = "SELECT label, state, link_id IS NULL FROM scheduled ORDER BY label"
    assert ask(target, stands) == [("A-01", "passed", 0), ("A-O1", "untested", 1)]
    assert ask(target, "SELECT label FROM link") == [("A-01",)]


def test_a_move_leads_where_a_new_database_begins(tmp_path: Path) -> None:
    first, astray = _test("A-01", 2), _test("A-02", 3)
    target = write(tmp_path / "a.sqlite", first, astray)
    write(target, first, _moved(astray, "A-01"))
    fresh = write(tmp_path / "b.sqlite", first, _moved(astray, "A-01"))
    assert sorted(dump(target)) == sorted(dump(fresh))
