"""Which test of a link was the last: what time and purpose tell, and where they do not."""

from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

import pytest

from sweepbook.schedule.attempt import Attempt, in_order, is_ahead

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
        (_at("a", 0, offset=0), _at("b", -20)),
        (_at("a", 0, purpose="retest"), _at("b", 1, purpose="initial")),
        (replace(ONE, record_id="a", started=None), _at("b", 1)),
        (_at("a", 0), replace(_at("b", 1), ahead=True)),
    ],
)
def test_it_is_not_known(first: Attempt, second: Attempt) -> None:
    for tests in ([first, second], [second, first]):
        ordered, known = in_order(tests)
        assert not known
        assert [test.record_id for test in ordered] == ["a", "b"]


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
