"""Where the words beside the worst point stand: near it, on as little of the lines as can be."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from sweepbook_plugins.report.panel import Panel
from sweepbook_plugins.report.scale import BOTTOM, LEFT, RIGHT, TOP, Scale
from sweepbook_plugins.report.thin import Counts, Floats

_LETTER, _LINE = 17, 36
"""Width of a letter and height of a line of the lettering, in units of the picture."""
_FAR = (38, 60, 90, 125, 165, 210, 260, 320)
"""Above or below the point, to the middle of the words."""
_BESIDE = 24
_BRACKET, _TAKEN = 18, 56
"""Height of a bracket on the frequency axis, and of one with its words."""
_NEAR = 60
"""Words that are no farther from their point need no line to it."""
_GRID = np.arange(LEFT, RIGHT + 1, 3)
_HEAVY, _FREE = 3.0, 1 / 15
"""What the foremost curve and the limit weigh against the rest, and a unit of distance."""


@dataclass(frozen=True, slots=True)
class Words:
    """Where the words stand.

    Attributes:
        x, y: where they begin or end, and their middle line.
        anchor: "start" or "end", which of the two x is.
        lead: path from the point to them; "" where they are near it.
    """

    x: int
    y: int
    anchor: str
    lead: str


def words(
    panel: Panel, field: Scale, point: tuple[int, int], text: str, taken: Sequence[tuple[int, int]]
) -> Words:
    """The place that covers least, and of such places the nearest.

    Args:
        panel: of the plot.
        field: its scale.
        point: what the words are about.
        text: the words.
        taken: from where to where other words stand at the bottom of the field.
    """
    x, y, weight = _lines(panel, field)
    wide = len(text) * _LETTER
    best, least = Words(*point, "start", ""), float("inf")
    for one in _places(point):
        left = one.x if one.anchor == "start" else one.x - wide
        top = one.y - _LINE // 2
        low = any(left < end and start < left + wide for start, end in taken)
        if left < LEFT or left + wide > RIGHT or top < TOP:
            continue
        if top + _LINE > BOTTOM - (_TAKEN if low else _BRACKET):
            continue
        away = _FREE * (abs(one.y - point[1]) + abs(one.x - point[0]))
        if away >= least:
            continue
        within = (x >= left) & (x <= left + wide) & (y >= top) & (y <= top + _LINE)
        cost = float(weight[within].sum()) + away
        if cost < least:
            best, least = one, cost
    return best


def _places(point: tuple[int, int]) -> Iterator[Words]:
    x, y = point
    for far in _FAR:
        for sign in (1, -1):
            at = y + sign * far
            lead = f"M{x} {y + sign * 15}V{at - sign * 16}" if far > _NEAR else ""
            yield from (Words(x, at, anchor, lead) for anchor in ("end", "start"))
    yield Words(x - _BESIDE, y, "end", "")
    yield Words(x + _BESIDE, y, "start", "")


def _lines(panel: Panel, field: Scale) -> tuple[Counts, Floats, Floats]:
    """All lines at even steps to the right: place, height and weight of each, [n]."""
    every = [(trace.frequency_mhz, trace.value) for trace in panel.traces]
    weights = [_HEAVY, *(1.0 for _ in every[1:])]
    if panel.limit.size:
        every.append((panel.limit_mhz, panel.limit))
        weights.append(_HEAVY)
    heights = [np.interp(_GRID, field.x(f), field.y(v)) for f, v in every]
    return (
        np.tile(_GRID, len(every)),
        np.concatenate(heights),
        np.repeat(weights, _GRID.size),
    )
