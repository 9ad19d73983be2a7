"""Whether two records are one test of a link, and which of two tests comes first."""

from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Protocol

from sweepbook.rules.times import EASTERNMOST, NO_TIME, WESTERNMOST, before
from sweepbook.rules.trace import Trace

if TYPE_CHECKING:
    from sweepbook.copies.reading_again import Suspicion

LATER = ("retest", "periodic", "fault-finding")
"""Purposes of tests that may differ from the first."""

MINUTE = timedelta(minutes=1)
QUARTER_HOUR = timedelta(minutes=15)


class Begun(Protocol):
    """What is known of when a test began."""

    @property
    def started(self) -> datetime | None:
        """What its clock showed."""

    @property
    def offset(self) -> timedelta | None:
        """Of that clock to UTC."""


def is_one_test(first: Trace, second: Trace, suspicion: "Suspicion") -> bool:
    """Whether two records with curves alike in every digit are one test in two exports."""
    same_link = first.label_key == second.label_key
    return same_link and suspicion.likeness.exact and may_be_one_test(first, second)


def is_exported_twice(first: Trace, second: Trace, suspicion: "Suspicion") -> bool:
    """Whether they are one test in two exports, and not one that was judged under two limits.

    Without a time, sweeps alike in every digit may be the same export read twice.
    """
    under_two = first.sweeps_sha256 == second.sweeps_sha256 and (
        first.limit_path != second.limit_path or first.started is None
    )
    return not under_two and is_one_test(first, second, suspicion)


def may_be_one_test(first: Trace, second: Trace) -> bool:
    """Whether neither purpose nor time tells two tests of one link apart."""
    return first.purpose == second.purpose and may_be_one_time(first, second)


def order(trace: Trace) -> tuple[bool, datetime]:
    """First tests before later ones, then by when they began; that is in UTC where it is known."""
    begun = before(trace.started or datetime.min, trace.offset or NO_TIME)
    return trace.purpose in LATER, begun


def may_be_one_time(first: Begun, second: Begun) -> bool:
    """Whether two tests may have begun at one moment, by what their clocks show.

    With one zone unknown, any quarters of an hour may lie between the clocks, up to the widest that
    zones are apart. A clock without seconds may be up to a minute behind.
    """
    if first.started is None or second.started is None:
        return True
    apart = second.started - first.started
    slack = NO_TIME if first.started.second and second.started.second else MINUTE
    if first.offset is not None and second.offset is not None:
        return abs(apart - (second.offset - first.offset)) <= slack
    if first.offset is second.offset:  # neither is known: what both clocks show is all there is
        return abs(apart) <= slack
    turns = round(apart / QUARTER_HOUR)
    return abs(apart) <= EASTERNMOST - WESTERNMOST and abs(apart - turns * QUARTER_HOUR) <= slack
