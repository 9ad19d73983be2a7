"""The frequencies of some curves in a picture: places to the right, and what follows from them."""

from dataclasses import dataclass
from functools import lru_cache
from typing import Self

import numpy as np

from sweepbook_plugins.report.scale import LEFT, RIGHT, Scale, column
from sweepbook_plugins.report.thin import Counts, Flags, Floats, holes, starts

COLUMNS, COLUMNS_BEHIND = 240, 120
"""Of the curve that stands out, and of those behind it: of each, least and largest are drawn."""
GRID_STEP = 3
GRID = np.arange(LEFT, RIGHT + 1, GRID_STEP)
"""Places to the right at which is known how high every line runs."""


@dataclass(frozen=True, slots=True, eq=False)
class Axis:
    """The frequencies of some curves in a picture.

    Attributes:
        x: places, [n].
        holes: after which points there is a hole, [n - 1]; None where there is none.
        starts, starts_behind: the first point of each column, for the curve that stands out and for
            the others.
        before, after: the points beside each place of `GRID`, the last and the first of the axis
            where it lies outside.
        share: how far it is from the one to the other, of the places between them.
    """

    x: Counts
    holes: Flags | None
    starts: Counts
    starts_behind: Counts
    before: Counts
    after: Counts
    share: Floats

    @classmethod
    def of(cls, frequency_mhz: Floats, field: Scale) -> Self:
        """The places of the frequencies in a field."""
        x, broken = field.x(frequency_mhz), holes(frequency_mhz)
        fine, coarse = (starts(column(x, count)) for count in (COLUMNS, COLUMNS_BEHIND))
        after = np.searchsorted(x, GRID, side="right")
        before = np.maximum(after - 1, 0)
        after = np.minimum(after, x.size - 1)
        wide = x[after] - x[before]
        share = np.where(wide > 0, (GRID - x[before]) / np.maximum(wide, 1), 0.0)
        return cls(x, broken if broken.any() else None, fine, coarse, before, after, share)

    def heights(self, y: Counts) -> Floats:
        """How high lines run at the places of `GRID`, [m, k], of heights at the points, [m, n]."""
        low = y[:, self.before]
        heights: Floats = low + (y[:, self.after] - low) * self.share
        return heights


@lru_cache(maxsize=64)
def axis(points: bytes, field: Scale) -> Axis:
    """An axis, kept: the links of a building are swept over the same frequencies.

    Args:
        points: frequencies in MHz, the bytes of float64.
        field: its values do not matter: see `Scale.without_values`.
    """
    return Axis.of(np.frombuffer(points, dtype=np.float64), field)
