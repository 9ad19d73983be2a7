"""The lines of a plot: curves and their limit as paths, with all peaks and worst points in them."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby
from typing import Self

import numpy as np

from sweepbook.judging.assessment import Outcome
from sweepbook_plugins.report.panel import Panel, Shown, Trace
from sweepbook_plugins.report.path import polyline, strokes
from sweepbook_plugins.report.scale import Scale, column
from sweepbook_plugins.report.thin import Counts, Flags, Floats, holes, kept, runs, starts

COLUMNS, COLUMNS_BEHIND = 240, 120
"""Of the curve that stands out, and of those behind it: of each, least and largest are drawn."""


@dataclass(frozen=True, slots=True)
class Curve:
    """A curve: how it looks, its line, its line where nothing is judged, and its marks.

    Attributes:
        look: "worst", "fails" or "other".
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
class Axis:
    """The frequencies of some curves in a picture.

    Attributes:
        x: places, [n].
        holes: after which points there is a hole, [n - 1]; None where there is none.
        starts, starts_behind: the first point of each column, for the curve that stands out and for
            the others.
    """

    x: Counts
    holes: Flags | None
    starts: Counts
    starts_behind: Counts

    @classmethod
    def of(cls, frequency_mhz: Floats, field: Scale) -> Self:
        """The places of the frequencies in a field."""
        x, broken = field.x(frequency_mhz), holes(frequency_mhz)
        fine, coarse = (starts(column(x, count)) for count in (COLUMNS, COLUMNS_BEHIND))
        return cls(x, broken if broken.any() else None, fine, coarse)


@lru_cache(maxsize=64)
def _axis(points: bytes, field: Scale) -> Axis:
    """An axis, kept: the links of a building are swept over the same frequencies."""
    return Axis.of(np.frombuffer(points, dtype=np.float64), field)


def curves(traces: Sequence[Trace], field: Scale) -> Iterator[Curve]:
    """The curves, the one that stands out first; those on the same frequencies at once."""
    along = field.without_values()
    for frequency, group in groupby(traces, key=lambda trace: trace.frequency_mhz.tobytes()):
        axis, together = _axis(frequency, along), list(group)
        y = field.y(np.stack([trace.value for trace in together]))
        drawn = kept(axis.starts_behind, y)
        if together[0] is traces[0]:
            drawn[:1] = kept(axis.starts, y[:1])
        for trace, heights, flags in zip(together, y, drawn, strict=True):
            yield _curve(trace, axis, heights, flags, leads=trace is traces[0])


def _curve(trace: Trace, axis: Axis, y: Counts, drawn: Flags, *, leads: bool) -> Curve:
    """A curve of which some points are drawn, its worst margin and what borders on it too."""
    x, at = axis.x, trace.worst
    if at is not None:
        drawn[at] = True
    line: list[str] = []
    dotted: list[str] = []
    for kind, start, end in _runs(trace, axis):
        drawn[[start, end - 1]] = True
        here = np.flatnonzero(drawn[start:end]) + start
        (dotted if kind else line).append(polyline(x[here], y[here]))
    marked = np.flatnonzero(trace.mark)
    marks = strokes(x[marked], y[marked], trace.mark[marked]) if marked.size else ""
    looks = "worst" if leads else look(trace)
    ring = (int(x[at]), int(y[at])) if at is not None and looks != "other" else None
    return Curve(looks, "".join(line), "".join(dotted), marks, ring)


def _runs(trace: Trace, axis: Axis) -> list[tuple[int, int, int]]:
    """The stretches of a curve that are drawn alike: 0 for a line, 1 for a dotted one."""
    aside = trace.shown != Shown.JUDGED
    if axis.holes is None and not aside.any():
        return [(0, 0, aside.size)]
    none = np.zeros(aside.size - 1, dtype=np.bool_)
    return runs(aside.view(np.uint8), none if axis.holes is None else axis.holes)


def limit(panel: Panel, field: Scale) -> str:
    """The path of the limit; "" without one."""
    if not panel.limit.size:
        return ""
    axis = _axis(panel.limit_mhz.tobytes(), field.without_values())
    y = field.y(panel.limit)
    (at,) = kept(axis.starts_behind, y[np.newaxis])
    return polyline(axis.x[at], y[at])


def look(trace: Trace) -> str:
    """How a curve looks that does not stand out."""
    return "fails" if trace.margin.outcome is Outcome.FAIL else "other"
