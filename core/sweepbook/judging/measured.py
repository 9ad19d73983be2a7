"""From the document of a record to matrices of curves, one a parameter.

A value printed with d decimals lies within half its last digit: [v - 10^-d / 2, v + 10^-d / 2], or
half the stated resolution where the source's unit was no decimal shift away; half of a coarser step
that the values keep to (see `padded`), where that is more. A clipped value opens
the interval on the side it was clipped to. Points may come in any order and a curve in several
sweeps; two values for one frequency leave the curve unable to prove a pass, unless they are of the
two orders in which NEXT can be measured.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import accumulate
from typing import Any

import numpy as np

from sweepbook.judging.bands import Band, Clipped, Digits, Given
from sweepbook.judging.complex_loss import Unreadable
from sweepbook.judging.curves import Curves, Key
from sweepbook.judging.derive import F64
from sweepbook.judging.padded import known_to
from sweepbook.judging.points import Points, points_of
from sweepbook.judging.rows import Rows
from sweepbook.limits.axes import shared_axis
from sweepbook.record.grids import of_grid, rises

WORSE_WHEN_HIGHER = frozenset({"insertion_loss", "propagation_delay", "delay_skew"})
"""Parameters of which the greater of two contradicting values is kept as the nominal one."""

ROUNDING_DB = 1e-6
"""Room for binary rounding when two values are compared; far below any printed digit."""


def measured(
    document: Mapping[str, Any], orders_apart_db: float = 0.0, step_values: int = 0
) -> tuple[dict[str, Curves], dict[str, str]]:
    """Read every sweep of a record.

    Args:
        document: of a record that follows its schema; number arrays are float64.
        orders_apart_db: NEXT given in both orders of its pairs is of one coupling, unless more than
            half of the points that both orders have are further apart than this.
        step_values: different values by which a sweep tells that it keeps to a coarser step than
            its last digit, see `padded`; 0 for digits as they are printed.

    Returns:
        Curves by parameter, those without any point left out; and the reason by JSON path of every
        sweep that cannot be used.
    """
    results = document.get("results", {})
    grids: dict[str, tuple[F64, bool]] = {}
    for grid in results.get("grids", ()):
        grids[grid["id"]] = (shared_axis(of_grid(grid)), rises(grid))
    found: list[Points] = []
    unread: dict[str, str] = {}
    for position, sweep in enumerate(results.get("sweeps", ())):
        try:
            points = points_of(position, sweep, *grids[sweep["grid"]])
        except Unreadable as problem:
            unread[f"$.results.sweeps[{position}]"] = problem.message
            continue
        if points.value.size:
            found.append(points)
    there: dict[str, list[Points]] = {}
    for points in known_to(found, step_values):
        there.setdefault(points.key.parameter, []).append(points)
    together = _together(there)
    return {
        name: _plain(name, sweeps, *together[name])
        if name in together
        else _joined(name, sweeps, orders_apart_db)
        for name, sweeps in there.items()
    }, unread


def _together(there: Mapping[str, Sequence[Points]]) -> dict[str, tuple[Rows, slice]]:
    """The parameters of which each curve is one sweep over the whole of one rising grid.

    The values of all those on one grid stand in one matrix; which of its rows are of a parameter.
    """
    by_axis: dict[int, list[str]] = {}
    for name, found in there.items():
        axis = found[0].frequency_mhz
        alike = all(points.plain and points.frequency_mhz is axis for points in found)
        if alike and len({points.key for points in found}) == len(found):
            by_axis.setdefault(id(axis), []).append(name)
    together: dict[str, tuple[Rows, slice]] = {}
    for names in by_axis.values():
        values = [points.value for name in names for points in there[name]]
        rows = Rows(np.concatenate(values).reshape(len(values), -1))
        starts = accumulate((len(there[name]) for name in names), initial=0)
        for name, start in zip(names, starts, strict=False):
            together[name] = rows, slice(start, start + len(there[name]))
    return together


def _plain(parameter: str, found: Sequence[Points], rows: Rows, own: slice) -> Curves:
    value = rows.value[own]
    return Curves(
        parameter,
        tuple([points.key for points in found]),
        found[0].frequency_mhz,
        value,
        _band(value, found),
        tuple([(points.sweep,) for points in found]),
        np.zeros(len(found), dtype=np.bool_),
        (rows, own),
    )


def _joined(parameter: str, found: Sequence[Points], orders_apart_db: float) -> Curves:
    keys = tuple(dict.fromkeys(points.key for points in found))
    straight, turned = ([one for one in found if one.turned is way] for way in (False, True))
    if not straight or not turned:
        return _merged(parameter, keys, found)
    one, other = _merged(parameter, keys, straight), _merged(parameter, keys, turned)
    return _of_both_orders(_merged(parameter, keys, found), one, other, orders_apart_db)


def _band(value: F64, found: Sequence[Points]) -> Band:
    """The ends of curves of one sweep each, whose values are float64[m, n]."""
    half = np.array([points.half for points in found])
    if any(points.ends is not None for points in found):
        low, high = (np.array(side) for side in zip(*(one.both for one in found), strict=True))
        return Given(low, high)
    runs = [(row, *run) for row, points in enumerate(found) for run in points.clipped]
    if not runs:
        return Digits(half)
    above, below = None, None
    for row, first, after, upwards in runs:
        if upwards:
            above = np.zeros(value.shape, dtype=np.bool_) if above is None else above
            above[row, first:after] = True
        else:
            below = np.zeros(value.shape, dtype=np.bool_) if below is None else below
            below[row, first:after] = True
    return Clipped(half, above, below)


def _of_both_orders(whole: Curves, one: Curves, other: Curves, apart_db: float) -> Curves:
    """The whole, whose curves have a frequency twice where one order has, or the two disagree."""
    first, second = one.on(whole.frequency_mhz).value, other.on(whole.frequency_mhz).value
    shared = ~np.isnan(first) & ~np.isnan(second)
    with np.errstate(invalid="ignore"):
        far = shared & (np.abs(first - second) > apart_db + ROUNDING_DB)
    disagree = 2 * np.count_nonzero(far, axis=1) > np.count_nonzero(shared, axis=1)
    return replace(whole, repeated=one.repeated | other.repeated | disagree)


def _merged(parameter: str, keys: tuple[Key, ...], found: Sequence[Points]) -> Curves:
    """Curves on the union of their axes; several values for one frequency become their hull."""
    axis = np.unique(np.concatenate([points.frequency_mhz for points in found]))
    shape = (len(keys), axis.size)
    least, most, low, high = (np.full(shape, np.nan) for _ in range(4))
    repeated = np.zeros(len(keys), dtype=np.bool_)
    sweeps: list[tuple[int, ...]] = [()] * len(keys)
    for points in found:
        row = keys.index(points.key)
        place = np.searchsorted(axis, points.frequency_mhz)
        np.fmin.at(least[row], place, points.value)
        np.fmax.at(most[row], place, points.value)
        ends = points.both
        np.fmin.at(low[row], place, ends.low)
        np.fmax.at(high[row], place, ends.high)
        repeated[row] |= np.unique(place).size != place.size
        sweeps[row] = (*sweeps[row], points.sweep)
    with np.errstate(invalid="ignore"):
        repeated |= (most > least).any(axis=1)
    value = most if parameter in WORSE_WHEN_HIGHER else least
    return Curves(parameter, keys, axis, value, Given(low, high), tuple(sweeps), repeated)
