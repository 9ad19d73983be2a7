"""Curves that no measurement yields: the same as another of the record, or the same throughout."""

from collections.abc import Iterator, Mapping, Sequence
from functools import reduce

import numpy as np

from sweepbook.judging.curves import F64, OWN_LOSSES, Curves, same_axis
from sweepbook.judging.doubt_words import curve_of, path_of, shown
from sweepbook.judging.physics import Bounds
from sweepbook.judging.twin_rows import (
    KEPT,
    ROUNDING,
    STEADY,
    Row,
    Same,
    candidates,
    held,
    last_digits,
)
from sweepbook.judging.working import Doubt, DoubtKind

MOST_POINTS = 10_000
"""Curves of more points are looked at a parameter at a time."""


def twins(measured: Mapping[str, Curves], bounds: Bounds) -> Iterator[Doubt]:
    """Yield one doubt for every set of curves that are the same.

    FEXT of a combination and that of the reciprocal one at the other end are one figure of a
    reciprocal link, and so is the insertion loss of a pair from either end; they may be exported
    from one measurement.

    Args:
        measured: curves of the record as exported.
        bounds: how many shared points make twins, what share of them has to be the same, but for
            how great an offset, and through how many values.
    """
    own = [measured[parameter] for parameter in OWN_LOSSES if parameter in measured]
    for curves in own:
        yield from _flat(curves, bounds.twin_points)
    steady = [measured[parameter] for parameter in STEADY if parameter in measured]
    for groups in _at_once(_on_one_axis(own), steady):
        yield from _alike(groups, bounds)


def _at_once(own: list[Curves], steady: list[Curves]) -> list[list[Curves]]:
    """The curves that are looked at together: all of them, where all of one axis are few."""
    every = [*own, *steady]
    axes = {id(curves.frequency_mhz) for curves in every}
    few = sum(len(curves.keys) for curves in every) <= KEPT
    if len(axes) == 1 and few and every[0].frequency_mhz.size <= MOST_POINTS:
        return [every]
    return [own, *([curves] for curves in steady)]


def _flat(curves: Curves, least_points: int) -> Iterator[Doubt]:
    for row in flat(curves, least_points):
        values = curves.value[row, ~np.isnan(curves.value[row])]
        text = (
            f"{curve_of(curves.keys[row])} is {shown(values[0])} dB at all of {values.size} "
            "points, and no measurement is"
        )
        yield Doubt(DoubtKind.FLAT, path_of(curves, row), text)


def flat(curves: Curves, least_points: int) -> list[int]:
    """Rows of one value throughout; a clipped point says nothing, so that its curve is not one."""
    found: list[int] = []
    if not curves.frequency_mhz.size:
        return found
    rows = np.arange(len(curves.keys))
    if curves.whole:
        rows = np.flatnonzero([a == b for a, b in zip(curves.least, curves.most, strict=True)])
        if not rows.size:
            return found
    values = curves.value[rows]
    least, most = (extreme.reduce(values, axis=1) for extreme in (np.fmin, np.fmax))
    for row in rows[least == most].tolist():
        there = ~np.isnan(curves.value[row])
        bounded = np.isfinite(curves.low[row, there]) & np.isfinite(curves.high[row, there])
        if there.sum() >= least_points and bounded.all():
            found.append(row)
    return found


def _alike(groups: Sequence[Curves], bounds: Bounds) -> Iterator[Doubt]:
    """Doubts about curves of one axis; steady ones are held against those of their parameter."""
    keys = tuple([key for curves in groups for key in curves.keys])
    if len(keys) < 2:
        return
    apart = np.concatenate([last_digits(curves) for curves in groups])
    apart = bounds.twin_digits * apart + ROUNDING
    near = candidates([curves.value for curves in groups], keys, apart, bounds.twin_share)
    if not near:
        return
    rows = [Row(curves, row) for curves in groups for row in range(len(curves.keys))]
    seen: set[int] = set()
    for row, others in near.items():
        if row in seen:
            continue
        least = bounds.twin_values if keys[row].parameter in STEADY else 1
        same: dict[int, Same] = {}
        for other in others:
            most = max(apart[row], apart[other])
            found = None if other in seen else held(rows[row], rows[other], most, bounds, least)
            if found:
                same[other] = found
        if same:
            seen.update(same)
            yield _doubt(rows, row, same)


def _on_one_axis(groups: Sequence[Curves]) -> list[Curves]:
    """Curves of several parameters on one axis: a column may be read for another parameter."""
    axis: F64 = reduce(_either, [one.frequency_mhz for one in groups], np.empty(0))
    return [one.on(axis) for one in groups]


def _either(one: F64, other: F64) -> F64:
    """The frequencies of either axis."""
    return other if same_axis(one, other) or not one.size else np.union1d(one, other)


def _doubt(rows: Sequence[Row], row: int, same: Mapping[int, Same]) -> Doubt:
    first = next(iter(same))
    more = len(same) - 1
    others = f" (and {more} more curve{'s' if more > 1 else ''})" if more else ""
    found = same[first]
    many = "all" if found.points == found.shared else f"{found.points}"
    but = f" but for {shown(abs(found.off_db))} dB" if abs(found.off_db) > ROUNDING else ""
    text = (
        f"{curve_of(rows[row].key)} and {curve_of(rows[first].key)}{others} are the same"
        f"{but} at {many} of {found.shared} points, and no two measurements are"
    )
    return Doubt(DoubtKind.COPY, path_of(*rows[row]), text)
