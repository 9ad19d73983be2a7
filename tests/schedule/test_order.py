"""Which test of a link was the last: what time and purpose tell, and where they do not."""

from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

import pytest

from sweepbook.schedule.attempt import Attempt, is_ahead
from sweepbook.schedule.order import counting, in_order

NINE = datetime(2024, 5, 1, 9)
ONE = Attempt(
    record_id="sb0-1", label="A-1", purpose="", started=NINE, stated="pass",
    recomputed="pass", judgement="upheld", reason="All pass.", limit_path="",
)  # fmt: skip


def _at(record_id: str, hours: float, offset: float | None = None, purpose: str = "") -> Attempt:
    """A test so many hours after nine by its clock, which is so far ahead of UTC."""
    clock = NINE + timedelta(hours=hours)
    utc = None if offset is None else clock - timedelta(hours=offset)
    return replace(ONE, record_id=record_id, started=clock, utc=utc, purpose=purpose)


@pytest.mark.parametrize(
    ("first", "second", "last"),
    [
        (_at("a", 0), _at("b", 1), "b"),
        (_at("b", 1), _at("a", 0), "b"),
        (_at("a", 0, offset=0), _at("b", 0.5, offset=1), "a"),
        (_at("a", 0, offset=0), _at("b", 30), "b"),
        (_at("a", 0, purpose="initial"), _at("b", 0, purpose="retest"), "b"),
        (_at("a", 0, offset=0, purpose="initial"), _at("b", 1, purpose="retest"), "b"),
        (_at("a", 0, purpose="initial"), _at("b", 1, purpose="retest"), "b"),
    ],
)
def test_the_last_test_is_known(first: Attempt, second: Attempt, last: str) -> None:
    ordered, known = in_order([first, second])
    assert known
    assert ordered[-1].record_id == last


@pytest.mark.parametrize(
    ("first", "second"),
    [
        (_at("a", 0), _at("b", 0)),
        (_at("a", 0, offset=1), _at("b", 1, offset=2)),
        (_at("a", 0, offset=0), _at("b", 1)),  # the clock of b may be ahead by hours
        (_at("b", -20), _at("a", 0, offset=0)),
        (_at("b", 0, purpose="retest"), _at("a", 1, purpose="initial")),
        (_at("b", 1), replace(ONE, record_id="a", started=None)),
        (_at("b", 0), replace(_at("a", 1), ahead=True)),
    ],
)
def test_it_is_not_known_and_the_tests_come_by_time_as_far_as_that_is(
    first: Attempt, second: Attempt
) -> None:
    for tests in ([first, second], [second, first]):
        ordered, known = in_order(tests)
        assert not known
        assert ordered == [first, second]


def test_another_export_of_a_test_stands_before_it_and_leaves_the_order_known() -> None:
    again = replace(_at("c", 0), export_of="a")
    tests = [again, _at("b", 1), _at("a", 0)]
    ordered, known = in_order(tests)
    assert known and [test.record_id for test in ordered] == ["c", "a", "b"]
    assert [test.record_id for test in counting(ordered)] == ["a", "b"]
    assert counting([again]) == [again]  # what it is of is not there


def test_a_known_offset_counts_whichever_export_has_it() -> None:
    """The fail is of 10:00 UTC; the pass may be of any hour around."""
    fail, again = _at("f2", 1), replace(_at("f", 2, offset=1), export_of="f2")
    later = _at("p", 1.5)
    assert in_order([fail, later])[1]
    ordered, known = in_order([fail, again, later])
    assert not known
    assert sorted(test.record_id for test in ordered) == ["f", "f2", "p"]
    assert any(one is fail for one in ordered)
    ordered, known = in_order([fail, again, _at("p", 3.5, offset=2)])
    assert known and [test.record_id for test in counting(ordered)] == ["f2", "p"]
    ordered, known = in_order([fail, again, _at("p", 2.5, offset=2)])
    assert known and [test.record_id for test in counting(ordered)] == ["p", "f2"]


def test_a_time_counts_whichever_export_has_it() -> None:
    nameless = replace(ONE, record_id="a", started=None)
    ordered, known = in_order([nameless, replace(_at("c", 2), export_of="a"), _at("b", 1)])
    assert known and [test.record_id for test in counting(ordered)] == ["b", "a"]


@pytest.mark.parametrize(
    "exports",
    [
        (_at("c", 1, offset=0), _at("d", 1, offset=1)),
        (_at("c", 0.1), _at("d", 1, offset=0)),
        (_at("c", 40), _at("d", 1, offset=0)),
        (replace(_at("c", 1), ahead=True),),
    ],
)
def test_exports_that_contradict_each_other_tell_no_time(exports: tuple[Attempt, ...]) -> None:
    one = _at("a", 1)
    assert in_order([one, _at("b", 90)])[1]
    others = [replace(export, export_of="a") for export in exports]
    ordered, known = in_order([one, *others, _at("b", 90)])
    assert not known and len(ordered) == 2 + len(exports)


@pytest.mark.parametrize(
    ("started", "read_at", "ahead"),
    [
        ("2024-05-01T09:00:00Z", "2024-05-01T09:30:00Z", False),
        ("2024-05-02T09:00:00Z", "2024-05-01T09:30:00Z", False),  # within a day
        ("2024-05-02T09:31:00Z", "2024-05-01T09:30:00Z", True),
        ("2024-05-02T20:00:00-00:00", "2024-05-01T09:30:00Z", False),  # 14 hours before UTC
        ("2024-05-03T09:00:00-00:00", "2024-05-01T09:30:00Z", True),
        ("2424-05-01T09:00:00Z", "2424-05-01T09:30:00Z", True),  # later than now
        ("2424-05-01T09:00:00Z", None, True),
        (None, "2024-05-01T09:30:00Z", False),
        ("no time", "2024-05-01T09:30:00Z", False),
    ],
)
def test_a_test_dated_later_than_it_was_read_has_no_time(
    started: str | None, read_at: str | None, ahead: bool
) -> None:
    document: dict[str, Any] = {"test": {"started": {"rfc3339": started}} if started else {}}
    if read_at:
        document["provenance"] = {"read_at": read_at}
    assert is_ahead(document) is ahead
