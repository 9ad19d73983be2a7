"""By how much a reading may be off: as the record declares it, or by a model where that is asked.

Nothing here changes a judgement; it tells which results are marginal.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Protocol

import numpy as np

from sweepbook.judging.curves import F64, Key


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

    def each(self, keys: Sequence[Key], axis_mhz: F64) -> F64:
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

    @cached_property
    def _constants(self) -> dict[tuple[str, str | None], float]:
        """By parameter and end, where no curve is declared; worked out as it is asked for."""
        return {}

    def each(self, keys: Sequence[Key], axis_mhz: F64) -> F64:
        """The same of many curves at one frequency each."""
        kept, found = self._constants, []
        for place, key in enumerate(keys):
            known = kept.get(key[:2])
            if known is None:
                known = float(self.at(key, axis_mhz[place : place + 1])[0])
                if not any("curve" in item for item in self._of(key)):
                    kept[key[:2]] = known
            found.append(known)
        return np.array(found, dtype=np.float64)

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


def _between(curve: Mapping[str, Any], axis: F64) -> F64:
    """Between two points of a declared curve the greater of the two holds; outside, nothing."""
    points, values = np.asarray(curve["frequency_mhz"]), np.asarray(curve["value_db"])
    upper = np.clip(np.searchsorted(points, axis, side="left"), 0, points.size - 1)
    exact = points[upper] == axis
    lower = np.where(exact, upper, np.maximum(upper - 1, 0))
    found = np.maximum(values[lower], values[upper])
    return np.where((axis >= points[0]) & (axis <= points[-1]), found, np.nan)
