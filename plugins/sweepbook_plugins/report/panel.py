"""What a plot shows: the curves of one parameter at one end, against their limit."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import IntEnum
from typing import TYPE_CHECKING, Self

import numpy as np

from sweepbook.judging import phrases
from sweepbook.judging.assessment import Margin, Outcome
from sweepbook.judging.curves import Key
from sweepbook_plugins.report.thin import Codes, Flags, Floats

if TYPE_CHECKING:
    from sweepbook.judging.hold import Held

_FEWEST_POINTS = 3


class Shown(IntEnum):
    """How a point of a curve is drawn."""

    JUDGED = 0
    INFORMATION = 1
    NO_LIMIT = 2


class Mark(IntEnum):
    """What a point is besides its value: more than it, less than it, or no reading at all."""

    NONE = 0
    AT_LEAST = 1
    AT_MOST = 2
    NO_READING = 3


@dataclass(frozen=True, slots=True, eq=False)
class Trace:
    """One curve.

    Attributes:
        name: its pairs: "3-6" or "3-6/4-5".
        margin: what was found of it.
        frequency_mhz, value: its points, [n]; no NaN among them. Curves that have the same points
            share the first.
        shown: a `Shown` a point, [n].
        mark: a `Mark` a point, [n].
        worst: position of its worst margin; None where nothing was evaluated.
    """

    name: str
    margin: Margin
    frequency_mhz: Floats
    value: Floats
    shown: Codes
    mark: Codes
    worst: int | None


@dataclass(frozen=True, slots=True, eq=False)
class Panel:
    """One plot.

    Attributes:
        name: of the parameter.
        title: parameter and end in words.
        unit: of the values.
        sense: "min" where the limit is the least allowed, "max" where the most.
        traces: the one to stand out first, then by margin.
        limit_mhz, limit: the limit of the first of them, [k]; no NaN among them.
    """

    name: str
    title: str
    unit: str
    sense: str
    traces: tuple[Trace, ...]
    limit_mhz: Floats
    limit: Floats


def panels(held: "Sequence[Held]", margins: Sequence[Margin]) -> list[Panel]:
    """The plots of a test: what fails first, then by margin; what is required before the rest.

    Args:
        held: its parameters as they were held against their limits.
        margins: of the same test.
    """
    found = {Key(m.parameter, m.end, m.pairs): m for m in margins}
    made = [panel for one in held for panel in _of(one, found)]
    return sorted(made, key=lambda panel: _badness(panel.traces[0].margin))


def _of(held: "Held", margins: Mapping[Key, Margin]) -> Iterator[Panel]:
    """A plot for each end."""
    keys = held.curves.keys
    points = _Points.of(held)
    for end in dict.fromkeys(key.end for key in keys):
        rows = [row for row, key in enumerate(keys) if key.end == end and key in margins]
        drawn = [row for row in rows if points.count[row] >= _FEWEST_POINTS]
        if not drawn:
            continue
        drawn.sort(key=lambda row: _badness(margins[keys[row]]))
        limit = points.limit if points.limit.ndim == 1 else points.limit[drawn[0]]
        known = ~np.isnan(limit)
        yield Panel(
            name=phrases.name(held.curves.parameter),
            title=phrases.subject(held.curves.parameter, end, ()),
            unit=held.rule.unit,
            sense=held.sense,
            traces=tuple(points.trace(row, margins[keys[row]]) for row in drawn),
            limit_mhz=held.curves.frequency_mhz[known],
            limit=limit[known],
        )


@dataclass(frozen=True, slots=True, eq=False)
class _Points:
    """All points of a parameter at once: m curves on n frequencies.

    Attributes:
        held: the parameter.
        there: bool[m, n], where a curve has a point.
        count: how many points each has, [m].
        limit: [n], or [m, n] where it differs between the curves.
        shown, mark: of each point, [m, n].
    """

    held: "Held"
    there: Flags
    count: list[int]
    limit: Floats
    shown: Codes
    mark: Codes

    @classmethod
    def of(cls, held: "Held") -> Self:
        """The points of a parameter that was held against its limit."""
        curves, limit = held.curves, held.evaluation.limit.value
        there = ~np.isnan(curves.value)
        judged = np.where(held.evaluation.evaluated, Shown.JUDGED, Shown.INFORMATION)
        shown = np.where(np.isnan(limit), Shown.NO_LIMIT, judged).astype(np.uint8)
        mark = Mark.AT_LEAST * np.isposinf(curves.high) + Mark.AT_MOST * np.isneginf(curves.low)
        count = np.count_nonzero(there, axis=1).tolist()
        return cls(held, there, count, limit, shown, mark.astype(np.uint8))

    def trace(self, row: int, margin: Margin) -> Trace:
        """One curve without its holes."""
        curves, at = self.held.curves, int(self.held.worst.margin_at[row])
        frequency, value = curves.frequency_mhz, curves.value[row]
        shown, mark = self.shown[row], self.mark[row]
        if self.count[row] < value.size:
            there = self.there[row]
            at = int(np.count_nonzero(there[:at]))
            frequency, value, shown, mark = (
                frequency[there],
                value[there],
                shown[there],
                mark[there],
            )
        worst = at if margin.worst_margin_mhz is not None else None
        return Trace("/".join(margin.pairs), margin, frequency, value, shown, mark, worst)


def _badness(margin: Margin) -> tuple[bool, int, bool, float]:
    """What is required first, of it what fails, then by margin."""
    order = (Outcome.FAIL, Outcome.UNDECIDED, Outcome.PASS, Outcome.NOT_EVALUATED)
    fails = 0 if margin.outcome is Outcome.FAIL else order.index(Outcome.PASS)
    least = margin.worst_margin_db
    off = float("inf") if least is None else least
    return margin.obligation != "required", fails, margin.unit != "dB", off
