"""The rule about a stated figure beside the sweep at the frequency that is stated with it."""

from collections.abc import Iterator

import numpy as np

from sweepbook.judging.curves import F64, OTHER_END, Curves
from sweepbook.judging.derive import Places
from sweepbook.judging.phrases import name
from sweepbook.judging.working import LackKind, StatedFigure
from sweepbook.limits.shapes import line
from sweepbook.rules.case import Case
from sweepbook.rules.items import Item, concerns, is_in_doubt, lacks_of, others
from sweepbook.rules.model import Hit
from sweepbook.rules.stated_figures import stated_figures_follow
from sweepbook.rules.words import interchanged, interval, where

FLOATING_POINT = 1e-9
FIGURES = ("worst_margin", "worst_value")
_WHOLE = {LackKind.PARAMETER, LackKind.END, LackKind.PAIRS}
Interval = tuple[float, float]


def stated_figures_are_of_their_points(case: Case) -> Iterator[Hit]:
    """Yield every stated figure that no curve it is about has at the frequency stated with it.

    Only of parameters whose sweeps are too thin or too short to tell the worst point: of others
    the worst itself is held against what is stated. Allowed for are the digits of the frequency,
    between which the curve is taken to run straight; the curve as exported and as recomputed; the
    limit of the table and the one stated with the margin; and a whole last digit of a margin, since
    an instrument may round value and limit before it subtracts. What cannot be the worst figure at
    all, as a margin under a relaxed limit that is not in force, `stated_figures_follow` tells.
    """
    hits = [*_hits(case)]
    refuted = (
        {hit.path for of in FIGURES for hit in stated_figures_follow(case, of)} if hits else {}
    )
    yield from (hit for hit in hits if hit.path not in refuted)


def _hits(case: Case) -> Iterator[Hit]:
    """The same with those that are surely no worst figures of their curves either."""
    if not case.lacks:
        return
    items, half_mhz = dict(case.stated_items), _half_digit_mhz(case)
    for found in case.needed_working.stated_figures:
        lacks = lacks_of(case, found.parameter)
        if found.stated_mhz is None or not lacks or is_in_doubt(case, found):
            continue
        item = items[found.path.removesuffix(f".{found.figure}")]
        named = "pairs" in item and ("end" in item or found.end is None)
        if not named and not _WHOLE.isdisjoint(lack.kind for lack in lacks):
            continue
        computed = [*_computed(case, item, found, half_mhz)]
        digits = 2.0 if found.figure == "worst_margin" else 1.0
        slack = digits * found.half_digit + FLOATING_POINT
        apart = [max(low - found.stated, found.stated - high) for low, high in computed]
        if computed and min(apart) > slack:
            yield Hit(
                found.path,
                {
                    "parameter": name(found.parameter),
                    "where": where(found.end, found.pairs),
                    "what": found.figure.replace("_", " "),
                    "stated": found.stated,
                    "unit": found.unit,
                    "at_mhz": found.stated_mhz,
                    "computed": interval(*computed[apart.index(min(apart))]),
                    "elsewhere": _elsewhere(case, item, found, half_mhz),
                },
            )


def _elsewhere(case: Case, item: Item, found: StatedFigure, half_mhz: float) -> str:
    """Words for the curve of the other end, where it has exactly what is stated; else ""."""
    if found.end is None:
        return ""
    other = OTHER_END[found.end]
    beside = [*_computed(case, {**item, "end": other}, found, half_mhz)]
    slack = found.half_digit + FLOATING_POINT
    if not any(low - slack <= found.stated <= high + slack for low, high in beside):
        return ""
    return interchanged(other)


def _half_digit_mhz(case: Case) -> float:
    """Half the last digit that the frequencies of figures are stated with.

    That is of the frequency with most digits, since a 0 at the end of one does not come through.
    """
    digits = 0
    for _, item in case.stated_items:
        for figure in FIGURES:
            text = repr(float(item.get(figure, {}).get("frequency_mhz", 0.0)))
            decimals = text.partition(".")[2]
            if decimals.isdigit() and decimals != "0":
                digits = max(digits, len(decimals))
    return 0.5 * 10.0**-digits


def _computed(case: Case, item: Item, found: StatedFigure, half_mhz: float) -> Iterator[Interval]:
    """What the curves that a figure is about have there, in every reading.

    Nothing where one of them has no point at that frequency: it may be the one that is meant.
    """
    working, at_mhz = case.needed_working, found.stated_mhz or 0.0
    near = at_mhz - half_mhz - FLOATING_POINT, at_mhz + half_mhz + FLOATING_POINT
    read: list[Interval] = []
    for group in (working.judged_curves, working.measured_curves):
        curves = group.get(found.parameter)
        if curves is None:
            continue
        asked = [item, *others(case, item)]
        rows = [
            row for row, key in enumerate(curves.keys) if any(concerns(one, *key) for one in asked)
        ]
        for row in rows:
            there = [*_of_curve(case, item, found, curves, row, near)]
            if not there:
                return
            read += there
    yield from read


def _of_curve(
    case: Case, item: Item, found: StatedFigure, curves: Curves, row: int, near: Interval
) -> Iterator[Interval]:
    """What one curve may have between two frequencies; nothing where it has no point there."""
    first, last = np.searchsorted(curves.frequency_mhz, near)
    around = slice(max(first - 1, 0), last + 1)
    mhz, columns = curves.frequency_mhz[around], np.arange(curves.frequency_mhz.size)[around]
    ends = curves.ends_at(np.full(columns.size, row), columns)
    inside = (near[0] <= mhz) & (mhz <= near[1])
    if not np.any(inside & ~np.isnan(ends.low)):
        return
    if found.figure == "worst_value":
        yield _between(mhz, ends.low, ends.high, near)
        return
    for limit_low, limit_high in _limits(case, item, found, curves, columns):
        low, high = ends.low - limit_high, ends.high - limit_low
        if case.needed_table.parameters[found.parameter].sense == "max":
            low, high = limit_low - ends.high, limit_high - ends.low
        one = _between(mhz, low, high, near)
        if not np.isnan(one).any():
            yield one


def _limits(
    case: Case, item: Item, found: StatedFigure, curves: Curves, columns: Places
) -> Iterator[tuple[F64, F64]]:
    """What the limit may be at some points: by the table, or as stated."""
    table, stated = case.needed_table, item[found.figure]
    made = line(table, found.parameter, curves.frequency_mhz, case.interpretations)
    yield made.low[columns], made.high[columns]
    own = next((float(stated[key]) for key in stated if key.startswith("limit_")), None)
    if own is not None:
        yield (
            np.full(columns.size, own - found.half_digit),
            np.full(columns.size, own + found.half_digit),
        )


def _between(mhz: F64, low: F64, high: F64, near: Interval) -> Interval:
    """The least and the greatest of a curve between two frequencies, run straight."""
    there = ~(np.isnan(low) | np.isnan(high))
    if not there.any():
        return np.nan, np.nan
    at = np.concatenate([near, mhz[(near[0] <= mhz) & (mhz <= near[1]) & there]])
    least, most = (np.interp(at, mhz[there], ends[there]) for ends in (low, high))
    return float(least.min()), float(most.max())
