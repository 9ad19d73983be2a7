"""From frequencies and values to places in a picture, and the marks on its axes."""

import math
from dataclasses import dataclass

import numpy as np

from sweepbook_plugins.report.thin import Counts, Floats

LEFT, RIGHT, TOP, BOTTOM = 132, 1086, 22, 524
"""The edges of the field that the curves are drawn in; the template has the same figures."""
Marks = tuple[tuple[int, str], ...]
"""Marks of an axis: place and figure."""
_TICKS_MHZ = (0.1, 0.3, 1, 4, 10, 31.25, 100, 250, 500, 1000, 2000)
_APART = 1.45
"""So many times the one before a frequency must be for both to be written on the axis."""
_STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)
_MOST_STEPS = 6
_RATIO, _FAR = 1e6, 1e6
"""Of the last frequency to the first, and of a value, in its unit: more is never drawn."""


@dataclass(frozen=True, slots=True)
class Scale:
    """A field: frequency to the right on a logarithmic scale, values upwards.

    Attributes:
        first_mhz, last_mhz: its left and right edge.
        least, most: its lower and upper edge, in the unit of the values.
        step: between two marks of the values.
    """

    first_mhz: float
    last_mhz: float
    least: float
    most: float
    step: float

    def x(self, frequency_mhz: Floats) -> Counts:
        """Places to the right in whole units, [n]; what lies below the field is at its edge."""
        along = np.log(np.maximum(frequency_mhz, self.first_mhz) / self.first_mhz)
        return _whole(LEFT + (RIGHT - LEFT) * along / math.log(self.last_mhz / self.first_mhz))

    def y(self, value: Floats) -> Counts:
        """Places downwards in whole units, [n]; what lies outside of the field is at its edge."""
        up = (np.clip(value, self.least, self.most) - self.least) / (self.most - self.least)
        return _whole(BOTTOM - (BOTTOM - TOP) * up)

    def without_values(self) -> "Scale":
        """The same frequencies on values that do not matter."""
        return Scale(self.first_mhz, self.last_mhz, 0.0, 1.0, 1.0)

    def frequencies(self) -> Marks:
        """Marks of the frequency axis: place and figure."""
        inside = [
            tick for tick in _TICKS_MHZ if self.first_mhz * _APART <= tick <= self.last_mhz / _APART
        ]
        ticks = [self.first_mhz, *inside, self.last_mhz]
        places = self.x(np.array(ticks)).tolist()
        return tuple(zip(places, (f"{tick:.4g}" for tick in ticks), strict=True))

    def values(self) -> Marks:
        """Marks of the value axis: place and figure."""
        count = round((self.most - self.least) / self.step)
        ticks = [self.least + number * self.step for number in range(count + 1)]
        places = self.y(np.array(ticks)).tolist()
        return tuple(zip(places, (f"{tick + 0.0:.6g}" for tick in ticks), strict=True))


def scale(first_mhz: float, last_mhz: float, least: float, most: float) -> Scale:
    """A field that holds these frequencies and values, its lower and upper edge at round values.

    Values that no measurement has, and frequencies of more than so many decades, lie at its edges.
    """
    first, low, high = max(first_mhz, last_mhz / _RATIO), max(least, -_FAR), min(most, _FAR)
    step = _round_step((high - low) / _MOST_STEPS)
    bottom, top = math.floor(low / step) * step, math.ceil(high / step) * step
    return Scale(first, last_mhz, bottom, top if top > bottom else bottom + step, step)


def _whole(places: Floats) -> Counts:
    return np.rint(places).astype(np.intp)


def _round_step(least: float) -> float:
    if not least > 0.0:
        return 1.0
    power = 10.0 ** math.floor(math.log10(least))
    return next((power * one for one in _STEPS if power * one >= least), power * 10.0)


def column(x: Counts, columns: int) -> Counts:
    """In which of so many columns of the field each place lies, [n]."""
    return (x - LEFT) * columns // (RIGHT - LEFT)
