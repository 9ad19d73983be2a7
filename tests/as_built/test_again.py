"""Writing again: nothing changes, or history grows; which test speaks for a link."""

import itertools
from pathlib import Path
from typing import Any

import pytest

from sweepbook.errors import ReadProblem
from sweepbook.findings import Finding, Severity
from sweepbook.judging.assessment import Assessment
from sweepbook.limits.interpretations import Interpretations

from . import either
from .made_up import ask, assessed, dump, margin, record, write

NEAR = {"place": {"building": "Main House", "floor": "2", "port": "07"}, "termination": "K1-07"}
HISTORY = "SELECT stated, is_current FROM test_history WHERE label = 'A' ORDER BY sequence"


def _entries() -> list[Assessment]:
    finding = [("REC004", Severity.WARNING, "old"), ("XXX001", Severity.NOTE, "a plugin's rule")]
    cable = {"cable": {"maker": "Pellumbra"}, "external_ids": [{"system": "assets", "id": "007"}]}
    return [
        assessed(record("A", NEAR, link=cable), findings=finding),
        assessed(record("B", NEAR), margins=[margin("next", "far", ("1-2", "3-6"), 1.0)]),
        assessed(record("C"), "unproven"),
    ]


def _first(**more: Any) -> Assessment:
    return assessed(record("A", NEAR, **more), stated="fail")


def _second(**more: Any) -> Assessment:
    return assessed(record("A", NEAR, test={"purpose": "retest"}, **more), stated="pass")


def test_the_same_delivery_twice_changes_nothing(tmp_path: Path) -> None:
    about_all = {
        "findings": [Finding("SET001", Severity.ERROR, "$", "two of one label", {})],
        "problems": [ReadProblem("b.csv", "line 3", "no number")],
    }
    target = write(tmp_path / "a.sqlite", *_entries(), **about_all)
    before = dump(target)
    assert ask(target, "SELECT COUNT(*) FROM set_finding") == [(1,)]
    assert ask(target, "SELECT source, lost_record FROM reading_problem") == [("b.csv", 1)]
    assert dump(write(target, *_entries(), **about_all)) == before


def test_two_new_databases_of_one_delivery_are_alike(tmp_path: Path) -> None:
    one = write(tmp_path / "1.sqlite", *_entries())
    assert dump(one) == dump(write(tmp_path / "2.sqlite", *_entries()))


def test_the_order_of_deliveries_does_not_matter(tmp_path: Path) -> None:
    tests = [_entries()[1], _first(started="2024-03-01T09:00:00Z", gathered="2024-03-01T12:00Z")]
    tests.append(_second(started="2024-03-02T09:00:00Z"))
    results = []
    for number, order in enumerate(itertools.permutations(tests)):
        target = tmp_path / f"{number}.sqlite"
        for entry in order:
            write(target, entry)
        results.append(sorted(dump(target)))
    assert all(result == results[0] for result in results)


def test_a_retest_adds_to_the_history(tmp_path: Path) -> None:
    target = write(tmp_path / "a.sqlite", _first(started="2024-03-01T09:00:00Z"), *_entries()[1:])
    assert ask(target, HISTORY) == [("fail", 1)]
    write(target, _second(started="2024-03-09T09:00:00Z"))
    assert ask(target, HISTORY) == [("fail", 0), ("pass", 1)]
    assert ask(target, "SELECT label, tests FROM current_state ORDER BY label") == [
        ("A", 2), ("B", 1), ("C", 1),
    ]  # fmt: skip


def test_an_older_test_that_comes_later_is_history(tmp_path: Path) -> None:
    target = write(tmp_path / "a.sqlite", _second(started="2024-03-09T09:00:00Z"))
    write(target, _first(started="2024-03-01T09:00:00Z"))
    assert ask(target, HISTORY) == [("fail", 0), ("pass", 1)]


@pytest.mark.parametrize(
    ("first", "second", "current"),
    [
        # 10:30 at +02:00 is 08:30 UTC, before 09:00 UTC
        (("2024-03-01T09:00:00Z", "1"), ("2024-03-01T10:30:00+02:00", "2"), "fail"),
        # one offset is not known: by the clock on the wall
        (("2024-03-01T09:00:00Z", "1"), ("2024-03-01T10:30:00-00:00", "0"), "pass"),
        (("2024-03-01T09:00:00Z", "1"), ("2024-03-01T08:59:59-00:00", "2"), "fail"),
        # a tie: the latest gathered
        (("2024-03-01T09:00:00Z", "2"), ("2024-03-01T09:00:00Z", "1"), "fail"),
        (("2024-03-01T09:00:00Z", "1"), ("2024-03-01T09:00:00Z", "2"), "pass"),
        # one time is not known: the latest gathered
        (("2024-03-01T09:00:00Z", "1"), (None, "2"), "pass"),
        (("2024-03-01T09:00:00Z", "2"), (None, "1"), "fail"),
        # half a second later
        (("2024-03-01T09:00:00Z", "2"), ("2024-03-01T09:00:00.5Z", "1"), "pass"),
    ],
)
def test_which_test_is_current(
    tmp_path: Path,
    first: tuple[str | None, str],
    second: tuple[str | None, str],
    current: str,
) -> None:
    one = _first(started=first[0], gathered=f"2024-05-0{first[1]}T00:00:00Z")
    two = _second(started=second[0], gathered=f"2024-05-0{second[1]}T00:00:00Z")
    for name, order in (("a.sqlite", (one, two)), ("b.sqlite", (two, one))):
        target = write(tmp_path / name, *order)
        assert ask(target, "SELECT stated FROM current_state") == [(current,)]


def test_a_test_judged_anew_is_brought_up_to_date(tmp_path: Path) -> None:
    made = record("A", NEAR, gathered="2024-05-01T00:00:00Z")
    old = [margin("next", "near", ("1-2", "3-6"), 1.0), margin("next", "far", ("1-2", "3-6"), 1.0)]
    target = write(tmp_path / "a.sqlite", assessed(made, "unproven", margins=old))
    again = made.with_provenance({"program": "sweepbook", "read_at": "2024-06-01T00:00:00Z"})
    write(target, assessed(again, "overturned", margins=[margin("next", "near", ("1-2",), -1.0)]))
    assert ask(target, "SELECT judgement, worst_margin_db FROM current_state") == [
        ("overturned", -1.0)
    ]
    assert ask(target, "SELECT pairs, worst_margin FROM result") == [("1-2", -1.0)]
    assert ask(target, "SELECT gathered FROM test") == [("2024-05-01T00:00:00Z",)]


def test_another_reading_of_the_same_place_takes_the_place_of_the_first(tmp_path: Path) -> None:
    """A corrected dialect tells day from month; the first reading had the later date."""
    place = ("a.csv", "lines 1-9")
    wrong = _first(origin=place, started="2024-11-03T09:00:00Z", gathered="2024-12-01T00:00:00Z")
    right = _second(origin=place, started="2024-03-11T09:00:00Z", gathered="2024-12-02T00:00:00Z")
    target = write(tmp_path / "a.sqlite", wrong)
    write(target, right)
    assert ask(target, HISTORY) == [("pass", 1)]
    question = "SELECT stated, is_current, replaced_by IS NULL FROM test ORDER BY stated"
    assert ask(target, question) == [("fail", 0, 0), ("pass", 1, 1)]
    write(target, wrong)
    assert ask(target, HISTORY) == [("fail", 1)]


def test_two_tests_of_one_delivery_never_replace_each_other(tmp_path: Path) -> None:
    place = ("a.csv", "somewhere")
    target = write(tmp_path / "a.sqlite", _first(origin=place), _second(origin=place))
    assert ask(target, "SELECT tests FROM current_state") == [(2,)]


def test_a_reader_that_names_no_place_replaces_nothing(tmp_path: Path) -> None:
    target = write(tmp_path / "a.sqlite", _first(origin=("a.csv", "")))
    write(target, _second(origin=("a.csv", "")))
    assert ask(target, "SELECT tests FROM current_state") == [(2,)]


def test_one_record_from_two_files_is_one_test(tmp_path: Path) -> None:
    one = _first(origin=("a.csv", "line 1"))
    two = assessed(record("A", NEAR, origin=("b.csv", "line 7")), stated="fail")
    assert one.record.record_id == two.record.record_id
    target = write(tmp_path / "a.sqlite", one, two)
    question = (
        "SELECT source.name, locator FROM test_source "
        "JOIN source ON source.id = test_source.source_id ORDER BY 1"
    )
    assert ask(target, question) == [("a.csv", "line 1"), ("b.csv", "line 7")]
    assert ask(target, "SELECT COUNT(*) FROM test") == [(1,)]


def test_another_job_has_its_own_links(tmp_path: Path) -> None:
    target = write(tmp_path / "a.sqlite", _first(), title="Phase 1")
    write(target, _first(), title="Phase 2")
    assert ask(target, "SELECT job, label, tests FROM current_state ORDER BY job") == [
        ("Phase 1", "A", 1), ("Phase 2", "A", 1),
    ]  # fmt: skip


def test_a_job_that_comes_to_others_is_told_of_once(tmp_path: Path) -> None:
    target = tmp_path / "a.sqlite"
    assert either.write(target, _first(), title="Phase 1") == []
    said = either.write(target, _first(), title="Phase 2")
    assert said == [
        'The job "Phase 2" was added to the database, which holds "Phase 1" besides. '
        "Links of one label in two jobs are two links."
    ]
    assert either.write(target, _first(), title="Phase 2") == []


def test_an_end_that_no_test_tells_any_longer_is_not_known(tmp_path: Path) -> None:
    place, end = ("a.csv", "lines 1-9"), {"place": {"port": "07"}, "termination": "K1-07"}
    target = write(tmp_path / "a.sqlite", assessed(record("A", end, origin=place)))
    question = "SELECT port, termination, said_by FROM link_end ORDER BY at_end"
    assert ask(target, question) == [(None, None, None), ("07", "K1-07", "record")]
    write(target, assessed(record("A", origin=place), stated="fail"))
    assert ask(target, question) == [(None, None, None)] * 2


def test_a_link_whose_every_reading_was_replaced_has_no_ends(tmp_path: Path) -> None:
    place = ("a.csv", "lines 1-9")
    target = write(tmp_path / "a.sqlite", assessed(record("A", NEAR, origin=place)))
    write(target, assessed(record("B", NEAR, origin=place)))
    assert ask(target, "SELECT DISTINCT label FROM link_end") == [("B",)]


def test_the_readings_that_were_on_are_told(tmp_path: Path) -> None:
    """TIA and ISO/IEC both leave return loss out below 3.0 dB of insertion loss: on by default."""
    told = "SELECT name, value FROM basis_item WHERE kind = 'reading' ORDER BY name"
    readings = Interpretations.load()
    target = write(tmp_path / "a.sqlite", _first(), interpretations=readings)
    usual = dict(ask(target, told))
    assert usual.keys() == set(readings.ids())
    assert {name for name, value in usual.items() if value == "on"} == readings.switched_on
    other = next(name for name in readings.ids() if readings.on(name))
    write(target, _first(), interpretations=readings.fix(other, False))
    bases = "SELECT DISTINCT value FROM basis_item WHERE kind = 'reading' AND name = ?"
    assert sorted(ask(target, bases, other)) == [("off",), ("on",)]
    current = (
        "SELECT value FROM test JOIN basis_item ON basis_item.basis_id = test.basis_id "
        "WHERE kind = 'reading' AND name = ?"
    )
    assert ask(target, current, other) == [("off",)]
