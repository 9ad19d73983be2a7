"""What a stated figure may mean: every way to read the same figure from the record.

Sources differ in four things that no document at hand settles: whether a worst figure is taken
over the points for information as well, whether a skew is that of the delays over frequency or the
one they print, whether ACR-N that is given once for two pairs is the worse of both orders, and
whether a figure of a derived curve is that of the curve that they print or of what they made it
from, of which either was rounded by itself. The first reading is always the judged one.
"""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import lru_cache
from typing import Any, NamedTuple

import numpy as np

from sweepbook.judging.assessment import ScalarMargin
from sweepbook.judging.curves import F64, UNORDERED, Key
from sweepbook.judging.evaluate import Evaluation
from sweepbook.judging.figures import Figure
from sweepbook.judging.hold import Held
from sweepbook.judging.settle import TOLERANCE
from sweepbook.judging.worst import Worst

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
    held: Held | None,
    scalars: Sequence[ScalarMargin],
    exported: Sequence[Figure],
    alone: Callable[[str], Held | None],
    *,
    of_both: bool = False,
) -> Iterator[Reading]:
    """Every reading of one figure of a stated item, the judged one first.

    Args:
        item: of stated.items.
        figure: "worst_margin" or "worst_value".
        held: the curves of its parameter as judged, if there are any.
        scalars: single figures of its parameter and unit as judged, that have a margin.
        exported: the same as the source exported them.
        alone: gives the exported curves of a derived parameter, held by themselves; None for none.
        of_both: it may be the worst of both orders of its two pairs.
    """
    asked = item, figure, of_both
    if held is not None:
        yield from _in_held(held, *asked)
    pair = "/".join(item.get("pairs", ())) or None
    mine = [margin for margin in scalars if pair is None or margin.pair in (pair, None)]
    if mine:
        yield _in_scalars(mine, figure)
    if item["parameter"] == SKEW:
        own = [one for one in exported if pair is None or one.pair in (pair, None)]
        bound = _bound(held, scalars)
        if own and bound is not None:
            yield _as_exported(own, bound, figure)
    printed = alone(item["parameter"]) if held is not None else None
    if printed is not None:
        yield from _in_held(printed, *asked)


def _in_held(held: Held, item: Mapping[str, Any], figure: str, of_both: bool) -> Iterator[Reading]:
    """The readings in curves: in those that an item names, then in both orders of its pairs."""
    keys, end, pairs = held.curves.keys, item.get("end"), tuple(item.get("pairs", ()))
    rows = _rows(keys, end, pairs)
    yield from _in_rows(held, rows, item[figure], figure)
    if of_both:
        yield from _in_rows(held, rows + _rows(keys, end, pairs[::-1]), item[figure], figure)


def _in_rows(
    held: Held, rows: Sequence[int], stated: Mapping[str, Any], figure: str
) -> Iterator[Reading]:
    """The worst over the points of some curves that count, and over all of their points."""
    if rows and held.worst.points[list(rows)].any():
        yield _in_curves(held.evaluation, held.worst, rows, stated, figure)
    every = held.over_all_points
    if every and any(held.evaluation.for_information[row] for row in rows):
        yield _in_curves(*every, rows, stated, figure)


@lru_cache(maxsize=256)
def _rows(keys: tuple[Key, ...], end: str | None, pairs: tuple[str, ...]) -> tuple[int, ...]:
    """Rows of the curves that a stated item is about: what it leaves open is about all of them."""
    return tuple(row for row, key in enumerate(keys) if _concerns(end, pairs, key))


def _concerns(end: str | None, pairs: tuple[str, ...], key: Key) -> bool:
    same = key.pairs == pairs
    if key.parameter in UNORDERED:
        same = sorted(key.pairs) == sorted(pairs)
    return (not pairs or same) and (end is None or key.end is None or end == key.end)


def _in_curves(
    seen: Evaluation,
    worst: Worst,
    rows: Sequence[int],
    stated: Mapping[str, Any],
    figure: str,
) -> Reading:
    """The worst over some curves; the sign turns the greatest into the least."""
    margins = figure == WORST_MARGIN
    sign = 1.0 if margins or seen.sense == "min" else -1.0
    ends, told = [], []
    for row in rows:
        one = worst.figures[row]
        if margins:
            value, at, low, high = one.margin, one.margin_mhz, one.margin_low, one.margin_high
        else:
            value, at, low, high = one.value, one.value_mhz, one.value_low, one.value_high
        ends.append((low, high) if sign > 0.0 else (-high, -low))
        if worst.points[row] > 0:
            told.append((sign * value, at))
    value, at_mhz = min(told)  # of equals the lowest frequency
    least, most = map(_least, zip(*ends, strict=True))
    agrees = None
    if "frequency_mhz" in stated:
        first, last = _near(float(stated["frequency_mhz"]))
        agrees = first <= at_mhz < last  # the least value is below every upper end
        if not agrees:
            lowest = _lowest(seen, rows, (first, last), margins=margins)
            agrees = bool((lowest <= most + TOLERANCE).any())
    low, high = sorted((sign * least, sign * most))
    return Reading(sign * value, low, high, at_mhz, agrees)


def _least(values: Sequence[float]) -> float:
    """The least; no number where one of them is none."""
    return math.nan if math.isnan(sum(values)) and any(map(math.isnan, values)) else min(values)


def _lowest(
    seen: Evaluation, rows: Sequence[int], near: tuple[float, float], *, margins: bool
) -> F64:
    """Lower ends of margins, or of values that count upwards, at some points of some curves."""
    columns = np.arange(*np.searchsorted(seen.curves.frequency_mhz, near))
    places = np.repeat(rows, columns.size), np.tile(columns, len(rows))
    if margins:
        low = seen.ends_at(*places).low
    else:
        ends = seen.curves.ends_at(*places)
        low = ends.low if seen.sense == "min" else -ends.high
    return np.where(seen.evaluated_at(*places), low, np.inf)


def _near(stated_mhz: float) -> tuple[float, float]:
    """From where to before where a point may be printed as the stated frequency.

    That is within half its last digit.
    """
    digits = repr(stated_mhz).partition(".")[2]
    half = 0.5 * 10.0 ** -len(digits) if digits.isdigit() and digits != "0" else 0.5
    return stated_mhz - half - 1e-9, stated_mhz + half + 1e-9


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
