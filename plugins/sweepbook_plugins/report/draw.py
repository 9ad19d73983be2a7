"""A plot as places in a picture: paths, marks and labels, ready for the template."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from sweepbook_plugins.report import caption
from sweepbook_plugins.report.bundle import Bundle, Placed, bundles
from sweepbook_plugins.report.curve import LOOKS, Curve, Limit, curves, limit, look
from sweepbook_plugins.report.panel import Panel, Shown, Trace
from sweepbook_plugins.report.place import Lines, Words, words
from sweepbook_plugins.report.scale import BOTTOM, TOP, Marks, Scale, scale
from sweepbook_plugins.report.thin import runs

_LABEL_STEP = 41
"""Between two labels at the ends of the curves; the largest lettering fits, that of a phone."""
_NARROWEST_NOTE = 60
_NOTE = 280
"""Width of the words about a stretch of the frequency axis, at most."""


@dataclass(frozen=True, slots=True)
class Label:
    """A name at the end of a curve: how it looks, where the curve ends, where the name stands."""

    look: str
    text: str
    from_y: int
    y: int


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
    frequencies: Marks
    values: Marks
    curves: list[Curve]
    lines: list[tuple[str, str]]
    limit: str
    labels: list[Label]
    notes: list[Note]
    worst_text: str
    worst_at: Words | None


def draw(panel: Panel) -> Drawn:
    """Lay a plot out."""
    together = bundles(panel.traces)
    field = _field(together, panel)
    placed = [one.placed(field) for one in together]
    first = panel.traces[0]
    lines = [curve for one in placed for curve in curves(one, first)]
    held = limit(panel, field)
    ring, said = lines[0].ring, caption.worst(first, panel.unit)
    notes = list(_notes(first, field))
    taken = [(note.start, note.start + _NOTE) for note in notes]
    return Drawn(
        title=panel.title,
        about=caption.about(panel),
        span=caption.span(panel),
        axis=f"{panel.name}, {panel.unit}",
        frequencies=field.frequencies(),
        values=field.values(),
        curves=lines[::-1],
        lines=_by_look(lines),
        limit=held.path if held else "",
        labels=_labels(placed, first, held),
        notes=notes,
        worst_text=said,
        worst_at=words(Lines.of(placed, held), ring, said, taken) if ring and said else None,
    )


def _by_look(lines: Sequence[Curve]) -> list[tuple[str, str]]:
    """What is drawn alike as one path, class and path, the foremost last."""
    found: list[tuple[str, str]] = []
    for name in LOOKS:
        of = [line for line in lines if line.look == name]
        found.append((name, "".join(line.line for line in of)))
        found.append((f"{name} dotted", "".join(line.dotted for line in of)))
    found.append(("clip", "".join(line.marks for line in lines)))
    return [(look, path) for look, path in found if path]


def _field(together: Sequence[Bundle], panel: Panel) -> Scale:
    every = [*(one.value for one in together), panel.limit]
    low = min(float(values.min()) for values in every if values.size)
    high = max(float(values.max()) for values in every if values.size)
    first = min(float(trace.frequency_mhz[0]) for trace in panel.traces)
    last = max(float(trace.frequency_mhz[-1]) for trace in panel.traces)
    return scale(first, last, low, high)


def _labels(placed: Sequence[Placed], first: Trace, held: Limit | None) -> list[Label]:
    """Names at the right ends, each beside the end of its curve and apart from the others."""
    ends: list[tuple[int, str, str]] = []
    for one in placed:
        for trace, y in zip(one.traces, one.y[:, -1].tolist(), strict=True):
            ends.append((y, "worst" if trace is first else look(trace), trace.name))
    if held is not None:
        ends.append((held.end, "limit", "limit"))
    ends.sort()
    return _apart(ends)


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
    if not trace.shown.any():
        return
    told = {Shown.INFORMATION: "for information", Shown.NO_LIMIT: "no limit"}
    broken = np.zeros(max(trace.shown.size - 1, 0), dtype=np.bool_)
    for kind, start, end in runs(trace.shown, broken):
        if kind == Shown.JUDGED:
            continue
        x = field.x(trace.frequency_mhz[[start, end - 1]]).tolist()
        if x[1] - x[0] >= _NARROWEST_NOTE:
            yield Note(x[0], x[1], told[Shown(kind)])
