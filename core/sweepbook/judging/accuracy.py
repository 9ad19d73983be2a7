"""By how much a reading may be off: as the record declares it, or by a model where that is asked.

Nothing here changes a judgement; it tells which results are marginal.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Protocol

import numpy as np

from sweepbook.cached import cached_property
from sweepbook.judging.curves import F64, Key

Told = tuple[str, str | None, float | None, bool]
"""A declared item: its parameter, its end or None for each, its figure in dB or ns or None where
there is no one figure, and whether a curve is declared."""


class Accuracy(Protocol):
    """What is known of the accuracy of a record's curves."""

    @property
    def words(self) -> str:
        """What such a figure is called: "declared accuracy"."""
        ...

    def at(self, key: Key, axis_mhz: F64) -> F64:
        """Accuracy of a curve, plus or minus, in dB (ns of a delay).

        Args:
            key: what the curve is of.
            axis_mhz: float64[n].

        Returns:
            float64[n]; NaN where nothing is known.
        """
        ...

    def each(self, keys: tuple[Key, ...], axis_mhz: F64) -> F64:
        """Accuracy of each of many curves at one frequency of its own.

        Args:
            keys: m curves.
            axis_mhz: float64[m].

        Returns:
            float64[m]; NaN where nothing is known.
        """
        ...


@dataclass(frozen=True)
class Declared:
    """The accuracy that a record declares.

    Attributes:
        items: of `test.accuracy`.
    """

    items: Sequence[Mapping[str, Any]]
    words: str = "declared accuracy"

    def each(self, keys: tuple[Key, ...], axis_mhz: F64) -> F64:
        """The same of many curves at one frequency each."""
        constants = _constants(self._told, keys)
        if constants is not None:
            return constants
        points = (axis_mhz[place : place + 1] for place in range(len(keys)))
        found = [self.at(key, point)[0] for key, point in zip(keys, points, strict=True)]
        return np.array(found, dtype=np.float64)

    @cached_property
    def _told(self) -> tuple[Told, ...]:
        return tuple(
            (one["parameter"], one.get("end"), _constant(one), "curve" in one) for one in self.items
        )

    def _of(self, key: Key) -> list[Mapping[str, Any]]:
        return [
            item
            for item in self.items
            if item["parameter"] == key.parameter and item.get("end") in (None, key.end)
        ]

    def at(self, key: Key, axis_mhz: F64) -> F64:
        """The greatest figure where several are declared; NaN where none is."""
        mine = self._of(key)
        constants = [one for item in mine if (one := _constant(item)) is not None]
        found = np.full(axis_mhz.shape, max(constants, default=np.nan))
        for item in mine:
            if "curve" in item:
                found = np.fmax(found, _between(item["curve"], axis_mhz))
        return found


def _constant(item: Mapping[str, Any]) -> float | None:
    """The one figure that is declared for every frequency; None where a curve is, or nothing."""
    names = () if "curve" in item else ("constant_db", "constant_ns")
    return next((float(item[name]) for name in names if name in item), None)


@lru_cache(maxsize=256)
def _constants(told: tuple[Told, ...], keys: tuple[Key, ...]) -> F64 | None:
    """The greatest figure that is declared of each curve; None where a curve is declared of one.

    Kept, since most tests of a job declare the same of the same curves.

    Args:
        told: each item.
        keys: m curves.
    """
    found = np.full(len(keys), np.nan)
    for place, key in enumerate(keys):
        for parameter, end, figure, curve in told:
            if parameter != key.parameter or end not in (None, key.end):
                continue
            if curve:
                return None
            if figure is not None:
                found[place] = np.fmax(found[place], figure)
    found.setflags(write=False)
    return found


def _between(curve: Mapping[str, Any], axis: F64) -> F64:
    """Between two points of a declared curve the greater of the two holds; outside, nothing."""
    points, values = np.asarray(curve["frequency_mhz"]), np.asarray(curve["value_db"])
    upper = np.clip(np.searchsorted(points, axis, side="left"), 0, points.size - 1)
    exact = points[upper] == axis
    lower = np.where(exact, upper, np.maximum(upper - 1, 0))
    found = np.maximum(values[lower], values[upper])
    return np.where((axis >= points[0]) & (axis <= points[-1]), found, np.nan)
