"""Readings that a sweep lacks although its own steps lead one to expect them.

A tester steps by one width, or by one ratio, over a stretch. Where a single step is much wider and
those on both sides of it are even, what was read between was lost, or left out.
"""

from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from sweepbook.judging.curves import F64, Curves, Flags
from sweepbook.judging.derive import Places
from sweepbook.judging.evaluate import Evaluation
from sweepbook.judging.working import Lack, LackKind
from sweepbook.limits.axes import axis_bytes

AROUND = 8
"""Steps on either side by which one is told to be too wide."""
FEWEST = 4
"""With fewer on a side nothing is told: sweeps begin and end as they like."""
EVEN = 0.1
"""How far an even step is off the median of its side, as a share of it."""
MOST_ARE_EVEN = 0.75
"""Share of the steps of a side that have to be even."""
WIDE = 1.75
"""How many times the wider one of both medians a step is that lacks a reading."""
ROUNDED = 1.5
"""And by how many last digits of the frequencies it is wider: rounding alone makes one."""
MOST = 50
"""Places of a curve at which it is looked at how far it dips; with more it may have failed."""
_MOST_DECIMALS = 6
_OFF = 1e-6
"""How far a multiple may be off a whole number by the rounding of doubles."""


class Lost(NamedTuple):
    """Where a sweep lacks readings.

    Attributes:
        place: of the reading before, on the axis.
        from_mhz, to_mhz: the readings on both sides.
        step_mhz: the step beside it, the wider one of both sides.
        readings: how many are lacking, by that step.
    """

    place: int
    from_mhz: float
    to_mhz: float
    step_mhz: float
    readings: int


def lost(axis: F64) -> tuple[Lost, ...]:
    """Where an axis lacks readings.

    Args:
        axis: float64[n] in MHz; one that does not rise strictly tells nothing.
    """
    return _lost(axis_bytes(axis))


def of_rows(curves: Curves) -> Iterator[tuple[int, Places, tuple[Lost, ...]]]:
    """Yield the curves that lack readings: row, the places of its own readings, what is lacking.

    A hole of a curve is a step from the reading before it to the one after it.
    """
    whole = lost(curves.frequency_mhz)
    if curves.whole and not whole:
        return
    every = np.arange(curves.frequency_mhz.size)
    for row in range(len(curves.keys)):
        there = every if curves.whole else np.flatnonzero(~curves.holes[row])
        found = whole
        if there.size < every.size:
            found = _lost(curves.frequency_mhz[there].tobytes())
        if found:
            yield row, there, found


def hiding(seen: Evaluation) -> Iterator[tuple[int, Lack]]:
    """Yield the rows that lack readings where one that fails may have been, with the first place.

    As far as the margin dips elsewhere on the curve between two readings that lie no further apart,
    with as many between, it may dip there.
    """
    curves = seen.curves
    for row, there, every in of_rows(curves):
        axis, margin = curves.frequency_mhz[there], seen.margin[row, there]
        many = len(every) > MOST
        one = next((one for one in every if many or _hides(axis, margin, one)), None)
        if one is not None:
            key, step = curves.keys[row], one.to_mhz - one.from_mhz
            figures = one.from_mhz, one.step_mhz, step
            yield row, Lack(key.parameter, key.end, key.pairs, LackKind.LOST, *figures)


def _hides(axis: F64, margin: F64, hole: Lost) -> bool:
    beside = margin[hole.place : hole.place + 2]
    return bool(np.isfinite(beside).all() and beside.min() < _deepest(axis, margin, hole))


def _deepest(axis: F64, margin: F64, hole: Lost) -> float:
    """How far the margin falls at most below both of two readings that lie so near."""
    apart = hole.readings + 1
    if axis.size <= apart:
        return 0.0
    between = np.lib.stride_tricks.sliding_window_view(margin[1:-1], hole.readings).min(axis=1)
    least = np.minimum(margin[:-apart], margin[apart:])
    near = axis[apart:] - axis[:-apart] <= (hole.to_mhz - hole.from_mhz) * (1.0 + EVEN)
    depth = np.where(near & np.isfinite(least) & np.isfinite(between), least - between, 0.0)
    return float(depth.max(initial=0.0))


@lru_cache(maxsize=256)
def _lost(axis: bytes) -> tuple[Lost, ...]:
    """Kept, since the links of a job share their axes."""
    points = np.frombuffer(axis, dtype=np.float64)
    if points.size < 2 * FEWEST + 2 or not (points[0] > 0.0 and np.isfinite(points[-1])):
        return ()
    steps = np.diff(points)
    if not (steps > 0.0).all():
        return ()
    lacking = {**_wide(np.diff(np.log(points))), **_wide(steps)}
    places = np.array(sorted(lacking), dtype=np.intp)
    usual = np.maximum(*(_beside(side)[0] for side in _sides(steps, places)))
    told = steps[places] - usual > ROUNDED * _last_digit(points)
    return tuple(
        Lost(place, float(points[place]), float(points[place + 1]), step, lacking[place])
        for place, step in zip(places[told].tolist(), usual[told].tolist(), strict=True)
    )


def _last_digit(points: F64) -> float:
    """The greatest of 1, 0.1, 0.01 and so on in MHz that all frequencies are multiples of."""
    for decimals in range(_MOST_DECIMALS):
        shifted = points * 10.0**decimals
        if (np.abs(shifted - np.rint(shifted)) <= _OFF).all():
            return 10.0**-decimals
    return 10.0**-_MOST_DECIMALS


def _wide(steps: F64) -> dict[int, int]:
    """Places of steps that are too wide among even ones, each with the readings that it lacks."""
    wider = steps[1:-1] > WIDE * np.minimum(steps[:-2], steps[2:])
    places = np.flatnonzero(wider) + 1
    sides = [_beside(side) for side in _sides(steps, places)]
    usual, even = (np.stack(each) for each in zip(*sides, strict=True))
    told = even.all(axis=0) & (steps[places] > WIDE * usual.max(axis=0))
    lacking = np.rint(steps[places[told]] / usual[:, told].mean(axis=0)).astype(np.intp) - 1
    return dict(zip(places[told].tolist(), lacking.tolist(), strict=True))


def _sides(steps: F64, places: Places) -> tuple[F64, F64]:
    """The steps before some, and those after: float64[k, AROUND], NaN beyond the ends."""
    padded = np.pad(steps, AROUND, constant_values=np.nan)
    windows = np.lib.stride_tricks.sliding_window_view(padded, AROUND)
    return windows[places], windows[places + AROUND + 1]


def _beside(steps: F64) -> tuple[F64, Flags]:
    """The median of each row of steps, float64[k], and whether enough of them are even."""
    there = np.isfinite(steps)
    count = there.sum(axis=1)
    row, risen = np.arange(len(steps)), np.sort(steps, axis=1)  # what is not there comes last
    lower, upper = np.maximum(count - 1, 0) // 2, np.minimum(count // 2, AROUND - 1)
    median = (risen[row, lower] + risen[row, upper]) / 2.0
    even = (np.abs(steps - median[:, None]) <= EVEN * median[:, None]).sum(axis=1)
    return median, (count >= FEWEST) & (even >= MOST_ARE_EVEN * count)
