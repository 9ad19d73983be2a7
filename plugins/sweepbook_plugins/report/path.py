"""Paths of SVG, as short as they can be: SVG 2, chapter 9, relative commands, whole units."""

import numpy as np

from sweepbook_plugins.report.panel import Mark
from sweepbook_plugins.report.thin import Codes, Counts

_FURTHEST = 1280
_STEPS = [f" {step}" if step >= 0 else str(step) for step in range(-_FURTHEST, _FURTHEST + 1)]
"""Every step that there may be in a picture, as it stands behind another."""


def polyline(x: Counts, y: Counts) -> str:
    """A line through points in whole units of a picture, of which there is at least one."""
    right, down = np.diff(x), np.diff(y)
    moves = (right != 0) | (down != 0)
    steps = np.stack([right[moves], down[moves]], axis=1).ravel() + _FURTHEST
    rest = "".join(map(_STEPS.__getitem__, steps.tolist()))
    return f"M{x[0]} {y[0]}l{rest}" if rest else f"M{x[0]} {y[0]}h0"


def strokes(x: Counts, y: Counts, mark: Codes) -> str:
    """A mark at each of some points, once at each place to the right: see `Mark`."""
    _, first = np.unique(x, return_index=True)
    at = zip(x[first].tolist(), y[first].tolist(), mark[first].tolist(), strict=True)
    return "".join(f"M{left} {top}{_STROKES[kind]}" for left, top, kind in at)


_STROKES: dict[int, str] = {
    Mark.AT_LEAST: "v-14",
    Mark.AT_MOST: "v14",
    Mark.NO_READING: "m-7-7l14 14m0-14l-14 14",
}
