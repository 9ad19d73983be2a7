"""Curves that no measurement yields: the same as another of the record, or the same throughout."""

from collections.abc import Iterator, Mapping, Sequence
from functools import reduce

import numpy as np

from sweepbook.judging.curves import F64, OTHER_END, OWN_LOSSES, Curves, Key
from sweepbook.judging.doubt_words import curve_of, path_of, shown
from sweepbook.judging.physics import Bounds
from sweepbook.judging.working import Doubt, DoubtKind

STEADY = ("insertion_loss", "propagation_delay")
"""Pairs of one cable may well agree in these where the digits are coarse or the link is short."""

_AT_ONCE = 64
"""Curves that are held against all others at once; a hostile record may have any number."""


def twins(measured: Mapping[str, Curves], bounds: Bounds) -> Iterator[Doubt]:
    """Yield one doubt for every set of curves that are the same.

    FEXT of a combination and that of the reciprocal one at the other end are one figure of a
    reciprocal link, and so is the insertion loss of a pair from either end; they may be exported
    from one measurement.

    Args:
        measured: curves of the record as exported.
        bounds: how many shared points, all of one value in both and not clipped, make twins, and
            for losses and delays that rise steadily through how many values.
    """
    own = [measured[parameter] for parameter in OWN_LOSSES if parameter in measured]
    for curves in own:
        yield from _flat(curves, bounds.twin_points)
    yield from _alike(_together(own), bounds.twin_points, 1)
    for parameter in STEADY:
        if parameter in measured:
            yield from _alike(measured[parameter], bounds.twin_points, bounds.twin_values)


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
    least, most = (extreme.reduce(curves.value, axis=1) for extreme in (np.fmin, np.fmax))
    for row in np.flatnonzero(least == most).tolist():
        there = ~np.isnan(curves.value[row])
        bounded = np.isfinite(curves.low[row, there]) & np.isfinite(curves.high[row, there])
        if there.sum() >= least_points and bounded.all():
            found.append(row)
    return found


def _alike(curves: Curves, least_points: int, least_values: int) -> Iterator[Doubt]:
    seen: set[int] = set()
    for row, others in _candidates(curves).items():
        if row in seen:
            continue
        alike = [other for other in others if other not in seen]
        same = {
            other: n
            for other in alike
            if (n := _same(curves, row, other, least_points, least_values))
        }
        if same:
            seen.update(same)
            yield _doubt(curves, row, same)


def _together(groups: Sequence[Curves]) -> Curves:
    """Curves of several parameters on one axis: a column may be read for another parameter."""
    axes = [one.frequency_mhz for one in groups]
    axis: F64 = reduce(np.union1d, axes) if axes else np.empty(0)
    moved = [one.on(axis) for one in groups]
    value, low, high = (
        np.concatenate([np.empty((0, axis.size)), *(getattr(one, name) for one in moved)])
        for name in ("value", "low", "high")
    )
    return Curves(
        "",
        tuple(key for one in moved for key in one.keys),
        axis,
        value,
        low,
        high,
        tuple(sweeps for one in moved for sweeps in one.sweeps),
        np.zeros(len(value), dtype=np.bool_),
    )


def _candidates(curves: Curves) -> dict[int, list[int]]:
    """By row, the later rows that agree with it at three points, or have none there."""
    size = curves.frequency_mhz.size
    samples = curves.value[:, sorted({size // 4, size // 2, 3 * size // 4} if size else ())]
    unknown = np.isnan(samples)
    found: dict[int, list[int]] = {}
    for start in range(0, len(samples), _AT_ONCE):
        block = slice(start, start + _AT_ONCE)
        known = ~(unknown[block, None] | unknown)
        alike = ~((samples[block, None] != samples) & known).any(axis=2)
        for row, other in np.argwhere(np.triu(alike, start + 1)).tolist():
            if not _reciprocal(curves.keys[start + row], curves.keys[other]):
                found.setdefault(start + row, []).append(other)
    return found


def _same(curves: Curves, one: int, other: int, least_points: int, least_values: int) -> int:
    """The number of shared points if the curves are the same there, else 0."""
    first, second = curves.value[one], curves.value[other]
    both = ~np.isnan(first) & ~np.isnan(second)
    for row in (one, other):
        both &= np.isfinite(curves.low[row]) & np.isfinite(curves.high[row])
    points = int(np.count_nonzero(both))
    if points < least_points or not (first[both] == second[both]).all():
        return 0
    return points if least_values < 2 or np.unique(first[both]).size >= least_values else 0


def _reciprocal(one: Key, other: Key) -> bool:
    if one.parameter in STEADY:
        return one.pairs == other.pairs
    return (
        one.parameter == other.parameter
        and one.parameter in ("fext", "acr_f")
        and other.end == OTHER_END.get(str(one.end))
        and other.pairs == one.pairs[::-1]
    )


def _doubt(curves: Curves, row: int, same: Mapping[int, int]) -> Doubt:
    first = next(iter(same))
    more = len(same) - 1
    others = f" (and {more} more curve{'s' if more > 1 else ''})" if more else ""
    text = (
        f"{curve_of(curves.keys[row])} and {curve_of(curves.keys[first])}{others} are the same at "
        f"all of {same[first]} points, and no two measurements are"
    )
    return Doubt(DoubtKind.COPY, path_of(curves, row), text)
