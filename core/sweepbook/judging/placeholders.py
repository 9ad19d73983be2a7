"""Figures that stand for no value, such as 99.99 or 0, where the source did not say so.

Such a figure is no reading. Its points are kept, known between no bounds, so that they prove
neither a pass nor a fail, and nor does what is made from them there.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from sweepbook.judging.bands import Digits
from sweepbook.judging.curves import F64, Curves, Flags
from sweepbook.judging.doubt_words import curve_of, path_of, shown
from sweepbook.judging.limit_line import where_held
from sweepbook.judging.physics import Bounds
from sweepbook.judging.working import Doubt, DoubtKind
from sweepbook.limits.model import LimitTable

IN_NS = frozenset({"propagation_delay", "delay_skew"})
COARSEST_DB = 0.1
"""With coarser digits two notches may well be alike."""


@dataclass(frozen=True, slots=True)
class _Found:
    """One value of one curve, and the points at which it stands for none."""

    row: int
    value: float
    at: Flags
    step: float | None


def placeholders(
    measured: Mapping[str, Curves], bounds: Bounds, table: LimitTable | None
) -> tuple[dict[str, Curves], tuple[Doubt, ...]]:
    """Take the bounds from every point whose figure is no reading.

    Args:
        measured: curves of a record by parameter.
        bounds: how many points, and how far from what lies beside them.
        table: points outside the range of its limit are passed over; None for none.

    Returns:
        The curves, and one doubt for each value that is no reading.
    """
    curves = dict(measured)
    doubts: list[Doubt] = []
    for name, one in measured.items():
        if name in IN_NS or not one.frequency_mhz.size:
            continue
        inside = where_held(one, table)
        found = list(_of(one, inside, bounds))
        if found:
            curves[name] = _opened(one, found)
            doubts.extend(_doubt(one, item) for item in found)
        if name == "insertion_loss":
            doubts.extend(_doubt(one, item) for item in _level(one, inside, bounds))
    return curves, tuple(doubts)


def _of(curves: Curves, inside: slice, bounds: Bounds) -> Iterator[_Found]:
    for row in _with_steps(curves, inside, bounds):
        there = np.zeros(curves.frequency_mhz.size, dtype=np.bool_)
        there[inside] = True if curves.whole else ~curves.holes[row, inside]
        values = curves.value[row, there]
        for value in _beside_steps(values, bounds):
            if np.count_nonzero(values == value) < bounds.missing_points_apart:
                continue  # read or not
            alike = _read(curves, row, inside) & (curves.value[row] == value)
            if np.count_nonzero(alike) < bounds.missing_points_apart:
                continue
            near, apart = _steps(values, alike[there])
            least = bounds.missing_zero_db if value == 0.0 else bounds.missing_step_db
            many = np.count_nonzero(alike) >= bounds.missing_points
            if (many and near >= least) or apart >= bounds.missing_step_db:
                yield _Found(row, value, alike, near)


def _read(curves: Curves, row: int, inside: slice) -> Flags:
    """bool[n]: points of a curve inside a range that are neither clipped nor holes."""
    read = np.zeros(curves.frequency_mhz.size, dtype=np.bool_)
    low, high = curves.ends_of(row)
    read[inside] = high[inside] - low[inside] <= COARSEST_DB * (1.0 + 1e-6)
    return read


def _level(curves: Curves, inside: slice, bounds: Bounds) -> Iterator[_Found]:
    """Insertion losses that stay level where copper's rises by the root of the frequency.

    It may be where the range of the tester ends, so that what is too great there stays a fail.
    """
    axis = curves.frequency_mhz
    for row in _with_level(curves, inside, bounds.twin_points):
        points = np.flatnonzero(_read(curves, row, inside) & (axis > 0.0))
        if not points.size:
            continue
        values = curves.value[row, points]
        starts = np.flatnonzero(np.append(True, values[1:] != values[:-1]))
        sizes = np.diff(np.append(starts, values.size))
        for number in np.flatnonzero(sizes >= bounds.twin_points).tolist():
            start = starts[number]
            run = points[start : start + sizes[number]]
            rise = values[start] * (np.sqrt(axis[run[-1]] / axis[run[0]]) - 1.0)
            if rise > bounds.level_rise_db:
                alike = np.zeros(axis.size, dtype=np.bool_)
                alike[run] = True
                yield _Found(row, float(values[start]), alike, None)


def _with_level(curves: Curves, inside: slice, least_points: int) -> list[int]:
    """Rows that may have one value at so many points in a row; with holes any may."""
    values = curves.value[:, inside]
    if not (curves.whole and isinstance(curves.band, Digits)):
        return list(range(len(curves.keys)))
    later = least_points - 1
    alike = values[:, later:] == values[:, : max(0, values.shape[1] - later)]
    return _rows(alike)


def _with_steps(curves: Curves, inside: slice, bounds: Bounds) -> list[int]:
    """Rows with a step between neighbouring points that is great enough at all, or with holes.

    Of whole curves any step tells, inside the range or not.
    """
    if curves.whole:
        facts = enumerate(zip(curves.steepest, curves.least, curves.most, strict=True))
        return [
            row
            for row, (step, least, most) in facts
            if step >= bounds.missing_step_db
            or (step >= bounds.missing_zero_db and least <= 0.0 <= most)
        ]
    values = curves.value[:, inside]
    step = np.abs(values[:, 1:] - values[:, :-1])
    step = np.fmax.reduce(step, axis=1, initial=0.0, keepdims=True)
    great = step >= bounds.missing_step_db
    great |= curves.holes[:, inside].any(axis=1, keepdims=True)
    if (step >= bounds.missing_zero_db).any():
        zeros = (values == 0.0).any(axis=1, keepdims=True)
        great |= zeros & (step >= bounds.missing_zero_db)
    return _rows(great)


def _rows(flags: Flags) -> list[int]:
    """Rows with a flag."""
    found: list[int] = np.flatnonzero(flags.any(axis=1)).tolist()
    return found


def _beside_steps(values: F64, bounds: Bounds) -> list[float]:
    """Values at either side of a step so great; no other can be so far from what lies beside it."""
    step = np.abs(values[1:] - values[:-1])
    great = step >= bounds.missing_step_db
    found = {*values[:-1][great].tolist(), *values[1:][great].tolist()}
    if (values == 0.0).any():
        found.add(0.0)
    return sorted(found)


def _steps(values: F64, alike: Flags) -> tuple[float, float]:
    """How near the values beside those that are alike come to them, and how near any other does.

    Args:
        values: float64[n] of a curve in order.
        alike: bool[n], True where they are one and the same value.

    Returns:
        Both in the unit of the values; 0 where all are alike.
    """
    if alike.all():
        return 0.0, 0.0
    level = values[alike][0]
    beside = np.zeros(values.size, dtype=np.bool_)
    beside[1:] |= alike[:-1]
    beside[:-1] |= alike[1:]
    far = np.abs(values - level)
    return float(far[beside & ~alike].min()), float(far[~alike].min())


def _opened(curves: Curves, found: list[_Found]) -> Curves:
    low, high = curves.low.copy(), curves.high.copy()
    for one in found:
        low[one.row, one.at] = -np.inf
        high[one.row, one.at] = np.inf
    return curves.within(low, high)


def _doubt(curves: Curves, found: _Found) -> Doubt:
    points = int(found.at.sum())
    how = f"{points} points in a row, where the loss of a cable rises"
    if found.step is not None:
        how = f"{points} points, {found.step:.0f} dB or more from what lies beside them"
    text = (
        f"{curve_of(curves.keys[found.row])} is {shown(found.value)} dB in every digit at {how}, "
        f"and no reading is; if it stands for no value, list {shown(found.value)} under missing in "
        "[numbers] of the dialect"
    )
    return Doubt(DoubtKind.CONTRADICTION, path_of(curves, found.row), text)
