"""What a plot shows: the curves of one parameter at one end, against their limit."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import IntEnum
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from sweepbook.judging import phrases
from sweepbook.judging.assessment import Margin, Outcome
from sweepbook.judging.curves import Key
from sweepbook_plugins.report.thin import Counts, Flags, Floats

if TYPE_CHECKING:
    from sweepbook.judging.hold import Held

_FEWEST_POINTS = 3


class Shown(IntEnum):
    """How a point of a curve is drawn."""

    JUDGED = 0
    INFORMATION = 1
    NO_LIMIT = 2


@dataclass(frozen=True, slots=True, eq=False)
class Trace:
    """One curve.

    Attributes:
        name: its pairs: "3-6" or "3-6/4-5".
        margin: what was found of it.
        frequency_mhz, value: its points, [n]; no NaN among them.
        shown: a `Shown` a point, [n].
        at_least, at_most, no_reading: points that are clipped, or no reading at all, [n].
        worst: position of its worst margin; None where nothing was evaluated.
    """

    name: str
    margin: Margin
    frequency_mhz: Floats
    value: Floats
    shown: NDArray[np.uint8]
    at_least: Flags
    at_most: Flags
    no_reading: Flags
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
    for end in dict.fromkeys(key.end for key in keys):
        rows = [row for row, key in enumerate(keys) if key.end == end and key in margins]
        traces = [(_trace(held, row, margins[keys[row]]), row) for row in rows]
        drawn = [(trace, row) for trace, row in traces if trace.value.size >= _FEWEST_POINTS]
        if not drawn:
            continue
        drawn.sort(key=lambda pair: _badness(pair[0].margin))
        at, limit = _limit(held, drawn[0][1])
        name = phrases.name(held.curves.parameter)
        title = phrases.subject(held.curves.parameter, end, ())
        shown = tuple(trace for trace, _ in drawn)
        yield Panel(name, title, held.rule.unit, held.sense, shown, at, limit)


def _trace(held: "Held", row: int, margin: Margin) -> Trace:
    curves, seen = held.curves, held.evaluation
    there = np.flatnonzero(~np.isnan(curves.value[row]))
    low, high = curves.low[row, there], curves.high[row, there]
    shown = np.full(there.size, Shown.INFORMATION, dtype=np.uint8)
    shown[seen.evaluated[row, there]] = Shown.JUDGED
    shown[np.isnan(_limit_of(held, row)[there])] = Shown.NO_LIMIT
    worst = None
    if margin.worst_margin_mhz is not None:
        worst = int(np.searchsorted(there, held.worst.margin_at[row]))
    bottomless, endless = np.isneginf(low), np.isposinf(high)
    return Trace(
        name="/".join(margin.pairs),
        margin=margin,
        frequency_mhz=curves.frequency_mhz[there],
        value=curves.value[row, there],
        shown=shown,
        at_least=endless & ~bottomless,
        at_most=bottomless & ~endless,
        no_reading=bottomless & endless,
        worst=worst,
    )


def _limit_of(held: "Held", row: int) -> Floats:
    """The limit at each frequency of the axis; it may differ between the curves."""
    value = held.evaluation.limit.value
    mine: Floats = value if value.ndim == 1 else value[row]
    return mine


def _limit(held: "Held", row: int) -> tuple[Floats, Floats]:
    value = _limit_of(held, row)
    there: Counts = np.flatnonzero(~np.isnan(value))
    return held.curves.frequency_mhz[there], value[there]


def _badness(margin: Margin) -> tuple[bool, int, bool, float]:
    """What is required first, of it what fails, then by margin."""
    order = (Outcome.FAIL, Outcome.UNDECIDED, Outcome.PASS, Outcome.NOT_EVALUATED)
    fails = 0 if margin.outcome is Outcome.FAIL else order.index(Outcome.PASS)
    least = margin.worst_margin_db
    off = float("inf") if least is None else least
    return margin.obligation != "required", fails, margin.unit != "dB", off
