"""What a plot shows in words, for its caption and for whoever cannot see it."""

from collections.abc import Iterator

import numpy as np

from sweepbook.judging.assessment import Outcome
from sweepbook_plugins.report import figures
from sweepbook_plugins.report.panel import Mark, Panel, Shown, Trace


def about(panel: Panel) -> str:
    """Where it is worst, what fails, and how many points are drawn in another way, and why."""
    return " ".join(_about(panel, panel.traces[0]))


def span(panel: Panel) -> str:
    """Over which frequencies it runs, and what its limit is."""
    first = panel.traces[0]
    start, last = (float(first.frequency_mhz[at]) for at in (0, -1))
    sense = "at least" if panel.sense == "min" else "at most"
    limit = f"limit {sense}" if panel.limit.size else "no limit"
    return f"{figures.megahertz(start)} to {figures.megahertz(last)} MHz, {limit}"


def _about(panel: Panel, first: Trace) -> Iterator[str]:
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
        if not every.any():
            continue
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


def worst(trace: Trace, unit: str) -> str:
    """The worst margin of a curve and where it lies, to stand beside the point."""
    margin = trace.margin
    if margin.worst_margin_db is None:
        return ""
    at = figures.megahertz(margin.worst_margin_mhz)
    return f"{figures.signed(margin.worst_margin_db)} {unit} at {at} MHz"
