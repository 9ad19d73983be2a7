"""The lines of a plot: curves and their limit as paths, with all peaks and worst points in them."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from sweepbook.judging.assessment import Outcome
from sweepbook_plugins.report.axis import Axis, axis
from sweepbook_plugins.report.bundle import Placed
from sweepbook_plugins.report.panel import Panel, Shown, Trace
from sweepbook_plugins.report.path import polyline, polylines, strokes
from sweepbook_plugins.report.scale import Scale
from sweepbook_plugins.report.thin import Counts, Flags, Floats, bends, kept, runs

LOOKS = ("other", "fails", "worst")
"""How a curve may look, the foremost last."""


@dataclass(frozen=True, slots=True)
class Curve:
    """A curve: how it looks, its line, its line where nothing is judged, and its marks.

    Attributes:
        look: one of `LOOKS`.
        line, dotted: paths; dotted where points are for information or no limit holds.
        marks: path of the marks of points that are clipped, or no reading.
        ring: where its worst margin lies; None where it is not marked.
    """

    look: str
    line: str
    dotted: str
    marks: str
    ring: tuple[int, int] | None


@dataclass(frozen=True, slots=True, eq=False)
class Limit:
    """The line of a limit: its path, where it ends, and how high it runs at `GRID`, [k]."""

    path: str
    end: int
    heights: Floats


def curves(placed: Placed, first: Trace) -> Iterator[Curve]:
    """The curves of a bundle in their order.

    Args:
        placed: the bundle.
        first: the curve that stands out, here or in another bundle.
    """
    along, y = placed.axis, placed.y
    drawn = kept(along.starts_behind, y)
    if placed.traces[0] is first:
        drawn[:1] = kept(along.starts, y[:1])
    for row, trace in enumerate(placed.traces):
        if trace.worst is not None:
            drawn[row, trace.worst] = True
    aside = [bool((trace.shown != Shown.JUDGED).any()) for trace in placed.traces]
    if along.holes is None and not any(aside):
        lines = ((path, "") for path in polylines(along.x, y, drawn))
    else:
        every = zip(placed.traces, y, drawn, strict=True)
        lines = (_stretches(trace, along, heights, flags) for trace, heights, flags in every)
    for trace, heights, (line, dotted) in zip(placed.traces, y, lines, strict=True):
        at, looks = trace.worst, "worst" if trace is first else look(trace)
        ring = None
        if at is not None and looks != "other":
            ring = int(along.x[at]), int(heights[at])
        yield Curve(looks, line, dotted, _marks(trace, along, heights), ring)


def _marks(trace: Trace, along: Axis, y: Counts) -> str:
    """The path of the marks of points; "" where none has one."""
    if not trace.mark.any():
        return ""
    marked = np.flatnonzero(trace.mark)
    return strokes(along.x[marked], y[marked], trace.mark[marked])


def _stretches(trace: Trace, along: Axis, y: Counts, drawn: Flags) -> tuple[str, str]:
    """The line and the dotted one of a curve of which some points are drawn, and what borders."""
    line: list[str] = []
    dotted: list[str] = []
    for kind, start, end in _runs(trace, along):
        drawn[[start, end - 1]] = True
        here = np.flatnonzero(drawn[start:end]) + start
        (dotted if kind else line).append(polyline(along.x[here], y[here]))
    return "".join(line), "".join(dotted)


def _runs(trace: Trace, along: Axis) -> list[tuple[int, int, int]]:
    """The stretches of a curve that are drawn alike: 0 for a line, 1 for a dotted one."""
    aside = trace.shown != Shown.JUDGED
    none = np.zeros(aside.size - 1, dtype=np.bool_)
    return runs(aside.view(np.uint8), none if along.holes is None else along.holes)


def limit(panel: Panel, field: Scale) -> Limit | None:
    """The line of the limit; None without one."""
    if not panel.limit.size:
        return None
    return _limit(panel.limit_mhz.tobytes(), panel.limit.tobytes(), field)


@lru_cache(maxsize=128)
def _limit(points: bytes, value: bytes, field: Scale) -> Limit:
    """A line, kept: the links of a building are held against the same limits."""
    along = axis(points, field.without_values())
    y = field.y(np.frombuffer(value, dtype=np.float64))[np.newaxis]
    (drawn,) = kept(along.starts_behind, y)
    at = np.flatnonzero(drawn)
    at = at[bends(along.x[at], y[0, at])]
    return Limit(polyline(along.x[at], y[0, at]), int(y[0, -1]), along.heights(y)[0])


def look(trace: Trace) -> str:
    """How a curve looks that does not stand out."""
    return "fails" if trace.margin.outcome is Outcome.FAIL else "other"
