"""Times of a record as far as they are known: an unknown offset makes an interval of a moment."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import lru_cache
from typing import Any

UNKNOWN = "-00:00"  # RFC 3339, 4.3: the time is known, the offset to local time is not
EASTERNMOST = timedelta(hours=14)  # the offsets in civil use, by the IANA time zone data base
WESTERNMOST = timedelta(hours=-12)
NO_TIME = timedelta(0)


@dataclass(frozen=True, slots=True)
class Moment:
    """A time of a record.

    Attributes:
        text: as the record has it in RFC 3339.
        clock: what the clock on the wall showed, without an offset.
        offset: to UTC; None where it is not known.
    """

    text: str
    clock: datetime
    offset: timedelta | None

    @property
    def date(self) -> date:
        """The day on the wall."""
        return self.clock.date()


def before(clock: datetime, by: timedelta) -> datetime:
    """So much earlier; the first or the last moment of the calendar where that is outside of it."""
    try:
        return clock - by
    except OverflowError:
        return datetime.min if by > NO_TIME else datetime.max


def moment(time: dict[str, Any] | None) -> Moment | None:
    """The moment of a record's time, {"rfc3339": ..., ...}; None where the record has none."""
    if time is None or "rfc3339" not in time:
        return None
    return _moment(time["rfc3339"])


@lru_cache(maxsize=64)
def _moment(text: str) -> Moment:
    """Kept, since several rules ask for the times of one record."""
    parsed = datetime.fromisoformat(text)
    offset = None if text.endswith(UNKNOWN) else _held_once(parsed.utcoffset())
    return Moment(text, parsed.replace(tzinfo=None), offset)


@lru_cache(maxsize=64)
def _held_once(offset: timedelta | None) -> timedelta | None:
    """An offset to UTC, which the tests of a job share; a run keeps it of each."""
    return offset


def in_time(rfc3339: str) -> tuple[bool, datetime]:
    """Sort key of a test by its begin, in UTC where the offset is known; unknown times come last.

    Args:
        rfc3339: the begin; "" for none, and a text that is no time is none.
    """
    try:
        found = _moment(rfc3339) if rfc3339 else None
        if found is not None:
            return False, before(found.clock, found.offset or NO_TIME)
    except ValueError:
        pass
    return True, datetime.min


def days_between(earlier: Moment, later: Moment) -> tuple[float, float]:
    """Days from one moment to another, as an interval that surely holds the true number.

    Two moments of one record whose offsets are both unknown came from one clock, so their
    difference is exact; with one offset unknown it may be off by any offset in civil use.

    Returns:
        (lowest, highest); negative where `later` is the earlier one.
    """
    if earlier.offset is None and later.offset is None:
        exact = (later.clock - earlier.clock) / timedelta(days=1)
        return exact, exact
    first, last = _utc(earlier), _utc(later)
    day = timedelta(days=1)
    return (last[0] - first[1]) / day, (last[1] - first[0]) / day


def day_of(holder: Mapping[str, Any], name: str) -> date | None:
    """A member that is a day, as a date; None where it is not there."""
    text = holder.get(name)
    return None if text is None else date.fromisoformat(text)


def _utc(moment: Moment) -> tuple[datetime, datetime]:
    """The earliest and latest that the moment may be in UTC."""
    if moment.offset is not None:
        exact = before(moment.clock, moment.offset)
        return exact, exact
    return before(moment.clock, EASTERNMOST), before(moment.clock, WESTERNMOST)


def months_after(day: date, months: int) -> date:
    """The same day so many months later; the last of the month where there is no such day.

    The last day of the calendar where that is outside of it.
    """
    years, month = divmod(day.month - 1 + months, 12)
    year = day.year + years
    if year > date.max.year:
        return date.max
    for last in (day.day, 30, 29, 28):
        try:
            return date(year, month + 1, min(day.day, last))
        except ValueError:
            continue
    raise ValueError(f"no day follows {day} by {months} months")
