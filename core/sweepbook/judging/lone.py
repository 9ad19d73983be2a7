"""Single readings off the curve on which those beside them lie, as where a decimal mark was lost.

The power that comes back from a link, or goes through it, is that of a sum of waves whose delays
the link bounds. Over frequency it is smooth therefore, at a null too, where it touches 0 as a
parabola does; so the readings beside one lead to it. How well they do, the fourth differences of
those near by tell. A reading that is off by many times as much was not read there: its point is
kept, known between no bounds. The figures were measured on models of links; no source.
"""

import math
from collections.abc import Iterator, Mapping
from typing import NamedTuple

import numpy as np

from sweepbook.judging.curves import F64, Curves
from sweepbook.judging.derive import Places
from sweepbook.judging.doubt_words import curve_of, path_of, shown
from sweepbook.judging.limit_line import where_held
from sweepbook.judging.phrases import frequency
from sweepbook.judging.placeholders import COARSEST_DB, IN_NS
from sweepbook.judging.working import Doubt, DoubtKind
from sweepbook.limits.model import LimitTable

STEP_DB = 25.0
"""How far from both beside it a reading stands that is looked at, above them or below."""
TIMES = 20.0
"""How many times as far off as those near by one is that is none, if it is too good."""
TIMES_MEANT = 3.0
"""The same of one that is what it is led to but for its decimal mark, be it too good or too bad."""
MEANT = 0.1
"""How near a moved decimal mark brings a reading to what those beside it lead to, by this share."""
MOVES = (10.0, 100.0, 0.1, 0.01)
"""What a lost or wandered mark multiplies by."""
NO_NULL = 0.95
"""They lead into no null if to this share of the lesser power beside it: 1, but for digits."""
REACH = 10
"""Readings on either side that tell of one."""
FEWEST = 6
"""Fourth differences without it that have to be there: those of one side."""


class _Lone(NamedTuple):
    """A reading that is none: its curve, its point, what it is led to, and what was meant."""

    row: int
    at: int
    led_to_db: float
    meant_db: float | None


def lone_readings(
    measured: Mapping[str, Curves], table: LimitTable | None
) -> tuple[dict[str, Curves], tuple[Doubt, ...]]:
    """Take the bounds from every point whose reading stands alone.

    Args:
        measured: curves of a record by parameter.
        table: points outside the range of its limit are passed over; None for none.

    Returns:
        The curves, and one doubt for each such reading.
    """
    curves = dict(measured)
    doubts: list[Doubt] = []
    for name, one in measured.items():
        found = [] if name in IN_NS else list(_of(one, table))
        if found:
            low, high = one.low.copy(), one.high.copy()
            for lone in found:
                low[lone.row, lone.at], high[lone.row, lone.at] = -np.inf, np.inf
            curves[name] = one.within(low, high)
            doubts.extend(_doubt(one, lone) for lone in found)
    return curves, tuple(doubts)


def _of(curves: Curves, table: LimitTable | None) -> Iterator[_Lone]:
    """The readings of some curves that stand alone within the range of their limit."""
    for row, step in enumerate(curves.steepest):
        if curves.whole and step < STEP_DB:
            continue
        there = np.flatnonzero(np.isfinite(curves.value[row]))
        value, mhz = curves.value[row, there], curves.frequency_mhz[there]
        for place in _standing_out(value):
            inside = where_held(curves, table)
            at = int(there[place])
            if not inside.start <= at < inside.stop:
                continue
            near = slice(max(place - REACH, 0), place + REACH + 1)
            lower_is_better = curves.parameter == "insertion_loss"
            told = _told(mhz[near], value[near], place - near.start, lower_is_better)
            if told is not None and _is_exact(curves, row, there[near]):
                yield _Lone(row, at, *told)


def _is_exact(curves: Curves, row: int, columns: Places) -> bool:
    """Whether readings are in fine digits, and none of them clipped or no reading."""
    low, high = curves.ends_of(row)
    return bool((high - low)[columns].max() <= COARSEST_DB * (1.0 + 1e-6))


def _standing_out(value: F64) -> list[int]:
    """Places of values far above both neighbours, or far below both.

    Of the first and last the one neighbour tells.

    Args:
        value: float64[n] in dB, finite.
    """
    with np.errstate(over="ignore"):
        step = value[1:] - value[:-1]
    great = np.flatnonzero(np.abs(step) >= STEP_DB)
    rises = dict(zip(great.tolist(), (step[great] > 0.0).tolist(), strict=True))
    return sorted(
        place
        for place in {*rises, *(before + 1 for before in rises)}
        if place in (0, step.size) or {rises.get(place - 1), rises.get(place)} == {True, False}
    )


def _told(
    mhz: F64, value: F64, at: int, lower_is_better: bool
) -> tuple[float, float | None] | None:
    """What a reading is led to in dB, and what was meant; None where it may be on its curve.

    Led to it is by the cubic through the four nearest others, from which a fourth divided
    difference tells how far it is (Newton's form of the polynomial; any textbook on numerics).

    Args:
        mhz: float64[n], rising.
        value: float64[n] in dB, that reading and those on either side.
        at: which of them it is.
        lower_is_better: of an insertion loss.
    """
    with np.errstate(over="ignore", under="ignore", invalid="ignore"):
        power = np.power(10.0, value / -10.0)
        fourth = power
        for order in range(1, 5):
            fourth = np.diff(fourth) / (mhz[order:] - mhz[:-order])
        without = np.abs(np.concatenate((fourth[: max(at - 4, 0)], fourth[at + 1 :])))
        if without.size < FEWEST:
            return None
        first = min(max(at - 2, 0), fourth.size - 1)
        others = np.delete(mhz[first : first + 5], at - first)
        led_to = float(power[at] - fourth[first] * np.prod(mhz[at] - others))
    beside = min(float(power[one]) for one in (at - 1, at + 1) if 0 <= one < power.size)
    if not led_to >= NO_NULL * beside > 0.0:
        return None
    led_to_db = -10.0 * math.log10(led_to)
    moved = [float(value[at]) / by for by in MOVES]
    meant = next((one for one in moved if abs(one - led_to_db) <= MEANT * led_to_db), None)
    times = TIMES_MEANT
    if meant is None:
        if lower_is_better == bool(power[at] < beside):
            return None
        times = TIMES
    return (led_to_db, meant) if abs(fourth[first]) >= times * without.max() else None


def _doubt(curves: Curves, lone: _Lone) -> Doubt:
    value, at_mhz = curves.value[lone.row, lone.at], curves.frequency_mhz[lone.at]
    text = (
        f"{curve_of(curves.keys[lone.row])} is {shown(value)} dB at {frequency(float(at_mhz))}, "
        f"where the readings beside it lead to {lone.led_to_db:.1f} dB, and no link turns so "
        "within a step"
    )
    if lone.meant_db is not None:
        text += f"; its decimal mark seems to be lost, and {shown(lone.meant_db)} dB to be meant"
    return Doubt(DoubtKind.CONTRADICTION, path_of(curves, lone.row), text)
