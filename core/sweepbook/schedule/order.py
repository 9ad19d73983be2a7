"""The tests of one link from the first to the last, and which of them count."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import datetime

from sweepbook.rules.same_test import may_be_one_time
from sweepbook.schedule.attempt import OFFSETS_DIFFER, Attempt

_ORDER_OF_PURPOSE = ("initial", "retest")


def counting(tests: Iterable[Attempt]) -> list[Attempt]:
    """Those that count: a test in several exports counts once."""
    every = list(tests)
    there = {test.record_id for test in every if not test.export_of}
    return [test for test in every if test.export_of not in there]


def in_order(tests: Sequence[Attempt]) -> tuple[list[Attempt], bool]:
    """The tests of one link from the first to the last, and whether that order is known.

    It is by time where all have one and one is the last, else by what they say they are for: an
    initial test comes before a retest. Otherwise it is not known, nor where the two contradict each
    other: then they come by time too, those without one last. Other exports of a test stand right
    before the one that counts, and what they say of its time counts as well.
    """
    if len(tests) == 1:
        return list(tests), True
    count = counting(tests)
    if len(count) == len(tests):
        return _in_order(count)
    others: defaultdict[str, list[Attempt]] = defaultdict(list)
    for test in _in_time(tests):
        others[test.export_of].append(test)
    timed = [_timed(test, others[test.record_id]) for test in count]
    own = {id(one): test for one, test in zip(timed, count, strict=True)}
    ordered, known = _in_order(timed)
    tests_in_order = [own[id(one)] for one in ordered]
    return [one for test in tests_in_order for one in (*others[test.record_id], test)], known


def _timed(test: Attempt, exports: Sequence[Attempt]) -> Attempt:
    """A test with the time that all its exports tell; with none where they contradict each other.

    A time whose offset is known goes before others. Of times that may be one the latest is told,
    as a clock without seconds is behind.
    """
    every = [test, *exports]
    dated = [one for one in every if one.utc is not None or one.started is not None]
    if not exports or not dated:
        return test
    best = max(dated, key=_told)
    agree = all(may_be_one_time(best, one) for one in dated)
    return replace(
        test,
        started=best.started if agree else None,
        utc=best.utc if agree else None,
        ahead=any(one.ahead for one in every),
    )


def _told(test: Attempt) -> tuple[bool, datetime]:
    moment = test.utc or test.started
    return test.utc is not None, moment or datetime.min


def _in_order(tests: Sequence[Attempt]) -> tuple[list[Attempt], bool]:
    if len(tests) == 1:
        return list(tests), True
    if dated := _by_time(tests):
        purposes = [test.purpose for test in dated]
        turned = "retest" in purposes and "initial" in purposes[purposes.index("retest") :]
        return dated, not turned
    if sorted(test.purpose for test in tests) == sorted(_ORDER_OF_PURPOSE):
        return sorted(tests, key=lambda test: _ORDER_OF_PURPOSE.index(test.purpose)), True
    return _in_time(tests), False


def _in_time(tests: Iterable[Attempt]) -> list[Attempt]:
    """The tests by time as far as it is known, in UTC where that is; the others last."""

    def at(test: Attempt) -> tuple[bool, datetime, str]:
        moment = test.utc or test.started
        return moment is None, moment or datetime.min, test.record_id

    return sorted(tests, key=at)


def _by_time(tests: Sequence[Attempt]) -> list[Attempt]:
    """The tests by time; none where it does not tell which was the last.

    Times are compared in UTC where all can be, and as the clocks showed where none can. Where the
    offset of some clocks only is known, the last must be later by more than offsets can differ. A
    test that is dated later than it was read has no time that tells anything.
    """
    if any(test.ahead for test in tests):
        return []
    utc = [test.utc for test in tests if test.utc is not None]
    clock = [test.started for test in tests if test.started is not None]
    moments = utc if len(utc) == len(tests) else clock
    if len(moments) < len(tests):
        return []
    mixed = 0 < len(utc) < len(tests)
    last = max(moments)
    near = [moment for moment in moments if mixed and last - moment <= OFFSETS_DIFFER]
    if moments.count(last) > 1 or len(near) > 1:
        return []
    dated = sorted(zip(moments, tests, strict=True), key=lambda at: (at[0], at[1].record_id))
    return [test for _, test in dated]
