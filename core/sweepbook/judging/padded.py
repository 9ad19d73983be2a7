"""Sweeps that are printed with more digits than they are known to: 18.3000 for 18.3.

Digits of a measured curve fall as they like. Where many different values are all whole multiples of
a step that is more than the last digit printed, the values were rounded to it before.
"""

from collections import defaultdict
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from sweepbook.judging.derive import F64
from sweepbook.judging.points import Points

MOST_DECIMALS = 12
"""Of more a double holds no more than noise."""
LARGEST = 2.0**52
"""Up to here a double tells one whole number from the next."""
OFF = 0.01
"""How far a multiple may be off a whole number by the rounding of doubles."""
FEW = 8
"""Points that are looked at first: of most curves they rule a coarser step out."""


def known_to(sweeps: Sequence[Points], least_values: int) -> list[Points]:
    """The sweeps, each that keeps to a coarser step known to half of that.

    Args:
        sweeps: of one record; complex ones, whose ends are not made from digits, stay as they are.
        least_values: different values by which a step is told; 0 for digits as they are printed.
    """
    found = list(sweeps)
    by_size: dict[int, list[int]] = defaultdict(list)
    for place, points in enumerate(found):
        if points.ends is None and points.value.size >= max(least_values, FEW):
            by_size[points.value.size].append(place)
    for size, places in by_size.items() if least_values else ():
        few = np.array([found[place].value[:: size // FEW] for place in places])
        power = np.array([[_power(found[place].decimals)] for place in places])
        finer = np.array([found[place].half for place in places]) * 2.0 * power[:, 0] < 1.0 - OFF
        for place in np.compress(finer | (_steps(few, power) != 1), places).tolist():
            points = found[place]
            half = step_of(points.value, points.decimals, least_values) / 2.0
            if half > points.half:
                found[place] = points._replace(half=half)
    return found


def step_of(value: F64, decimals: int, least_values: int) -> float:
    """The greatest step that values are whole multiples of; 0.0 where too few tell it, or none.

    Args:
        value: float64[n].
        decimals: digits after the mark that they are printed with.
        least_values: different values by which a step is told.
    """
    power = _power(decimals)
    step = int(_steps(value[None], np.array([[power]]))[0])
    if not step or np.unique(value).size < least_values:
        return 0.0
    return step / power


def _power(decimals: int) -> float:
    return float(10 ** min(decimals, MOST_DECIMALS))


def _steps(value: F64, power: F64) -> NDArray[np.int64]:
    """In last digits, int64[m]: the step of values float64[m, n]; 0 where one is no multiple."""
    with np.errstate(all="ignore"):  # values beyond any measurement are no multiples
        digits = value * power
        whole = np.rint(digits)
        plain = (np.abs(digits - whole) <= OFF) & (np.abs(whole) < LARGEST)
    steps = np.gcd.reduce(np.where(plain, whole, 0.0).astype(np.int64), axis=1)
    return np.where(plain.all(axis=1), steps, 0)
