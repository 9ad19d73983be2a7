"""The rule about stated worst margins and worst values."""

from collections.abc import Iterator

import numpy as np

from sweepbook.judging.curves import OTHER_END
from sweepbook.judging.phrases import name
from sweepbook.judging.working import StatedFigure
from sweepbook.limits.shapes import line
from sweepbook.rules.case import Case
from sweepbook.rules.items import Item, concerns, is_in_doubt, lacks_of, others, scalars_of
from sweepbook.rules.model import Hit
from sweepbook.rules.words import interchanged, interval, where

FLOATING_POINT = 1e-9  # far below any printed digit, far above the rounding of a double
Interval = tuple[float, float]


def stated_figures_follow(case: Case, figure: str) -> Iterator[Hit]:
    """Yield every stated figure that no reading of the source's own data yields.

    A stated margin may be a whole last digit off, since an instrument may round value and limit
    before it subtracts. Where the sweep is thinned or incomplete the worst point may not be in
    it, so that only a figure better than the sweep's is surely wrong. An instrument may also take
    the worst of all points, those for information included, or of a single figure beside a sweep.
    Nothing is held against curves that are themselves in doubt.

    Args:
        case: the record, judged.
        figure: "worst_margin" or "worst_value".
    """
    for found in case.needed_working.stated_figures:
        if found.figure != figure or found.agrees or is_in_doubt(case, found):
            continue
        readings = [(found.low, found.high), *found.others, *_other_readings(case, found)]
        if all(_is_surely_wrong(case, found, reading) for reading in readings):
            yield Hit(
                found.path,
                {
                    "parameter": name(found.parameter),
                    "where": where(found.end, found.pairs),
                    "stated": found.stated,
                    "unit": found.unit,
                    "computed": interval(found.low, found.high),
                    "elsewhere": _elsewhere(case, found),
                },
            )


def _elsewhere(case: Case, found: StatedFigure) -> str:
    """Words for the curve of the other end, where the figure is the worst of that; else ""."""
    if found.end is None or not found.pairs:
        return ""
    other = OTHER_END[found.end]
    for margin in case.assessment.margins:
        same = margin.parameter == found.parameter and {*margin.pairs} == {*found.pairs}
        if not (same and margin.end == other):
            continue
        of_margin = found.figure == "worst_margin"
        computed = margin.worst_margin_db if of_margin else margin.worst_value_db
        if computed is not None and abs(computed - found.stated) <= _slack(found):
            return interchanged(other)
    return ""


def _slack(found: StatedFigure) -> float:
    """How far a figure may be off: an instrument may round value and limit before it subtracts."""
    digits = 2.0 if found.figure == "worst_margin" else 1.0
    return digits * found.half_digit + FLOATING_POINT


def _is_surely_wrong(case: Case, found: StatedFigure, computed: Interval) -> bool:
    slack = _slack(found)
    above = found.stated - slack > computed[1]
    below = found.stated + slack < computed[0]
    if not lacks_of(case, found.parameter):
        return above or below
    largest_is_worst = found.figure == "worst_value" and _sense(case, found) == "max"
    return below if largest_is_worst else above


def _other_readings(case: Case, found: StatedFigure) -> Iterator[Interval]:
    item = {"parameter": found.parameter, "end": found.end, "pairs": found.pairs}
    for scalar in scalars_of(case, item):
        value = scalar.margin if found.figure == "worst_margin" else scalar.value
        if value is not None and scalar.unit == found.unit:
            yield value, value
    if found.parameter in case.needed_working.judged_curves:
        for one in (item, *others(case, item)):
            yield _over_all_points(case, found, one)


def _over_all_points(case: Case, found: StatedFigure, item: Item) -> Interval:
    """The figure over all points within the limit's range, those for information included."""
    curves = case.needed_working.judged_curves[found.parameter]
    rows = [row for row, key in enumerate(curves.keys) if concerns(item, *key)]
    limit = line(case.needed_table, found.parameter, curves.frequency_mhz, case.interpretations)
    low, high = curves.low[rows], curves.high[rows]
    inside = np.isfinite(limit.value) & np.isfinite(low)
    largest_is_worst = _sense(case, found) == "max"
    if found.figure == "worst_margin":
        ends = (
            (limit.low - high, limit.high - low)
            if largest_is_worst
            else (low - limit.high, high - limit.low)
        )
        largest_is_worst = False
    else:
        ends = (low, high)
    sign = -1.0 if largest_is_worst else 1.0
    first, last = (
        sign * float(np.min(np.where(inside, sign * end, np.inf), initial=np.inf)) for end in ends
    )
    return first, last


def _sense(case: Case, found: StatedFigure) -> str:
    limit = case.needed_table.parameters.get(found.parameter)
    return "min" if limit is None else limit.sense
