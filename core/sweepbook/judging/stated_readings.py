"""What a stated figure may mean: every way to read the same figure from the record.

Sources differ in two things that no document at hand settles: whether a worst figure is taken over
the points for information as well, and whether a skew is that of the delays over frequency or the
one they print. The first reading is always the judged one.
"""

from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from typing import Any, NamedTuple

import numpy as np

from sweepbook.judging.assessment import ScalarMargin
from sweepbook.judging.curves import F64, UNORDERED, Key
from sweepbook.judging.derive import Places
from sweepbook.judging.evaluate import Evaluation
from sweepbook.judging.figures import Figure
from sweepbook.judging.hold import Held
from sweepbook.judging.parts import Parts
from sweepbook.judging.settle import TOLERANCE
from sweepbook.judging.worst import Question, Worst, evaluate_all

WORST_MARGIN = "worst_margin"
SKEW = "delay_skew"


class Reading(NamedTuple):
    """One way to read a stated figure.

    Attributes:
        value: nominal.
        low, high: the true one lies between.
        at_mhz: where; None for a single figure.
        frequency_agrees: the stated frequency may be the worst one; None where none is stated.
    """

    value: float
    low: float
    high: float
    at_mhz: float | None = None
    frequency_agrees: bool | None = None


def readings(
    item: Mapping[str, Any],
    figure: str,
    unit: str,
    held: Held | None,
    parts: Parts,
    figures: Mapping[str, Sequence[Figure]],
) -> Iterator[Reading]:
    """Every reading of one figure of a stated item, the judged one first.

    Args:
        item: of stated.items.
        figure: "worst_margin" or "worst_value".
        unit: of the stated figure.
        held: the curves of its parameter as judged, if there are any.
        parts: the record as judged.
        figures: its single figures as exported.
    """
    if held is not None:
        rows = _rows(held.curves.keys, item.get("end"), tuple(item.get("pairs", ())))
        if held.worst.points[rows].any():
            yield _in_curves(held.evaluation, held.worst, rows, item[figure], figure)
        if held.evaluation.left_out and held.evaluation.for_information[rows].any():
            seen = held.evaluation
            ((every, worst),) = evaluate_all([Question(seen.curves, seen.limit, seen.sense, None)])
            yield _in_curves(every, worst, rows, item[figure], figure)
    pair = "/".join(item.get("pairs", ())) or None
    scalars = [
        margin
        for margin in parts.scalars
        if margin.parameter == item["parameter"]
        and margin.unit == unit
        and margin.margin is not None
    ]
    mine = [margin for margin in scalars if pair is None or margin.pair in (pair, None)]
    if mine:
        yield _in_scalars(mine, figure)
    if item["parameter"] != SKEW:
        return
    exported = [
        one
        for one in figures.get(SKEW, ())
        if one.unit == unit and (pair is None or one.pair in (pair, None))
    ]
    bound = _bound(held, scalars)
    if exported and bound is not None:
        yield _as_exported(exported, bound, figure)


@lru_cache(maxsize=256)
def _rows(keys: tuple[Key, ...], end: str | None, pairs: tuple[str, ...]) -> Places:
    """Rows of the curves that a stated item is about: what it leaves open is about all of them."""
    found = [row for row, key in enumerate(keys) if _concerns(end, pairs, key)]
    return np.array(found, dtype=np.intp)


def _concerns(end: str | None, pairs: tuple[str, ...], key: Key) -> bool:
    same = key.pairs == pairs
    if key.parameter in UNORDERED:
        same = sorted(key.pairs) == sorted(pairs)
    return (not pairs or same) and (end is None or key.end is None or end == key.end)


def _in_curves(
    seen: Evaluation, worst: Worst, rows: Places, stated: Mapping[str, Any], figure: str
) -> Reading:
    """The worst over some curves; the sign turns the greatest into the least."""
    sign = 1.0
    if figure == WORST_MARGIN:
        columns = worst.margin_at[rows]
        values, lows, highs = seen.margin[rows, columns], worst.margin_low, worst.margin_high
    else:
        sign = 1.0 if seen.sense == "min" else -1.0
        columns = worst.value_at[rows]
        values, lows, highs = seen.curves.value[rows, columns], worst.value_low, worst.value_high
    if sign < 0.0:
        values, lows, highs = -values, -highs, -lows
    values = np.where(worst.points[rows] > 0, values, np.inf)
    value, least, most = (float(one.min()) for one in (values, lows[rows], highs[rows]))
    at = int(columns[values == value].min())
    ends = sorted((sign * least, sign * most))
    axis = seen.curves.frequency_mhz
    agrees = None
    if "frequency_mhz" in stated:
        near = _near(axis, float(stated["frequency_mhz"]))
        agrees = near.start <= at < near.stop  # the least value is below every upper end
        if not agrees:
            lowest = _lowest(seen, rows, near, margins=figure == WORST_MARGIN)
            agrees = bool((lowest <= most + TOLERANCE).any())
    return Reading(sign * value, ends[0], ends[1], float(axis[at]), agrees)


def _lowest(seen: Evaluation, rows: Places, near: slice, *, margins: bool) -> F64:
    """Lower ends of margins, or of values that count upwards, at some points of some curves."""
    columns = np.arange(near.start, near.stop)
    places = np.repeat(rows, columns.size), np.tile(columns, rows.size)
    if margins:
        low = seen.ends_at(*places).low
    else:
        ends = seen.curves.ends_at(*places)
        low = ends.low if seen.sense == "min" else -ends.high
    return np.where(seen.evaluated_at(*places), low, np.inf)


def _near(axis: F64, stated_mhz: float) -> slice:
    """Points that may be printed as the stated frequency: within half its last digit."""
    digits = repr(stated_mhz).partition(".")[2]
    half = 0.5 * 10.0 ** -len(digits) if digits.isdigit() and digits != "0" else 0.5
    first, last = np.searchsorted(axis, (stated_mhz - half - 1e-9, stated_mhz + half + 1e-9))
    return slice(int(first), int(last))


def _in_scalars(mine: Sequence[ScalarMargin], figure: str) -> Reading:
    one = min(mine, key=lambda margin: margin.margin or 0.0)
    if figure == WORST_MARGIN:
        shown, low, high = one.margin, one.margin_low, one.margin_high
    else:
        shown, low, high = one.value, one.value_low, one.value_high
    return Reading(shown or 0.0, -np.inf if low is None else low, np.inf if high is None else high)


def _bound(held: Held | None, scalars: Sequence[ScalarMargin]) -> float | None:
    """A limit that is one figure over all frequencies, as that of skew is; else None."""
    found = {scalar.limit for scalar in scalars}
    if held is not None:
        line = held.evaluation.limit.value
        found |= set(line[~np.isnan(line)].tolist())
    return found.pop() if len(found) == 1 else None


def _as_exported(exported: Sequence[Figure], bound: float, figure: str) -> Reading:
    """The greatest of the exported skews."""
    most = max(exported, key=lambda one: one.value)
    if figure == WORST_MARGIN:
        return Reading(bound - most.value, bound - most.high, bound - most.low)
    return Reading(most.value, most.low, most.high)
