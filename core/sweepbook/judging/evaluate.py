"""Margins of a whole matrix of curves against one limit line, on intervals.

margin = value - limit where more is better, limit - value where less is better: positive is good.
The value is known within [low, high] and the limit within [low, high], so the margin is too.
"""

from dataclasses import dataclass
from typing import Literal, NamedTuple

import numpy as np
from numpy.typing import NDArray

from sweepbook.judging.curves import F64, Curves, Flags

Counts = NDArray[np.intp]

Sense = Literal["min", "max"]
"""What the limit is: the least that is allowed ("min", losses) or the most ("max")."""


class Limit(NamedTuple):
    """A limit on an axis.

    Attributes:
        value, low, high: float64[n], or float64[m, n] where it differs between the curves; NaN
            where there is no limit; low < high where it is known only within an interval.
        grade: uint8[n], code of the letter "A" (best) to "D"; 0 where there is no limit.
        usable: bool[n], False where the limit is not known well enough to be used.
    """

    value: F64
    low: F64
    high: F64
    grade: NDArray[np.uint8]
    usable: Flags


class Information(NamedTuple):
    """Which points are for information only.

    Attributes:
        certain: bool[m, n], left out whatever the resolution hides.
        possible: bool[m, n], left out or not: the resolution does not tell. Includes `certain`.
    """

    certain: Flags
    possible: Flags


@dataclass(frozen=True, slots=True, eq=False)
class Evaluation:
    """Margins of m curves at n points.

    Attributes:
        limit: the line they were held against.
        margin, low, high: float64[m, n]; what they are at points not evaluated means nothing.
        evaluated: bool[m, n], a value and a usable limit, and not certainly for information.
        binding: bool[m, n], evaluated and certainly not for information: may prove a fail.
        for_information: int[m], points left out although there is a limit.
    """

    limit: Limit
    margin: F64
    low: F64
    high: F64
    evaluated: Flags
    binding: Flags
    for_information: Counts

    @property
    def fails(self) -> Flags:
        """bool[m, n], where a fail is proved: the margin is negative over its whole interval."""
        return self.binding & (self.high < 0.0)

    @property
    def open(self) -> Flags:
        """bool[m, n], where a pass is not proved: not (lowest margin >= 0), so that NaN is open."""
        return self.evaluated & ~(self.low >= 0.0)


def evaluate(
    curves: Curves, limit: Limit, sense: Sense, left_out: Information | None
) -> Evaluation:
    """Hold curves against a limit.

    Args:
        curves: m x n.
        limit: on the same n frequencies.
        sense: which side of the limit is good.
        left_out: points for information only; None for none.
    """
    with np.errstate(invalid="ignore", over="ignore"):
        if sense == "min":
            margin, low, high = (
                curves.value - limit.value,
                curves.low - limit.high,
                curves.high - limit.low,
            )
        else:
            margin, low, high = (
                limit.value - curves.value,
                limit.low - curves.high,
                limit.high - curves.low,
            )
    there = ~np.isnan(curves.value) & (limit.usable & ~np.isnan(limit.value))
    if left_out is None:
        none = np.zeros(there.shape[0], dtype=np.intp)
        return Evaluation(limit, margin, low, high, there, there, none)
    evaluated = there & ~left_out.certain
    return Evaluation(
        limit,
        margin,
        low,
        high,
        evaluated,
        there & ~left_out.possible,
        np.count_nonzero(there & left_out.certain, axis=1),
    )


class Worst(NamedTuple):
    """The worst of each curve; rows without an evaluated point hold column 0 and mean nothing.

    Attributes:
        margin_at: int[m], column of the smallest margin, the lowest frequency of equals.
        margin_low, margin_high: float64[m], interval of the smallest margin.
        value_at: int[m], column of the worst value: smallest loss, largest insertion loss.
        value_low, value_high: float64[m], interval of the worst value.
        points: int[m], points evaluated.
    """

    margin_at: Counts
    margin_low: F64
    margin_high: F64
    value_at: Counts
    value_low: F64
    value_high: F64
    points: Counts


def worst(curves: Curves, evaluation: Evaluation, sense: Sense) -> Worst:
    """Find the worst margin and the worst value of each curve among its evaluated points."""
    seen = evaluation.evaluated
    sign = 1.0 if sense == "min" else -1.0
    everywhere = bool(seen.all())

    def signed(matrix: F64) -> F64:
        return matrix if sense == "min" else -matrix

    def among(matrix: F64) -> F64:
        return matrix if everywhere else np.where(seen, matrix, np.inf)

    def first(matrix: F64) -> Counts:
        """Column of the least of each row; 0 on an axis without points."""
        none = np.zeros(matrix.shape[0], dtype=np.intp)
        return np.argmin(matrix, axis=1) if matrix.shape[1] else none

    def least(matrix: F64) -> F64:
        found: F64 = among(matrix).min(axis=1, initial=np.inf)
        return found

    return Worst(
        first(among(evaluation.margin)),
        least(evaluation.low),
        least(evaluation.high),
        first(among(signed(curves.value))),
        sign * least(signed(curves.low)),
        sign * least(signed(curves.high)),
        np.count_nonzero(seen, axis=1),
    )
