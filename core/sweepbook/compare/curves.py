"""Curves of two tests of one link, each held against its like within the accuracy of both."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from sweepbook.judging.curves import ENDS, OTHER_END, UNORDERED, Curve, Key
from sweepbook.judging.settle import TOLERANCE
from sweepbook.judging.working import Working

DEEPEST_DB = 60.0
"""What lies deeper counts as this much: there the noise of the tester decides, and a declared
accuracy, which is one near the limit, does not hold. Common practice, no source."""

COMPARED = ("insertion_loss", "return_loss", "next", "acr_f")
"""What describes a link; the rest follows from it."""


@dataclass(frozen=True, slots=True)
class Difference:
    """One curve of an earlier test and its like of a later one.

    Attributes:
        key: in the earlier test.
        points: frequencies that both have.
        largest_db: later less earlier, both at most `DEEPEST_DB`, where the two are farthest apart
            for their accuracy.
        deeper_points: frequencies at which a reading is deeper than that, and counts as that much.
        identical: whether the two read the same at every frequency, however deep.
        at_mhz: where that is.
        allowed_db: the accuracy of both readings added up, and half a last digit of each; None
            where no accuracy is known.
        agrees: whether no point is farther apart; None where no accuracy is known.
    """

    key: Key
    points: int
    largest_db: float
    deeper_points: int
    identical: bool
    at_mhz: float
    allowed_db: float | None
    agrees: bool | None


def differences(first: Working, second: Working, *, turned: bool) -> Iterator[Difference]:
    """Each curve that both tests have; nothing of those without a common frequency.

    Args:
        first: of the earlier test.
        second: of the later one.
        turned: whether near of the one is far of the other.
    """
    later = second.judged
    for key, curve in first.judged.items():
        if key.parameter not in COMPARED:
            continue
        like = _like(later, key, turned=turned)
        if like is not None and (found := _difference(first, second, curve, like)):
            yield found


def _like(curves: dict[Key, Curve], key: Key, *, turned: bool) -> Curve | None:
    """The curve of the other test that measures the same thing."""
    end = OTHER_END[key.end] if turned and key.end else key.end
    pairs = (key.pairs, key.pairs[::-1]) if key.parameter in UNORDERED else (key.pairs,)
    # insertion loss is the same from either end
    ends = (end, None, *ENDS) if key.parameter == "insertion_loss" else (end,)
    wanted = (Key(key.parameter, one, two) for one in ends for two in pairs)
    return next((curves[one] for one in wanted if one in curves), None)


def _difference(first: Working, second: Working, one: Curve, two: Curve) -> Difference | None:
    axis, here, there = np.intersect1d(
        one.frequency_mhz, two.frequency_mhz, assume_unique=True, return_indices=True
    )
    if not axis.size:
        return None
    earlier, later = one.value[here], two.value[there]
    apart = np.minimum(later, DEEPEST_DB) - np.minimum(earlier, DEEPEST_DB)
    digits = (one.high[here] - one.low[here] + two.high[there] - two.low[there]) / 2.0
    allowed = digits + sum(
        working.accuracy.at(curve.key, axis) if working.accuracy else np.nan
        for working, curve in ((first, one), (second, two))
    )
    known = ~np.isnan(allowed)
    beyond = np.where(known, np.abs(apart) - allowed, np.abs(apart) if not known.any() else -np.inf)
    at = int(np.argmax(beyond))
    return Difference(
        key=one.key,
        points=int(axis.size),
        largest_db=float(apart[at]),
        deeper_points=int(np.count_nonzero(np.maximum(earlier, later) > DEEPEST_DB)),
        identical=bool(np.array_equal(earlier, later)),
        at_mhz=float(axis[at]),
        allowed_db=float(allowed[at]) if known[at] else None,
        agrees=bool(beyond[at] <= TOLERANCE) if known.any() else None,
    )
