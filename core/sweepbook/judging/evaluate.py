"""Margins of a whole matrix of curves against one limit line, on intervals.

margin = value - limit where more is better, limit - value where less is better: positive is good.
The value is known within [low, high] and the limit within [low, high], so the margin is too. Its
ends are worked out where they can matter.
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from sweepbook.cached import cached_property
from sweepbook.judging.curves import F64, Curves, Flags
from sweepbook.judging.derive import Ends, Places
from sweepbook.judging.limit_line import Limit, Sense

Counts = NDArray[np.intp]


class Information(NamedTuple):
    """Which points are for information only.

    Attributes:
        certain: bool[m, n], left out whatever the resolution hides.
        possible: bool[m, n], left out or not: the resolution does not tell. Includes `certain`.
    """

    certain: Flags
    possible: Flags


@dataclass(frozen=True, eq=False)
class Evaluation:
    """Margins of m curves at n points; infinities less each other are for the caller to allow.

    Attributes:
        curves: what was held.
        limit: the line they were held against.
        sense: which side of it is good.
        left_out: points for information only; None for none.
        margin: float64[m, n], infinite at points that are not evaluated.
    """

    curves: Curves
    limit: Limit
    sense: Sense
    left_out: Information | None
    margin: F64

    @cached_property
    def limited(self) -> Flags:
        """bool[m, n], a value and a usable limit."""
        return ~self.curves.holes & self.limit.there

    @cached_property
    def evaluated(self) -> Flags:
        """bool[m, n], a value and a usable limit, and not certainly for information."""
        return self.limited & ~self.left_out.certain if self.left_out else self.limited

    @cached_property
    def binding(self) -> Flags:
        """bool[m, n], evaluated and certainly not for information: may prove a fail."""
        return self.limited & ~self.left_out.possible if self.left_out else self.limited

    def evaluated_at(self, rows: Places, columns: Places) -> Flags:
        """Whether some points are evaluated, bool[k]."""
        if self.curves.whole:
            return np.isfinite(self.margin[rows, columns])
        return self.evaluated[rows, columns]

    @cached_property
    def for_information(self) -> Counts:
        """int[m], points left out although there is a limit."""
        if self.left_out is None:
            return np.zeros(len(self.curves.keys), dtype=np.intp)
        return _counts(self.limited & self.left_out.certain)

    @cached_property
    def points(self) -> Counts:
        """int[m], points evaluated."""
        if self.left_out is None and self.curves.whole and self.limit.there.ndim == 1:
            return np.full(len(self.curves.keys), np.count_nonzero(self.limit.there))
        return _counts(self.evaluated)

    @cached_property
    def certain(self) -> bool:
        """Whether every evaluated point is binding."""
        return self.left_out is None or bool((self.evaluated == self.binding).all())

    @cached_property
    def ends(self) -> Ends:
        """Of the margins, float64[m, n] each; they mean nothing at points not evaluated."""
        return self._ends(self.curves.ends, Ends(self.limit.low, self.limit.high))

    def ends_at(self, rows: Places, columns: Places) -> Ends:
        """Of the margins at some points, float64[k] each."""
        return self.ends_from(self.curves.ends_at(rows, columns), rows, columns)

    def ends_from(self, values: Ends, rows: Places, columns: Places) -> Ends:
        """Of the margins at some points, from the ends of the values there."""
        limit = self.limit
        bounds = Ends(limit.at(limit.low, rows, columns), limit.at(limit.high, rows, columns))
        return self._ends(values, bounds)

    @cached_property
    def fails(self) -> Flags:
        """bool[m, n], where a fail is proved: the margin is negative over its whole interval."""
        return self.binding & (self.ends.high < 0.0)

    @cached_property
    def open(self) -> Flags:
        """bool[m, n], where a pass is not proved: not (lowest margin >= 0), so that NaN is open."""
        return self.evaluated & ~(self.ends.low >= 0.0)

    def _ends(self, values: Ends, limits: Ends) -> Ends:
        if self.sense == "min":
            return Ends(values.low - limits.high, values.high - limits.low)
        return Ends(limits.low - values.high, limits.high - values.low)


def evaluate(
    curves: Curves,
    limit: Limit,
    sense: Sense,
    left_out: Information | None,
    margin: F64 | None = None,
) -> Evaluation:
    """Hold curves against a limit.

    Args:
        curves: m x n.
        limit: on the same n frequencies.
        sense: which side of the limit is good.
        left_out: points for information only; None for none.
        margin: float64[m, n] that the margins are written to; None to make one.
    """
    if sense == "min":
        margin = np.subtract(curves.value, limit.floor, out=margin)
    else:
        margin = np.subtract(limit.ceiling, curves.value, out=margin)
    found = Evaluation(curves, limit, sense, left_out, margin)
    if not curves.whole:
        margin[~found.evaluated] = np.inf
    elif left_out is not None:
        margin[left_out.certain] = np.inf
    return found


def _counts(flags: Flags) -> Counts:
    """How many flags of each row are set."""
    found: Counts = np.count_nonzero(flags, axis=1)
    return found
