"""Curves that no measurement yields: the same as another of the record, or the same throughout."""

from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache, reduce
from typing import NamedTuple

import numpy as np

from sweepbook.judging.bands import LEAST_ABOVE, LEAST_BELOW, MOST_ABOVE, MOST_BELOW
from sweepbook.judging.curves import F64, OTHER_END, OWN_LOSSES, Curves, Flags, Key, same_axis
from sweepbook.judging.derive import Places
from sweepbook.judging.doubt_words import curve_of, path_of, shown
from sweepbook.judging.physics import Bounds
from sweepbook.judging.working import Doubt, DoubtKind

STEADY = ("insertion_loss", "propagation_delay")
"""Pairs of one cable may well agree in these where the digits are coarse or the link is short."""

_ROUNDING = 1e-6
"""Room for binary rounding, far below any printed digit."""
_KEPT = 100
"""The pairs of so many rows are kept."""
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
    yield from _alike(_on_one_axis(own), bounds, 1)
    for parameter in STEADY:
        if parameter in measured:
            yield from _alike([measured[parameter]], bounds, bounds.twin_values)


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
        rows = np.flatnonzero(curves.value[:, 0] == curves.value[:, -1])
    values = curves.value[rows]
    least, most = (extreme.reduce(values, axis=1) for extreme in (np.fmin, np.fmax))
    for row in rows[least == most].tolist():
        there = ~np.isnan(curves.value[row])
        bounded = np.isfinite(curves.low[row, there]) & np.isfinite(curves.high[row, there])
        if there.sum() >= least_points and bounded.all():
            found.append(row)
    return found


class _Row(NamedTuple):
    """One of the curves that are held against each other."""

    curves: Curves
    row: int

    @property
    def key(self) -> Key:
        """What it is of."""
        return self.curves.keys[self.row]

    @property
    def is_clipped(self) -> bool:
        """Whether a point of it may be known from one side only, or not at all."""
        return bool(np.isinf(self.curves.reach[[MOST_BELOW, MOST_ABOVE], self.row]).any())

    @property
    def exact(self) -> Flags:
        """bool[n], where it is known from both sides."""
        low, high = (np.isfinite(end[self.row]) for end in self.curves.ends)
        known: Flags = low & high
        return known


def _alike(groups: Sequence[Curves], bounds: Bounds, least_values: int) -> Iterator[Doubt]:
    """Doubts about curves of one axis."""
    rows = [_Row(curves, row) for curves in groups for row in range(len(curves.keys))]
    apart = np.concatenate([np.empty(0), *map(_last_digits, groups)])
    apart = bounds.twin_digits * apart + _ROUNDING
    seen: set[int] = set()
    for row, others in _candidates(groups, rows, apart, bounds.twin_share).items():
        if row in seen:
            continue
        alike = [other for other in others if other not in seen]
        same = {
            other: found
            for other in alike
            if (
                found := _same(
                    rows[row], rows[other], max(apart[row], apart[other]), bounds, least_values
                )
            )
        }
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


def _last_digits(curves: Curves) -> F64:
    """float64[m]: the last digit of each curve, the finest of its points; 0 for none."""
    half = np.minimum(curves.reach[LEAST_BELOW], curves.reach[LEAST_ABOVE])
    return np.where(np.isfinite(half), 2.0 * half, 0.0)


def _candidates(
    groups: Sequence[Curves], rows: Sequence[_Row], apart: F64, share: float
) -> dict[int, list[int]]:
    """By row, the later rows that are near it at half of some points, or have none there.

    Args:
        groups: curves on one axis, m in all.
        rows: the same, one by one.
        apart: float64[m], how far another may be off to be near.
        share: part of the points at which twins are the same. Of that many times fewer points
            those at which they differ are less than half.
    """
    found: dict[int, list[int]] = {}
    if len(rows) < 2:
        return found
    size, wanted = groups[0].frequency_mhz.size, max(3, _MOST // len(rows) ** 2)
    stride = max(1, int(1.0 / (2.0 * max(1.0 - share, 0.05))), size // wanted)
    samples = np.concatenate([one.value[:, ::stride] for one in groups])
    whole = all(one.whole for one in groups)
    for first, second in _pairs(len(rows), max(1, _MOST // 8 // max(1, samples.shape[1]))):
        off = np.abs(samples[first] - samples[second])
        near = np.count_nonzero(off <= np.maximum(apart[first], apart[second])[:, None], axis=1)
        known = samples.shape[1] if whole else np.count_nonzero(np.isfinite(off), axis=1)
        for place in np.flatnonzero(2 * near >= known).tolist():
            row, other = int(first[place]), int(second[place])
            if not _reciprocal(rows[row].key, rows[other].key):
                found.setdefault(row, []).append(other)
    return found


def _pairs(count: int, at_once: int) -> Iterator[tuple[Places, Places]]:
    """(earlier, later) of every two of so many rows, in order, so many at once."""
    if count <= _KEPT:
        first, second = _every_two(count)
        for start in range(0, first.size, at_once):
            yield first[start : start + at_once], second[start : start + at_once]
        return
    for row in range(count):
        for start in range(row + 1, count, at_once):
            others = np.arange(start, min(start + at_once, count))
            yield np.full(others.size, row), others


@lru_cache(maxsize=64)
def _every_two(count: int) -> tuple[Places, Places]:
    """Kept, since most tests hold as many curves."""
    return np.triu_indices(count, 1)


def _same(one: _Row, other: _Row, apart: float, bounds: Bounds, least_values: int) -> _Same | None:
    """How far two curves are the same where both have a point; None where they are not.

    A number at which both are clipped counts once: it may be where the range of the tester ends.
    """
    first, second = (each.curves.value[each.row] for each in (one, other))
    shared = np.isfinite(first) & np.isfinite(second)
    if one.is_clipped and other.is_clipped:
        ends = np.flatnonzero(shared & ~(one.exact | other.exact) & (first == second))
        shared[ends] = False
        shared[ends[np.unique(first[ends], return_index=True)[1]]] = True
    values, off = first[shared], (first - second)[shared]
    size = off.size
    if size < bounds.twin_points:
        return None
    if not off.any():
        return _Same(size, size, 0.0) if np.unique(values).size >= least_values else None
    if one.key.parameter == "propagation_delay":
        return None
    middle = float(np.partition(off, size // 2)[size // 2])
    alike = np.abs(off - middle) <= _ROUNDING
    points = int(np.count_nonzero(alike))
    few = points < bounds.twin_share * size or abs(middle) > apart
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


def _doubt(rows: Sequence[_Row], row: int, same: Mapping[int, _Same]) -> Doubt:
    first = next(iter(same))
    more = len(same) - 1
    others = f" (and {more} more curve{'s' if more > 1 else ''})" if more else ""
    found = same[first]
    many = "all" if found.points == found.shared else f"{found.points}"
    but = f" but for {shown(abs(found.off_db))} dB" if abs(found.off_db) > _ROUNDING else ""
    text = (
        f"{curve_of(rows[row].key)} and {curve_of(rows[first].key)}{others} are the same"
        f"{but} at {many} of {found.shared} points, and no two measurements are"
    )
    return Doubt(DoubtKind.COPY, path_of(*rows[row]), text)
