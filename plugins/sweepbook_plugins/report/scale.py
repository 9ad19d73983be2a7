"""From frequencies and values to places in a picture, and the marks on its axes."""

import math
from dataclasses import dataclass

import numpy as np

from sweepbook_plugins.report.thin import Counts, Floats

LEFT, RIGHT, TOP, BOTTOM = 132, 1086, 22, 524
"""The edges of the field that the curves are drawn in; the template has the same figures."""
_TICKS_MHZ = (0.1, 0.3, 1, 4, 10, 31.25, 100, 250, 500, 1000, 2000)
_APART = 1.45
"""So many times the one before a frequency must be for both to be written on the axis."""
_STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)
_MOST_STEPS = 6


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

    def x(self, frequency_mhz: Floats) -> Floats:
        """Places to the right, [n]."""
        decades = np.log(np.maximum(frequency_mhz, self.first_mhz) / self.first_mhz)
        return LEFT + (RIGHT - LEFT) * decades / math.log(self.last_mhz / self.first_mhz)

    def y(self, value: Floats) -> Floats:
        """Places downwards, [n]."""
        return BOTTOM - (BOTTOM - TOP) * (value - self.least) / (self.most - self.least)

    def frequencies(self) -> list[tuple[int, str]]:
        """Marks of the frequency axis: place and figure."""
        inside = [
            tick for tick in _TICKS_MHZ if self.first_mhz * _APART <= tick <= self.last_mhz / _APART
        ]
        ticks = [self.first_mhz, *inside, self.last_mhz]
        places = np.rint(self.x(np.array(ticks))).astype(int).tolist()
        return list(zip(places, (f"{tick:.4g}" for tick in ticks), strict=True))

    def values(self) -> list[tuple[int, str]]:
        """Marks of the value axis: place and figure."""
        count = round((self.most - self.least) / self.step)
        ticks = [self.least + number * self.step for number in range(count + 1)]
        places = np.rint(self.y(np.array(ticks))).astype(int).tolist()
        return list(zip(places, (f"{tick + 0.0:.6g}" for tick in ticks), strict=True))


def scale(first_mhz: float, last_mhz: float, least: float, most: float) -> Scale:
    """A field that holds these frequencies and values, its lower and upper edge at round values."""
    first = first_mhz if first_mhz > 0.0 else last_mhz / 1000.0
    last = last_mhz if last_mhz > first else first * 10.0
    step = _round_step((most - least) / _MOST_STEPS)
    bottom, top = math.floor(least / step) * step, math.ceil(most / step) * step
    return Scale(first, last, bottom, top if top > bottom else bottom + step, step)


def _round_step(least: float) -> float:
    if not least > 0.0:
        return 1.0
    power = 10.0 ** math.floor(math.log10(least))
    return next((power * one for one in _STEPS if power * one >= least), power * 10.0)


def column(x: Floats, columns: int) -> Counts:
    """In which of so many columns of the field each place lies, [n]."""
    return np.floor((x - LEFT) * columns / (RIGHT - LEFT)).astype(np.intp)
