"""Paths of SVG, as short as they can be: SVG 2, chapter 9, relative commands, whole units."""

from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from sweepbook_plugins.report.panel import Mark
from sweepbook_plugins.report.thin import Codes, Counts, Flags


def polyline(x: Counts, y: Counts) -> str:
    """A line through points in whole units of a picture, of which there is at least one."""
    (path,) = polylines(x, y[np.newaxis], np.ones((1, x.size), dtype=np.bool_))
    return path


def polylines(x: Counts, y: Counts, drawn: Flags) -> Iterator[str]:
    """Lines through some of the points of m curves.

    Args:
        x: places to the right, [n].
        y: heights, [m, n].
        drawn: through which points each line goes, [m, n]; one at least.
    """
    row, at = np.nonzero(drawn)
    right, down = x[at], y[drawn]
    begins = np.searchsorted(row, np.arange(len(y)))
    across, along = right[1:] - right[:-1], down[1:] - down[:-1]
    moves = ((across != 0) | (along != 0)) & (row[1:] == row[:-1])
    ends = np.cumsum(np.bincount(row[1:][moves], minlength=len(y))).tolist()
    steps = np.stack([across[moves], along[moves]], axis=1)
    firsts = zip(right[begins].tolist(), down[begins].tolist(), strict=True)
    for (left, top), (start, end) in zip(firsts, pairwise([0, *ends]), strict=True):
        yield f"M{left} {top}l{_steps(steps[start:end])}" if end > start else f"M{left} {top}h0"


def _steps(steps: Counts) -> str:
    """Steps to the right and down, [k, 2], with nothing between them but what tells them apart."""
    import orjson

    written = orjson.dumps(steps.ravel(), option=orjson.OPT_SERIALIZE_NUMPY)[:-1]
    return written.replace(b"[", b",", 1).replace(b",-", b"-").replace(b",", b" ").decode("ascii")


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
