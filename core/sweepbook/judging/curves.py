"""Sweeps as matrices: one parameter, m curves on one rising axis of n frequencies.

Every value is known only within an interval: low <= value <= high. A curve that has no point at a
frequency of the axis holds NaN there, ends included, so that arithmetic between curves happens at
shared points only and a hole stays a hole.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np

from sweepbook.cached import cached_property
from sweepbook.judging.bands import (
    LEAST_ABOVE,
    LEAST_BELOW,
    MOST_ABOVE,
    MOST_BELOW,
    Band,
    Boundless,
    Clipped,
    Digits,
    Given,
    Reach,
)
from sweepbook.judging.bands import Flags as Flags
from sweepbook.judging.derive import F64 as F64
from sweepbook.judging.derive import Ends, Places
from sweepbook.judging.rows import Rows

PAIRS = ("1-2", "3-6", "4-5", "7-8")
ENDS = ("near", "far")
OTHER_END = {"near": "far", "far": "near"}
UNORDERED = ("next",)
"""Crosstalk that is the same in both orders of its pairs."""
LOSSES = ("return_loss", "next", "fext")
"""Losses that are measured, save insertion loss."""
OWN_LOSSES = (*LOSSES, "acr_f")
"""The same, and ACR-F, where it is exported: each curve is a measurement of its own."""


FEW = 3
"""Ends of fewer than one point in so many are worked out by themselves."""


class Key(NamedTuple):
    """What a curve is of.

    Attributes:
        parameter: word of the vocabulary.
        end: "near", "far", or None where the parameter has no end.
        pairs: one pair, or (disturbing, disturbed).
    """

    parameter: str
    end: str | None
    pairs: tuple[str, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Curve:
    """One curve, holes dropped.

    Attributes:
        key: what it is of.
        frequency_mhz: float64[n], rising.
        value, low, high: float64[n] in dB (ns for a delay); the true value lies in [low, high].
        sweeps: positions in results.sweeps that it was read from; empty where it was recomputed.
        repeated: True where the source gave two values for one frequency.
    """

    key: Key
    frequency_mhz: F64
    value: F64
    low: F64
    high: F64
    sweeps: tuple[int, ...]
    repeated: bool


@dataclass(frozen=True, eq=False)
class Curves:
    """The curves of one parameter.

    Attributes:
        parameter: word of the vocabulary.
        keys: m keys, one a row.
        frequency_mhz: float64[n], strictly rising.
        given: the values, float64[m, n], NaN where a curve has no point; or what makes them, where
            nobody may ask for them.
        band: how far off the values may be.
        sweeps: m tuples of positions in results.sweeps.
        repeated: bool[m], True where the source gave two values for one frequency.
        among: all curves that were measured on the axis, and which of them these are; None where
            they are by themselves.
    """

    parameter: str
    keys: tuple[Key, ...]
    frequency_mhz: F64
    given: F64 | Callable[[], F64]
    band: Band
    sweeps: tuple[tuple[int, ...], ...]
    repeated: Flags
    among: tuple[Rows, slice] | None = None

    @cached_property
    def value(self) -> F64:
        """The values, float64[m, n]; NaN where a curve has no point."""
        return self.given() if callable(self.given) else self.given

    @cached_property
    def _rows(self) -> tuple[Rows, slice]:
        return self.among or (Rows(self.value), slice(None))

    @property
    def least(self) -> list[float]:
        """The least value of each curve; no number where one is none, infinite without points."""
        rows, own = self._rows
        return rows.least[own]

    @property
    def most(self) -> list[float]:
        """The greatest value of each curve, likewise."""
        rows, own = self._rows
        return rows.most[own]

    @property
    def steepest(self) -> list[float]:
        """The greatest step of each curve from one point to the next."""
        rows, own = self._rows
        return rows.steepest[own]

    @property
    def at_most(self) -> list[int]:
        """At how many points each curve has its greatest value."""
        rows, own = self._rows
        return rows.at_most[own]

    @cached_property
    def ends(self) -> Ends:
        """Lower and upper ends of all points, float64[m, n] each; NaN where there is no point."""
        return self.band.ends(self.value)

    @property
    def low(self) -> F64:
        """Lower ends, float64[m, n]."""
        return self.ends.low

    @property
    def high(self) -> F64:
        """Upper ends, float64[m, n]."""
        return self.ends.high

    @cached_property
    def reach(self) -> Reach:
        """How far the ends are from the values."""
        return self.band.reach(self.value)

    @cached_property
    def width(self) -> F64:
        """float64[m], how far apart the ends of a point are at most, but for rounding.

        Of a clipped curve those that are known from both sides; infinite where that is not told.
        """
        told = isinstance(self.band, Clipped)
        below, above = (LEAST_BELOW, LEAST_ABOVE) if told else (MOST_BELOW, MOST_ABOVE)
        found: F64 = self.reach[below] + self.reach[above]
        return found

    @cached_property
    def whole(self) -> bool:
        """Whether there is a finite value at every point."""
        if self.among:
            return all(map(math.isfinite, (*self.least, *self.most)))
        with np.errstate(over="ignore", invalid="ignore"):
            total = self.value.sum()
        return bool(np.isfinite(total) or np.isfinite(self.value).all())

    @cached_property
    def clipped(self) -> bool:
        """Whether a point may be known from one side only, or from none."""
        if isinstance(self.band, Digits):
            return False
        return bool(np.isinf(self.reach[[MOST_BELOW, MOST_ABOVE]]).any())

    @cached_property
    def boundless(self) -> Boundless:
        """The points that are known from one side only, or from none."""
        return self.band.boundless(self.value)

    @cached_property
    def holes(self) -> Flags:
        """bool[m, n], where a curve has no point."""
        return np.isnan(self.value)

    def ends_at(self, rows: Places, columns: Places) -> Ends:
        """The ends of some points, float64[k] each.

        Where they are many, or all have been worked out before, they are taken from those of all.
        """
        if rows.size < self.value.size // FEW and "ends" not in self.__dict__:
            return self.band.at(self.value, rows, columns)
        return Ends(self.low[rows, columns], self.high[rows, columns])

    def ends_of(self, row: int) -> Ends:
        """The ends of one curve at all points, float64[n] each."""
        if "ends" in self.__dict__:
            return Ends(self.low[row], self.high[row])
        low, high = self.band.take(np.array([row])).ends(self.value[row : row + 1])
        return Ends(low[0], high[0])

    def ends_in(self, column: int) -> Ends | None:
        """The ends of all curves at one point; None where one of them has no point there."""
        if not self.value.shape[1] or not np.isfinite(self.value[:, column]).all():
            return None
        rows = np.arange(len(self.keys))
        return self.ends_at(rows, np.full(rows.size, column))

    def within(self, low: F64, high: F64) -> "Curves":
        """The same curves between other ends, float64[m, n]."""
        return replace(self, band=Given(low, high))

    def take(self, rows: Sequence[int], keys: Sequence[Key]) -> "Curves":
        """Rows in a new order under new keys."""
        index = np.asarray(rows, dtype=np.intp)
        return Curves(
            keys[0].parameter if keys else self.parameter,
            tuple(keys),
            self.frequency_mhz,
            self.value[index],
            self.band.take(index),
            tuple(self.sweeps[row] for row in rows),
            self.repeated[index],
        )

    def on(self, axis: F64) -> "Curves":
        """The same curves on another rising axis float64[k]: NaN where a curve has no point."""
        if same_axis(axis, self.frequency_mhz):
            return self
        place = np.searchsorted(self.frequency_mhz, axis)
        place[place == self.frequency_mhz.size] = 0
        if self.frequency_mhz.size:
            found = self.frequency_mhz[place] == axis
        else:
            found = np.zeros(axis.size, dtype=np.bool_)
        shape = (len(self.keys), axis.size)
        value, low, high = (np.full(shape, np.nan) for _ in range(3))
        moved = ((value, self.value), (low, self.low), (high, self.high))
        for target, matrix in moved:
            target[:, found] = matrix[:, place[found]]
        return replace(self, frequency_mhz=axis, given=value, band=Given(low, high), among=None)

    def between(self, columns: slice) -> "Curves":
        """The same curves at some of the points."""
        axis = self.frequency_mhz[columns]
        if axis.size == self.frequency_mhz.size:
            return self
        value, band = self.value[:, columns], self.band.between(self.value, columns)
        return replace(self, frequency_mhz=axis, given=value, band=band, among=None)

    def with_points(self) -> "Curves":
        """Without the curves that have no point at all."""
        if self.whole and self.frequency_mhz.size:
            return self
        there: list[bool] = np.any(~self.holes, axis=1, keepdims=True)[:, 0].tolist()
        if all(there):
            return self
        rows = [row for row, some in enumerate(there) if some]
        return self.take(rows, [self.keys[row] for row in rows])

    def curve(self, row: int) -> Curve:
        """One row without its holes."""
        there = ~np.isnan(self.value[row])
        return Curve(
            self.keys[row],
            self.frequency_mhz[there],
            self.value[row, there],
            self.low[row, there],
            self.high[row, there],
            self.sweeps[row],
            bool(self.repeated[row]),
        )


def without_bounds(curves: Curves, upper: Sequence[int], lower: Sequence[int]) -> Curves:
    """The curves, some rows of them without an upper bound, and some without a lower one."""
    low, high = curves.low.copy(), curves.high.copy()
    high[upper] = np.where(np.isnan(high[upper]), np.nan, np.inf)
    low[lower] = np.where(np.isnan(low[lower]), np.nan, -np.inf)
    return curves.within(low, high)


def same_axis(first: F64, second: F64) -> bool:
    """Whether two axes are the same frequencies."""
    return first is second or np.array_equal(first, second)


def shared(first: Curves, second: Curves) -> tuple[Curves, Curves]:
    """Both on the frequencies that both axes have."""
    if same_axis(first.frequency_mhz, second.frequency_mhz):
        return first, second
    axis = np.intersect1d(first.frequency_mhz, second.frequency_mhz, assume_unique=True)
    return first.on(axis), second.on(axis)


def joined(first: Curves, second: Curves) -> tuple[Curves, Curves]:
    """Both on the frequencies that either axis has."""
    if same_axis(first.frequency_mhz, second.frequency_mhz):
        return first, second
    axis = np.union1d(first.frequency_mhz, second.frequency_mhz)
    return first.on(axis), second.on(axis)


def row_of_pair(keys: Sequence[Key], end: str | None, pair: str) -> int | None:
    """Row of the insertion loss (or delay) of a pair to be used at an end; None for none.

    Insertion loss is that of a reciprocal two-port, so it may be measured once or at either end:
    the one measured at this end is taken, else the one without an end, else the other end's.
    """
    rows = {key.end: row for row, key in enumerate(keys) if key.pairs == (pair,)}
    for candidate in (end, None, *ENDS):
        if candidate in rows:
            return rows[candidate]
    return None
