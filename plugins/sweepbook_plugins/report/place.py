"""Where the words beside the worst point stand: near it, on as little of the lines as can be."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Self

import numpy as np

from sweepbook_plugins.report.axis import GRID_STEP
from sweepbook_plugins.report.bundle import Placed
from sweepbook_plugins.report.curve import Limit
from sweepbook_plugins.report.scale import BOTTOM, LEFT, RIGHT, TOP
from sweepbook_plugins.report.thin import Floats

_LETTER, _LINE = 17, 36
"""Width of a letter and height of a line of the lettering, in units of the picture."""
_FAR = (38, 60, 90, 125, 165, 210, 260, 320)
"""Above or below the point, to the middle of the words."""
_BESIDE = 24
_BRACKET, _TAKEN = 18, 56
"""Height of a bracket on the frequency axis, and of one with its words."""
_NEAR = 60
"""Words that are no farther from their point need no line to it."""
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


@dataclass(frozen=True, slots=True, eq=False)
class Lines:
    """All lines of a plot: how high each runs at `GRID`, [m, k], and what covering it weighs."""

    heights: Floats
    weight: Floats

    @classmethod
    def of(cls, placed: Sequence[Placed], limit: Limit | None) -> Self:
        """The curves, the one that stands out first, and the limit."""
        heights = [one.axis.heights(one.y) for one in placed]
        if limit is not None:
            heights.append(limit.heights[np.newaxis])
        every = np.concatenate(heights)
        weight = np.ones(len(every))
        weight[0] = _HEAVY
        if limit is not None:
            weight[-1] = _HEAVY
        return cls(every, weight)

    def covered(self, left: int, right: int, top: int, bottom: int) -> float:
        """The weight of the lines within edges that lie in the field, by places of `GRID`."""
        first, last = -((LEFT - left) // GRID_STEP), (right - LEFT) // GRID_STEP + 1
        here = self.heights[:, first:last]
        return float(np.count_nonzero((here >= top) & (here <= bottom), axis=1) @ self.weight)


def words(
    lines: Lines, point: tuple[int, int], text: str, taken: Sequence[tuple[int, int]]
) -> Words:
    """The place that covers least, and of such places the nearest.

    Args:
        lines: of the plot.
        point: what the words are about.
        text: the words.
        taken: from where to where other words stand at the bottom of the field.
    """
    wide = len(text) * _LETTER
    best, least = (*point, "start"), float("inf")
    for x, y, anchor in _places(point):
        away = _FREE * (abs(y - point[1]) + abs(x - point[0]))
        left = x if anchor == "start" else x - wide
        top = y - _LINE // 2
        if away >= least or left < LEFT or left + wide > RIGHT or top < TOP:
            continue
        low = any(left < end and start < left + wide for start, end in taken)
        if top + _LINE > BOTTOM - (_TAKEN if low else _BRACKET):
            continue
        cost = lines.covered(left, left + wide, top, top + _LINE) + away
        if cost < least:
            best, least = (x, y, anchor), cost
    return Words(*best, _lead(point, best[1]))


def _places(point: tuple[int, int]) -> Iterator[tuple[int, int, str]]:
    """Places of the words: above and below the point, then beside it."""
    x, y = point
    for far in _FAR:
        for at in (y + far, y - far):
            yield x, at, "end"
            yield x, at, "start"
    yield x - _BESIDE, y, "end"
    yield x + _BESIDE, y, "start"


def _lead(point: tuple[int, int], y: int) -> str:
    """The path from a point to words above or below it; "" where they are near it."""
    x, from_y = point
    far, sign = abs(y - from_y), 1 if y > from_y else -1
    return f"M{x} {from_y + sign * 15}V{y - sign * 16}" if far > _NEAR else ""
