"""A plot as places in a picture: paths, marks and labels, ready for the template."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby
from typing import Self

import numpy as np

from sweepbook.judging.assessment import Outcome
from sweepbook_plugins.report import figures
from sweepbook_plugins.report.panel import Mark, Panel, Shown, Trace
from sweepbook_plugins.report.path import polyline, strokes
from sweepbook_plugins.report.scale import BOTTOM, LEFT, RIGHT, TOP, Scale, column, scale
from sweepbook_plugins.report.thin import Counts, Flags, Floats, holes, kept, runs, starts

COLUMNS, COLUMNS_BEHIND = 240, 120
"""Of the curve that stands out, and of those behind it: of each, least and largest are drawn."""
_LABEL_STEP = 41
"""Between two labels at the ends of the curves; the largest lettering fits, that of a phone."""
_NARROWEST_NOTE = 60


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


@dataclass(frozen=True, slots=True)
class Label:
    """A name at the end of a curve: how it looks, where the curve ends, where the name stands."""

    look: str
    text: str
    from_y: int
    y: int


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


@dataclass(frozen=True, slots=True)
class Note:
    """A stretch of the frequency axis with a word for what holds there."""

    start: int
    end: int
    text: str


@dataclass(frozen=True, slots=True)
class Drawn:
    """Everything in one picture, and in words what it shows; places are in its own units."""

    title: str
    span: str
    about: str
    axis: str
    frequencies: list[tuple[int, str]]
    values: list[tuple[int, str]]
    curves: list[Curve]
    limit: str
    labels: list[Label]
    notes: list[Note]
    worst_text: str
    worst_at: tuple[int, int]
    worst_anchor: str
    worst_down: bool


def draw(panel: Panel) -> Drawn:
    """Lay a plot out."""
    field = _field(panel)
    first = panel.traces[0]
    curves = list(_curves(panel.traces, field))
    ring = curves[0].ring
    return Drawn(
        title=panel.title,
        about=" ".join(_about(panel, first)),
        span=_span(panel, first),
        axis=f"{panel.name}, {panel.unit}",
        frequencies=field.frequencies(),
        values=field.values(),
        curves=curves[::-1],
        limit=_limit(panel, field),
        labels=_labels(panel, field),
        notes=list(_notes(first, field)),
        worst_text=_worst_text(first, panel.unit),
        worst_at=ring or (0, 0),
        worst_anchor="end" if ring and ring[0] > (LEFT + RIGHT) / 2 else "start",
        worst_down=ring is not None and _below(panel, ring[1]),
    )


def _limit(panel: Panel, field: Scale) -> str:
    if not panel.limit.size:
        return ""
    axis = _axis(panel.limit_mhz.tobytes(), field.without_values())
    y = field.y(panel.limit)
    (at,) = kept(axis.starts_behind, y[np.newaxis])
    return polyline(axis.x[at], y[at])


def _below(panel: Panel, y: int) -> bool:
    """Whether the worst point is told below it: on the bad side of the limit, where there is room.

    Args:
        panel: of the plot.
        y: of the point.
    """
    bad_is_below = panel.sense == "min"
    room = y < BOTTOM - 2 * _LABEL_STEP if bad_is_below else y > TOP + 2 * _LABEL_STEP
    return bad_is_below == room


def _span(panel: Panel, first: Trace) -> str:
    """Over which frequencies it runs, and what its limit is."""
    start, last = (float(first.frequency_mhz[at]) for at in (0, -1))
    sense = "at least" if panel.sense == "min" else "at most"
    limit = f"limit {sense}" if panel.limit.size else "no limit"
    return f"{figures.megahertz(start)} to {figures.megahertz(last)} MHz, {limit}"


def _about(panel: Panel, first: Trace) -> Iterator[str]:
    """What a plot shows, for its caption and for whoever cannot see it."""
    margin = first.margin
    if margin.worst_margin_db is not None:
        limit = figures.plain(margin.limit_at_worst_margin_db)
        word = "Worst" if margin.worst_margin_db < 0.0 else "Nearest to its limit"
        yield (
            f"{word}: {first.name}, {figures.signed(margin.worst_margin_db)} "
            f"{panel.unit} at {figures.megahertz(margin.worst_margin_mhz)} MHz, where the limit is "
            f"{limit} {panel.unit}."
        )
    fails = [trace.name for trace in panel.traces if trace.margin.outcome is Outcome.FAIL]
    if fails:
        yield f"Failing: {', '.join(fails)}."
    for word, count in _counted(panel):
        if count:
            yield f"{word}: {figures.counted(count, 'point')}."
    if margin.obligation != "required":
        yield f"It is {margin.obligation} and decides nothing."


def _counted(panel: Panel) -> Iterator[tuple[str, int]]:
    for codes, told in (("shown", _SHOWN), ("mark", _MARKS)):
        every = np.concatenate([getattr(trace, codes) for trace in panel.traces])
        counts = np.bincount(every, minlength=len(Mark)).tolist()
        for code, words in told.items():
            yield words, counts[code]


_SHOWN = {
    Shown.INFORMATION: "For information only, dotted",
    Shown.NO_LIMIT: "Where no limit holds, dotted",
}
_MARKS = {
    Mark.AT_LEAST: "Clipped, so the value is more than drawn, marked by strokes upwards",
    Mark.AT_MOST: "Clipped, so the value is less than drawn, marked by strokes downwards",
    Mark.NO_READING: "No reading, marked by crosses",
}


def _field(panel: Panel) -> Scale:
    every = [*(trace.value for trace in panel.traces), panel.limit]
    low = min(float(values.min()) for values in every if values.size)
    high = max(float(values.max()) for values in every if values.size)
    first = min(float(trace.frequency_mhz[0]) for trace in panel.traces)
    last = max(float(trace.frequency_mhz[-1]) for trace in panel.traces)
    return scale(first, last, low, high)


def _curves(traces: Sequence[Trace], field: Scale) -> Iterator[Curve]:
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
    look = "worst" if leads else _look(trace)
    rings = at is not None and look != "other"
    return Curve(
        look, "".join(line), "".join(dotted), marks, (int(x[at]), int(y[at])) if rings else None
    )


def _runs(trace: Trace, axis: Axis) -> list[tuple[int, int, int]]:
    """The stretches of a curve that are drawn alike: 0 for a line, 1 for a dotted one."""
    aside = trace.shown != Shown.JUDGED
    if axis.holes is None and not aside.any():
        return [(0, 0, aside.size)]
    none = np.zeros(aside.size - 1, dtype=np.bool_)
    return runs(aside.view(np.uint8), none if axis.holes is None else axis.holes)


def _worst_text(trace: Trace, unit: str) -> str:
    margin = trace.margin
    if margin.worst_margin_db is None:
        return ""
    at = figures.megahertz(margin.worst_margin_mhz)
    return f"{figures.signed(margin.worst_margin_db)} {unit} at {at} MHz"


def _labels(panel: Panel, field: Scale) -> list[Label]:
    """Names at the right ends, each beside the end of its curve and apart from the others."""
    first = panel.traces[0]
    ends: list[tuple[int, str, str]] = []
    for trace in panel.traces:
        look = "worst" if trace is first else _look(trace)
        ends.append((int(field.y(trace.value[-1:])[0]), look, trace.name))
    if panel.limit.size:
        ends.append((int(field.y(panel.limit[-1:])[0]), "limit", "limit"))
    ends.sort()
    return _apart(ends)


def _look(trace: Trace) -> str:
    return "fails" if trace.margin.outcome is Outcome.FAIL else "other"


def _apart(ends: Sequence[tuple[int, str, str]]) -> list[Label]:
    """Labels from the top down, none nearer to another than a line of letters."""
    places: list[int] = []
    for wanted, _, _ in ends:
        places.append(max(wanted, places[-1] + _LABEL_STEP if places else TOP + 8))
    low = BOTTOM
    for number in reversed(range(len(places))):
        places[number] = min(places[number], low)
        low = places[number] - _LABEL_STEP
    return [Label(look, text, end, y) for (end, look, text), y in zip(ends, places, strict=True)]


def _notes(trace: Trace, field: Scale) -> Iterator[Note]:
    """Where the points of the curve that stands out decide nothing, and why."""
    words = {Shown.INFORMATION: "for information", Shown.NO_LIMIT: "no limit"}
    broken = np.zeros(max(trace.shown.size - 1, 0), dtype=np.bool_)
    for kind, start, end in runs(trace.shown, broken):
        if kind == Shown.JUDGED:
            continue
        x = field.x(trace.frequency_mhz[[start, end - 1]]).tolist()
        if x[1] - x[0] >= _NARROWEST_NOTE:
            yield Note(x[0], x[1], words[Shown(kind)])
