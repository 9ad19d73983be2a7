"""Two curves held against each other at the frequencies that both have."""

from dataclasses import dataclass

import numpy as np

from sweepbook.copies.figures import Figures
from sweepbook.judging.curves import F64, Flags

SAMPLES = 24
"""Points looked at before all are."""
LEAST_SAMPLES = 8
"""Of these, those that two curves must share for anything to be said by them."""

_ROUNDING = 1.001
"""Room for the rounding of doubles beside half a digit."""


@dataclass(frozen=True, slots=True)
class Match:
    """How two curves agree.

    Attributes:
        points: that both have and neither has clipped.
        near: of these, how many differ by the offset and no more than is allowed.
        exact: of these, how many differ by the offset and no more than rounding makes.
        offset_db: what the first is higher by: the median of the differences, 0 where it is no
            more than rounding makes.
        largest_db: of the differences of the near points, the offset taken off.
    """

    points: int
    near: int
    exact: int
    offset_db: float
    largest_db: float

    def agrees(self, figures: Figures) -> bool:
        """Whether the two may be one measurement."""
        return self.points >= figures.least_points and (
            self.near >= figures.points_share * self.points
        )

    def is_exact(self, figures: Figures) -> bool:
        """Whether the two are one measurement to the last digit, or to that of the coarser."""
        return self.agrees(figures) and self.exact >= figures.points_share * self.points


def match(first: F64, second: F64, half_digits: tuple[float, float], apart_db: float) -> Match:
    """Hold two curves against each other.

    Args:
        first: float64[n] in dB, NaN where there is no reading.
        second: the same of the other curve, at the same frequencies.
        half_digits: half the last digit of each, in dB.
        apart_db: difference that is allowed beside the digits of both.
    """
    with np.errstate(all="ignore"):
        apart = first - second
        apart = apart[np.isfinite(apart)]
        if not apart.size:
            return Match(0, 0, 0, 0.0, 0.0)
        offset = float(np.median(apart))
        if abs(offset) <= max(half_digits) * _ROUNDING:
            offset = 0.0  # rounding alone may move the median so far
        left = np.abs(apart - offset)
        near = left <= apart_db + sum(half_digits)
        exact = left <= max(half_digits) * _ROUNDING
        largest = float(left[near].max()) if near.any() else 0.0
    return Match(
        points=apart.size,
        near=int(np.count_nonzero(near)),
        exact=int(np.count_nonzero(exact)),
        offset_db=offset,
        largest_db=largest,
    )


def may_agree(apart: F64, allowed: F64) -> Flags:
    """Which curves may agree, by a few points: the middle half of their differences lies together.

    Args:
        apart: float64[..., k], differences of two curves at k points, NaN where one has none.
        allowed: float64[...], how far each middle half may spread.

    Returns:
        bool[...]; True also where too few points are shared to tell.
    """
    *shape, points = apart.shape
    ordered = np.sort(apart.reshape(-1, points), axis=1)  # what is not known comes last
    if points >= LEAST_SAMPLES and np.isfinite(ordered).all():
        spread = ordered[:, 3 * points // 4] - ordered[:, points // 4]
        return np.asarray(spread.reshape(shape) <= allowed, dtype=np.bool_)
    count = np.isfinite(ordered).sum(axis=1)
    row, last = np.arange(len(ordered)), np.maximum(count - 1, 0)
    lower, upper = np.minimum(count // 4, last), np.minimum(3 * count // 4, last)
    spread = (ordered[row, upper] - ordered[row, lower]).reshape(shape)
    return np.asarray((count.reshape(shape) < LEAST_SAMPLES) | (spread <= allowed), dtype=np.bool_)
