"""Paths of SVG, as short as they can be: SVG 2, chapter 9, relative commands, whole units."""

import numpy as np

from sweepbook_plugins.report.thin import Counts, Floats

_CROSS = 7


def polyline(x: Floats, y: Floats) -> str:
    """A line through points; "" without points.

    Points in the same place are one, and points on a straight way between two others are left out.
    """
    if x.size == 0:
        return ""
    points = np.rint(np.stack([x, y], axis=1)).astype(np.int64)
    steps = np.diff(points, axis=0)
    steps = steps[np.any(steps != 0, axis=1)]
    start = f"M{points[0, 0]} {points[0, 1]}"
    if steps.size == 0:
        return f"{start}h0"
    bends = np.flatnonzero(np.any(np.diff(steps, axis=0) != 0, axis=1)) + 1
    joined = np.add.reduceat(steps, np.concatenate([[0], bends]), axis=0)
    return f"{start}l{' '.join(map(str, joined.ravel().tolist()))}".replace(" -", "-")


def ticks(x: Floats, y: Floats, column: Counts, length: int) -> str:
    """A stroke at one point of each column, upwards for a negative length; crosses for 0."""
    if x.size == 0:
        return ""
    _, first = np.unique(column, return_index=True)
    at = np.rint(np.stack([x[first], y[first]], axis=1)).astype(int).tolist()
    if length:
        return "".join(f"M{left} {top}v{length}" for left, top in at)
    c = _CROSS
    return "".join(
        f"M{left - c} {top - c}l{2 * c} {2 * c}m0-{2 * c}l-{2 * c} {2 * c}" for left, top in at
    )
