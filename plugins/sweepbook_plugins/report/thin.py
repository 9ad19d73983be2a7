"""Fewer points of a curve for a picture, its peaks and its worst point kept."""

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Counts = NDArray[np.intp]
Flags = NDArray[np.bool_]
Codes = NDArray[np.uint8]

_WIDER = 1.5
"""So many times the steps beside it a step is a hole: one missing point makes it twice as wide."""
_BESIDE = 5
_OFF = 0.5
"""Units of a picture; a pixel of a screen is one or two."""
_FIRST = np.zeros(1, dtype=np.intp)


def kept(starts: Counts, height: Counts) -> Flags:
    """Which points of some curves to draw: the lowest and the highest of each column, and the ends.

    Every column of the picture reaches as far up and down as it does with all points, so no peak is
    lost; what may be lost is the order within a column.

    Args:
        starts: the first point of each column, [k], rising from 0.
        height: of m curves on n points in whole units of the picture, [m, n], n at least 1.

    Returns:
        A flag for each point, [m, n].
    """
    curves, points = height.shape
    placed = height * points + np.arange(points)  # by height, then by position
    drawn = np.zeros((curves, points), dtype=np.bool_)
    row = np.arange(curves)[:, np.newaxis]
    drawn[row, np.minimum.reduceat(placed, starts, axis=1) % points] = True
    drawn[row, np.maximum.reduceat(placed, starts, axis=1) % points] = True
    drawn[:, [0, -1]] = True
    return drawn


def bends(x: Counts, y: Counts) -> Flags:
    """Which points of a line it needs so as to run no more than half a unit above or below: [n].

    The line is parted at the point that is farthest off, until none is far (Douglas and Peucker,
    1973; recalled); what is off is measured upwards, as curves are read.

    Args:
        x: places to the right, [n], not falling; n at least 1.
        y: heights, [n].
    """
    needed = np.zeros(x.size, dtype=np.bool_)
    needed[[0, -1]] = True
    parts = [(0, x.size - 1)]
    while parts:
        start, end = parts.pop()
        inside = slice(start + 1, end)
        if end - start < 2:
            continue
        straight = np.interp(x[inside], x[[start, end]], y[[start, end]])
        off = np.abs(y[inside] - straight)
        if x[start] == x[end] or not off.max() <= _OFF:
            farthest = start + 1 + int(off.argmax())
            needed[farthest] = True
            parts += [(start, farthest), (farthest, end)]
    return needed


def starts(column: Counts) -> Counts:
    """The first point of each column, [k], of points whose columns rise, [n], n at least 1."""
    return np.concatenate([_FIRST, np.flatnonzero(column[1:] != column[:-1]) + 1])


def holes(frequency_mhz: Floats) -> Flags:
    """After which points a curve has a hole, [n - 1].

    A step is a hole where it is wider than the usual one on either side of it. Where a sweep only
    changes its step, the usual one on one side is as wide.
    """
    step = np.diff(frequency_mhz)
    if step.size < 3:
        return np.zeros(step.size, dtype=np.bool_)
    before = np.concatenate([np.full(_BESIDE, np.nan), step, np.full(_BESIDE, np.nan)])
    windows = np.lib.stride_tricks.sliding_window_view(before, _BESIDE)
    usual = _medians(windows)
    left, right = usual[: step.size], usual[_BESIDE + 1 :]
    widest = np.fmax(left, right)
    return step > _WIDER * widest


def _medians(windows: Floats) -> Floats:
    """The lower median of each row, NaN left out; NaN where there is nothing else."""
    ordered = np.sort(windows, axis=1)  # NaN comes last
    there = np.count_nonzero(~np.isnan(windows), axis=1)
    found: Floats = ordered[np.arange(windows.shape[0]), np.maximum(there - 1, 0) // 2]
    return found


def runs(kind: Codes, broken: Flags) -> list[tuple[int, int, int]]:
    """The stretches of a curve that are drawn alike: kind, first point, and the point after.

    A stretch begins with the last point of the one before it, so that the line goes on, save
    after a hole.

    Args:
        kind: how each point is drawn, [n].
        broken: after which points there is a hole, [n - 1].
    """
    cut = (np.flatnonzero((np.diff(kind) != 0) | broken) + 1).tolist()
    edges = [0, *cut, kind.size]
    found = []
    for start, end in pairwise(edges):
        joined = start > 0 and not broken[start - 1]
        found.append((int(kind[start]), start - joined, end))
    return found
