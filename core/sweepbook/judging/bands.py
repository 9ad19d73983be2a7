"""How far off the values of m curves may be: low <= value <= high at each of n points.

A judgement hangs on few points, so the ends are worked out where they are asked for: at some
points, or as whole matrices. Both are the same arithmetic on the same doubles. `Reach` tells
without either at which points they need to be looked at.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

import numpy as np

from sweepbook.judging.derive import F64, Ends, Places, difference, losses, powers, total

if TYPE_CHECKING:
    from sweepbook.judging.curves import Curves


Reach = F64
"""float64[4, m]: between what the ends of m curves are from their values, but for rounding.

Rows: `value - low` at least and at most, `high - value` at least and at most, over the points of
a curve; infinite where a point has no end.
"""
LEAST_BELOW, MOST_BELOW, LEAST_ABOVE, MOST_ABOVE = range(4)


def turned(reach: Reach) -> Reach:
    """Of the values with the other sign."""
    return reach[[LEAST_ABOVE, MOST_ABOVE, LEAST_BELOW, MOST_BELOW]]


class Band(Protocol):
    """The ends of m curves, told from their values."""

    def ends(self, value: F64) -> Ends:
        """Of all points, float64[m, n]; NaN where the value, float64[m, n], is."""
        ...

    def at(self, value: F64, rows: Places, columns: Places) -> Ends:
        """Of some points, float64[k]."""
        ...

    def reach(self, value: F64) -> Reach:
        """How far they are from the values."""
        ...

    def take(self, index: Places) -> "Band":
        """The band of some of the curves."""
        ...

    def between(self, value: F64, columns: slice) -> "Band":
        """The band at some of the points."""
        ...


@dataclass(frozen=True, slots=True, eq=False)
class Digits:
    """Half a last digit to each side.

    Attributes:
        half: float64[m].
    """

    half: F64

    def ends(self, value: F64) -> Ends:
        """Of all points."""
        half = self.half[:, None]
        return Ends(value - half, value + half)

    def at(self, value: F64, rows: Places, columns: Places) -> Ends:
        """Of some points."""
        some, half = value[rows, columns], self.half[rows]
        return Ends(some - half, some + half)

    def reach(self, value: F64) -> Reach:
        """How far they are from the values."""
        return self.half[None].repeat(4, axis=0)

    def take(self, index: Places) -> "Digits":
        """Of some of the curves."""
        return Digits(self.half[index])

    def between(self, value: F64, columns: slice) -> "Digits":
        """At some of the points."""
        return self


@dataclass(frozen=True, slots=True, eq=False)
class Given:
    """Ends that are given as they are.

    Attributes:
        low, high: float64[m, n].
        known: how far they are from the values at most; None to look.
    """

    low: F64
    high: F64
    known: Reach | None = None

    def ends(self, value: F64) -> Ends:
        """Of all points."""
        return Ends(self.low, self.high)

    def at(self, value: F64, rows: Places, columns: Places) -> Ends:
        """Of some points."""
        return Ends(self.low[rows, columns], self.high[rows, columns])

    def reach(self, value: F64) -> Reach:
        """How far they are from the values."""
        if self.known is not None:
            return self.known
        with np.errstate(invalid="ignore"):
            return np.stack((*_spread(value - self.low), *_spread(self.high - value)))

    def take(self, index: Places) -> "Given":
        """Of some of the curves."""
        known = None if self.known is None else self.known[:, index]
        return Given(self.low[index], self.high[index], known)

    def between(self, value: F64, columns: slice) -> "Given":
        """At some of the points."""
        return Given(self.low[:, columns], self.high[:, columns], self.known)


def _spread(off: F64) -> tuple[F64, F64]:
    """Least and most of each row; a hole or an infinite value leaves no most."""
    least = np.fmin.reduce(off, axis=1, initial=np.inf)
    most = off.max(axis=1, initial=0.0)
    return least, np.where(np.isnan(most), np.inf, most)


@dataclass(frozen=True, slots=True, eq=False)
class Summed:
    """Of power sums: the sum of the members' ends.

    A power sum moves no further than the member that moves most, and no less than the one that
    moves least.

    Attributes:
        members: the curves that are summed.
        index: int[m, k], the rows of the members of each sum.
    """

    members: "Curves"
    index: Places

    def ends(self, value: F64) -> Ends:
        """Of all points."""
        low, high = (losses(total(powers(end), self.index)) for end in self.members.ends)
        return Ends(low, high)

    def at(self, value: F64, rows: Places, columns: Places) -> Ends:
        """Of some points."""
        every = self.members.ends_at(self.index[rows].T, columns)
        low, high = (losses(powers(end).sum(axis=0)) for end in every)
        return Ends(low, high)

    def reach(self, value: F64) -> Reach:
        """How far they are from the values."""
        members = self.members.reach[:, self.index]
        found: Reach = members.min(axis=2)
        found[[MOST_BELOW, MOST_ABOVE]] = members[[MOST_BELOW, MOST_ABOVE]].max(axis=2)
        return found

    def take(self, index: Places) -> "Summed":
        """Of some of the curves."""
        return Summed(self.members, self.index[index])

    def between(self, value: F64, columns: slice) -> Given:
        """At some of the points."""
        low, high = self.ends(value)
        return Given(low[:, columns], high[:, columns])


@dataclass(frozen=True, slots=True, eq=False)
class Less:
    """Of differences: the lowest less the highest, and the other way round.

    Attributes:
        first, second: curves on one axis.
        rows, others: int[m], the row of each that a difference is made of.
    """

    first: "Curves"
    rows: Places
    second: "Curves"
    others: Places

    def ends(self, value: F64) -> Ends:
        """Of all points."""
        one = Ends(*(end[self.rows] for end in self.first.ends))
        return difference(one, Ends(*(end[self.others] for end in self.second.ends)))

    def at(self, value: F64, rows: Places, columns: Places) -> Ends:
        """Of some points."""
        one = self.first.ends_at(self.rows[rows], columns)
        return difference(one, self.second.ends_at(self.others[rows], columns))

    def reach(self, value: F64) -> Reach:
        """How far they are from the values."""
        return self.first.reach[:, self.rows] + turned(self.second.reach)[:, self.others]

    def take(self, index: Places) -> "Less":
        """Of some of the curves."""
        return Less(self.first, self.rows[index], self.second, self.others[index])

    def between(self, value: F64, columns: slice) -> Given:
        """At some of the points."""
        low, high = self.ends(value)
        return Given(low[:, columns], high[:, columns])
