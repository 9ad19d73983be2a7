"""How far off the values of m curves may be: low <= value <= high at each of n points.

A judgement hangs on few points, so the ends are worked out where they are asked for: at some
points, or as whole matrices. Both are the same arithmetic on the same doubles. `Reach` tells
without either at which points they need to be looked at.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, NamedTuple, Protocol

import numpy as np
from numpy.typing import NDArray

from sweepbook.judging.derive import F64, Ends, Places, difference, losses, powers, total

if TYPE_CHECKING:
    from sweepbook.judging.curves import Curves


Flags = NDArray[np.bool_]
Reach = F64
"""float64[4, m]: between what the ends of m curves are from their values, but for rounding.

Rows: `value - low` at least and at most, `high - value` at least and at most, over the points of
a curve; infinite where a point has no end.
"""
LEAST_BELOW, MOST_BELOW, LEAST_ABOVE, MOST_ABOVE = range(4)


def turned(reach: Reach) -> Reach:
    """Of the values with the other sign."""
    return reach[[LEAST_ABOVE, MOST_ABOVE, LEAST_BELOW, MOST_BELOW]]


class Boundless(NamedTuple):
    """bool[m, n] each: points without an upper end, and without a lower one; None for none."""

    above: Flags | None
    below: Flags | None


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

    def boundless(self, value: F64) -> Boundless:
        """The points without an end on one side."""
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

    def boundless(self, value: F64) -> Boundless:
        """The points without an end: none."""
        return Boundless(None, None)

    def take(self, index: Places) -> "Digits":
        """Of some of the curves."""
        return Digits(self.half[index])

    def between(self, value: F64, columns: slice) -> "Digits":
        """At some of the points."""
        return self


@dataclass(frozen=True, slots=True, eq=False)
class Clipped:
    """The same, but for points that are known from one side only.

    Attributes:
        half: float64[m].
        above, below: bool[m, n], points without an upper and without a lower end; None for none.
    """

    half: F64
    above: Flags | None
    below: Flags | None

    def ends(self, value: F64) -> Ends:
        """Of all points."""
        low, high = Digits(self.half).ends(value)
        if self.above is not None:
            high[self.above] = np.inf
        if self.below is not None:
            low[self.below] = -np.inf
        return Ends(low, high)

    def at(self, value: F64, rows: Places, columns: Places) -> Ends:
        """Of some points."""
        low, high = Digits(self.half).at(value, rows, columns)
        if self.above is not None:
            high[self.above[rows, columns]] = np.inf
        if self.below is not None:
            low[self.below[rows, columns]] = -np.inf
        return Ends(low, high)

    def reach(self, value: F64) -> Reach:
        """How far they are from the values."""
        found = Digits(self.half).reach(value)
        if self.above is not None:
            found[MOST_ABOVE, self.above.any(axis=1)] = np.inf
        if self.below is not None:
            found[MOST_BELOW, self.below.any(axis=1)] = np.inf
        return found

    def boundless(self, value: F64) -> Boundless:
        """The points without an end."""
        return Boundless(self.above, self.below)

    def take(self, index: Places) -> "Clipped":
        """Of some of the curves."""
        return Clipped(self.half[index], *(_part(one, index) for one in (self.above, self.below)))

    def between(self, value: F64, columns: slice) -> "Clipped":
        """At some of the points."""
        every = slice(None)
        above, below = (_part(one, (every, columns)) for one in (self.above, self.below))
        return Clipped(self.half, above, below)


def _part(flags: Flags | None, index: Any) -> Flags | None:  # noqa: ANN401 - as numpy takes it
    return None if flags is None else flags[index]


@dataclass(frozen=True, slots=True, eq=False)
class Given:
    """Ends that are given as they are.

    Attributes:
        low, high: float64[m, n].
    """

    low: F64
    high: F64

    def ends(self, value: F64) -> Ends:
        """Of all points."""
        return Ends(self.low, self.high)

    def at(self, value: F64, rows: Places, columns: Places) -> Ends:
        """Of some points."""
        return Ends(self.low[rows, columns], self.high[rows, columns])

    def reach(self, value: F64) -> Reach:
        """How far they are from the values."""
        with np.errstate(invalid="ignore"):
            return np.stack((*_spread(value - self.low), *_spread(self.high - value)))

    def boundless(self, value: F64) -> Boundless:
        """The points without an end."""
        return _boundless(self.ends(value))

    def take(self, index: Places) -> "Given":
        """Of some of the curves."""
        return Given(self.low[index], self.high[index])

    def between(self, value: F64, columns: slice) -> "Given":
        """At some of the points."""
        return Given(self.low[:, columns], self.high[:, columns])


def _boundless(ends: Ends) -> Boundless:
    """Infinite ends, None for none."""
    above, below = np.isposinf(ends.high), np.isneginf(ends.low)
    return Boundless(above if above.any() else None, below if below.any() else None)


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

    def boundless(self, value: F64) -> Boundless:
        """The points without an end."""
        return _boundless(self.ends(value))

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

    def boundless(self, value: F64) -> Boundless:
        """The points without an end."""
        return _boundless(self.ends(value))

    def take(self, index: Places) -> "Less":
        """Of some of the curves."""
        return Less(self.first, self.rows[index], self.second, self.others[index])

    def between(self, value: F64, columns: slice) -> Given:
        """At some of the points."""
        low, high = self.ends(value)
        return Given(low[:, columns], high[:, columns])
