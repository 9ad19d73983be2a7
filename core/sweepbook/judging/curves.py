"""Sweeps as matrices: one parameter, m curves on one rising axis of n frequencies.

Every value is known only within an interval: low <= value <= high. A curve that has no point at a
frequency of the axis holds NaN there, in all three matrices, so that arithmetic between curves
happens at shared points only and a hole stays a hole.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

F64 = NDArray[np.float64]
Flags = NDArray[np.bool_]

PAIRS = ("1-2", "3-6", "4-5", "7-8")
ENDS = ("near", "far")
OTHER_END = {"near": "far", "far": "near"}
UNORDERED = ("next",)
"""Crosstalk that is the same in both orders of its pairs."""
LOSSES = ("return_loss", "next", "fext")
"""Losses that are measured, save insertion loss."""
OWN_LOSSES = (*LOSSES, "acr_f")
"""The same, and ACR-F, where it is exported: each curve is a measurement of its own."""


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


@dataclass(frozen=True, slots=True, eq=False)
class Curves:
    """The curves of one parameter.

    Attributes:
        parameter: word of the vocabulary.
        keys: m keys, one a row.
        frequency_mhz: float64[n], strictly rising.
        value, low, high: float64[m, n]; NaN where the curve has no point.
        sweeps: m tuples of positions in results.sweeps.
        repeated: bool[m], True where the source gave two values for one frequency.
    """

    parameter: str
    keys: tuple[Key, ...]
    frequency_mhz: F64
    value: F64
    low: F64
    high: F64
    sweeps: tuple[tuple[int, ...], ...]
    repeated: Flags

    def take(self, rows: Sequence[int], keys: Sequence[Key]) -> "Curves":
        """Rows in a new order under new keys."""
        index = np.asarray(rows, dtype=np.intp)
        return Curves(
            keys[0].parameter if keys else self.parameter,
            tuple(keys),
            self.frequency_mhz,
            self.value[index],
            self.low[index],
            self.high[index],
            tuple(self.sweeps[row] for row in rows),
            self.repeated[index],
        )

    def on(self, axis: F64) -> "Curves":
        """The same curves on another rising axis float64[k]: NaN where a curve has no point."""
        if axis is self.frequency_mhz or np.array_equal(axis, self.frequency_mhz):
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
        return Curves(self.parameter, self.keys, axis, value, low, high, self.sweeps, self.repeated)

    def with_points(self) -> "Curves":
        """Without the curves that have no point at all."""
        there: list[bool] = np.any(~np.isnan(self.value), axis=1, keepdims=True)[:, 0].tolist()
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
    return replace(curves, low=low, high=high)


def shared(first: Curves, second: Curves) -> tuple[Curves, Curves]:
    """Both on the frequencies that both axes have."""
    if np.array_equal(first.frequency_mhz, second.frequency_mhz):
        return first, second
    axis = np.intersect1d(first.frequency_mhz, second.frequency_mhz, assume_unique=True)
    return first.on(axis), second.on(axis)


def joined(first: Curves, second: Curves) -> tuple[Curves, Curves]:
    """Both on the frequencies that either axis has."""
    if np.array_equal(first.frequency_mhz, second.frequency_mhz):
        return first, second
    axis = np.union1d(first.frequency_mhz, second.frequency_mhz)
    return first.on(axis), second.on(axis)


def row_of_pair(curves: Curves, end: str | None, pair: str) -> int | None:
    """Row of the insertion loss (or delay) of a pair to be used at an end; None for none.

    Insertion loss is that of a reciprocal two-port, so it may be measured once or at either end:
    the one measured at this end is taken, else the one without an end, else the other end's.
    """
    rows = {key.end: row for row, key in enumerate(curves.keys) if key.pairs == (pair,)}
    for candidate in (end, None, *ENDS):
        if candidate in rows:
            return rows[candidate]
    return None
