"""Times whose offset is not known make intervals, and only what is sure is said."""

from datetime import date

import pytest

from sweepbook.rules.times import Moment, days_between, in_time, moment, months_after


def at(text: str) -> Moment:
    found = moment({"as_stated": "as in the source", "rfc3339": text})
    assert found is not None
    return found


def test_no_time_is_no_moment() -> None:
    assert moment(None) is None
    assert moment({"as_stated": "yesterday"}) is None


def test_offsets_are_taken_into_account() -> None:
    lowest, highest = days_between(at("2026-03-04T12:00:00+02:00"), at("2026-03-04T11:00:00Z"))
    assert lowest == highest == pytest.approx(1 / 24)


def test_the_unknown_offset_of_rfc_3339_is_not_utc() -> None:
    """RFC 3339, section 4.3: -00:00 says that the local offset is not known."""
    unknown, known = at("2026-03-04T12:00:00-00:00"), at("2026-03-04T12:00:00Z")
    assert unknown.offset is None
    assert days_between(unknown, known) == pytest.approx((-12 / 24, 14 / 24))
    assert days_between(known, unknown) == pytest.approx((-14 / 24, 12 / 24))


def test_two_unknown_offsets_of_one_record_cancel() -> None:
    span = days_between(at("2026-03-04T12:00:00-00:00"), at("2026-03-05T18:00:00-00:00"))
    assert span == pytest.approx((1.25, 1.25))


def test_the_day_is_the_one_on_the_wall() -> None:
    assert at("2026-03-04T23:30:00-08:00").date == date(2026, 3, 4)


@pytest.mark.parametrize(
    ("day", "months", "later"),
    [
        ("2025-03-04", 12, "2026-03-04"),
        ("2024-02-29", 12, "2025-02-28"),
        ("2025-10-31", 6, "2026-04-30"),
        ("2025-12-31", 2, "2026-02-28"),
        ("2023-12-31", 2, "2024-02-29"),
        ("9999-02-01", 12, "9999-12-31"),
        ("2025-12-01", 1, "2026-01-01"),
    ],
)
def test_months_end_where_the_calendar_does(day: str, months: int, later: str) -> None:
    assert months_after(date.fromisoformat(day), months) == date.fromisoformat(later)


@pytest.mark.parametrize(
    "text", ["0001-01-01T00:00:00+23:59", "9999-12-31T23:59:59-23:59", "0001-01-01T00:00:00-00:00"]
)
def test_a_time_at_the_end_of_the_calendar_is_near_to_itself_and_far_from_others(text: str) -> None:
    assert days_between(at(text), at(text)) == pytest.approx((0.0, 0.0))
    lowest, highest = days_between(at(text), at("2026-03-04T12:00:00Z"))
    assert (lowest > 700_000) if text.startswith("0001") else (highest < -2_900_000)
    assert in_time(text)[0] is False
