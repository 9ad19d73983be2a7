"""Curves that no measurement yields: the same as another of the record, or the same throughout."""

from collections.abc import Iterator, Mapping, Sequence
from functools import reduce
from typing import NamedTuple

import numpy as np

from sweepbook.judging.bands import Given
from sweepbook.judging.curves import F64, OTHER_END, OWN_LOSSES, Curves, Key
from sweepbook.judging.doubt_words import curve_of, path_of, shown
from sweepbook.judging.physics import Bounds
from sweepbook.judging.working import Doubt, DoubtKind

STEADY = ("insertion_loss", "propagation_delay")
"""Pairs of one cable may well agree in these where the digits are coarse or the link is short."""

_ROUNDING = 1e-6
"""Room for binary rounding, far below any printed digit."""
_STRIDE = 5
"""One point of so many shows which curves may be the same: a few changed ones cannot hide it."""
_MOST = 20_000_000
"""Values that are held against each other in one go; a hostile record may have any number."""


class _Same(NamedTuple):
    """At how many of the shared points two curves are the same, and by how much they are off."""

    points: int
    shared: int
    off_db: float


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
    yield from _alike(_together(own), bounds, 1)
    for parameter in STEADY:
        if parameter in measured:
            yield from _alike(measured[parameter], bounds, bounds.twin_values)


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


def _alike(curves: Curves, bounds: Bounds, least_values: int) -> Iterator[Doubt]:
    seen: set[int] = set()
    apart = bounds.twin_digits * _last_digits(curves) + _ROUNDING
    for row, others in _candidates(curves, apart).items():
        if row in seen:
            continue
        alike = [other for other in others if other not in seen]
        same = {
            other: found
            for other in alike
            if (found := _same(curves, (row, other), apart, bounds, least_values))
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
        Given(low, high),
        tuple(sweeps for one in moved for sweeps in one.sweeps),
        np.zeros(len(value), dtype=np.bool_),
    )


def _last_digits(curves: Curves) -> F64:
    """float64[m]: the last digit of each curve, the finest of its points; 0 for none."""
    half = np.minimum(curves.value - curves.low, curves.high - curves.value)
    least = np.where(np.isfinite(half), half, np.inf).min(axis=1, initial=np.inf)
    return np.where(np.isfinite(least), 2.0 * least, 0.0)


def _candidates(curves: Curves, apart: F64) -> dict[int, list[int]]:
    """By row, the later rows that are near it at half of some points, or have none there.

    Args:
        curves: m curves.
        apart: float64[m], how far another may be off to be near.
    """
    size, rows = curves.frequency_mhz.size, len(curves.keys)
    wanted = max(3, _MOST // max(1, rows) ** 2)
    samples = curves.value[:, :: max(_STRIDE, size // wanted)]
    at_once = max(1, _MOST // 8 // max(1, samples.size))
    found: dict[int, list[int]] = {}
    for start in range(0, rows, at_once):
        block = slice(start, start + at_once)
        off = np.abs(samples[block, None] - samples)
        known = np.isfinite(off)
        far = np.maximum(apart[block, None], apart)[:, :, None]
        near = np.count_nonzero(known & (off <= far), axis=2)
        alike = 2 * near >= np.count_nonzero(known, axis=2)
        for row, other in np.argwhere(np.triu(alike, start + 1)).tolist():
            if not _reciprocal(curves.keys[start + row], curves.keys[other]):
                found.setdefault(start + row, []).append(other)
    return found


def _same(
    curves: Curves, pair: tuple[int, int], apart: F64, bounds: Bounds, least_values: int
) -> _Same | None:
    """How far two curves are the same where both have a point; None where they are not.

    A number at which both are clipped counts once: it may be where the range of the tester ends.
    """
    rows = list(pair)
    first, second = curves.value[rows]
    shared = np.isfinite(first) & np.isfinite(second)
    exact = np.isfinite(curves.low[rows]) & np.isfinite(curves.high[rows])
    ends = np.flatnonzero(shared & ~exact.any(axis=0) & (first == second))
    shared[ends] = False
    shared[ends[np.unique(first[ends], return_index=True)[1]]] = True
    values, off = first[shared], (first - second)[shared]
    size = off.size
    if size < bounds.twin_points:
        return None
    if not off.any():
        return _Same(size, size, 0.0) if np.unique(values).size >= least_values else None
    if curves.parameter == "propagation_delay":
        return None
    middle = float(np.partition(off, size // 2)[size // 2])
    alike = np.abs(off - middle) <= _ROUNDING
    points = int(np.count_nonzero(alike))
    few = points < bounds.twin_share * size or abs(middle) > apart[rows].max()
    if few or np.unique(values[alike]).size < bounds.twin_values:
        return None
    return _Same(points, size, middle)


def _reciprocal(one: Key, other: Key) -> bool:
    if one.parameter in STEADY:
        return one.pairs == other.pairs
    return (
        one.parameter == other.parameter
        and one.parameter in ("fext", "acr_f")
        and other.end == OTHER_END.get(str(one.end))
        and other.pairs == one.pairs[::-1]
    )


def _doubt(curves: Curves, row: int, same: Mapping[int, _Same]) -> Doubt:
    first = next(iter(same))
    more = len(same) - 1
    others = f" (and {more} more curve{'s' if more > 1 else ''})" if more else ""
    found = same[first]
    many = "all" if found.points == found.shared else f"{found.points}"
    but = f" but for {shown(abs(found.off_db))} dB" if abs(found.off_db) > _ROUNDING else ""
    text = (
        f"{curve_of(curves.keys[row])} and {curve_of(curves.keys[first])}{others} are the same"
        f"{but} at {many} of {found.shared} points, and no two measurements are"
    )
    return Doubt(DoubtKind.COPY, path_of(curves, row), text)
