"""Every stated worst margin and worst value beside what the sweeps yield, on intervals.

A stated figure agrees where its interval (half its last digit to each side) meets the interval of
the recomputed one. A stated frequency agrees where the point there may be the worst one, given the
digits of the source.
"""

from collections.abc import Iterator, Mapping
from typing import Any, NamedTuple

import numpy as np

from sweepbook.judging.coverage import UNORDERED
from sweepbook.judging.curves import F64, Key
from sweepbook.judging.hold import Held
from sweepbook.judging.measured import half_digit
from sweepbook.judging.parts import Parts
from sweepbook.judging.settle import TOLERANCE
from sweepbook.judging.working import StatedFigure

UNITS = {"db": "dB", "ns": "ns", "m": "m", "ohm": "ohm", "percent": "percent"}
FIGURES = ("worst_margin", "worst_value")


class _Found(NamedTuple):
    value: float
    low: float
    high: float
    at_mhz: float | None
    frequency_agrees: bool | None


def stated_figures(document: Mapping[str, Any], parts: Parts) -> tuple[StatedFigure, ...]:
    """Compare what can be compared; figures of parameters without a limit are passed over.

    Args:
        document: of the record.
        parts: its evidence as judged.
    """
    return tuple(_compared(document, parts))


def _compared(document: Mapping[str, Any], parts: Parts) -> Iterator[StatedFigure]:
    held = {one.rule.parameter: one for one in parts.held}
    for position, item in enumerate(document.get("stated", {}).get("items", ())):
        for figure in FIGURES:
            stated = item.get(figure)
            if stated is None:
                continue
            prefix = "margin_" if figure == "worst_margin" else "value_"
            name = next(key for key in stated if key.startswith(prefix))
            unit = UNITS[name.removeprefix(prefix)]
            found = _in_curves(held.get(item["parameter"]), item, stated, figure)
            if found is None:
                found = _in_figures(parts, item, figure, unit)
            if found is None:
                continue
            half = half_digit(stated)
            value = float(stated[name])
            apart = max(value - half - found.high, found.low - value - half)
            yield StatedFigure(
                path=f"$.stated.items[{position}].{figure}",
                parameter=item["parameter"],
                end=item.get("end"),
                pairs=tuple(item.get("pairs", ())),
                figure=figure,
                stated=value,
                half_digit=half,
                low=found.low,
                high=found.high,
                recomputed=found.value,
                agrees=apart <= TOLERANCE,
                stated_mhz=stated.get("frequency_mhz"),
                recomputed_mhz=found.at_mhz,
                frequency_agrees=found.frequency_agrees,
                unit=unit,
            )


def _concerns(item: Mapping[str, Any], key: Key) -> bool:
    """Whether a stated item is about a curve: what it leaves open is about all of them."""
    pairs = tuple(item.get("pairs", ()))
    same = key.pairs == pairs
    if key.parameter in UNORDERED:
        same = sorted(key.pairs) == sorted(pairs)
    end = item.get("end")
    return (not pairs or same) and (end is None or key.end is None or end == key.end)


def _in_curves(
    held: Held | None, item: Mapping[str, Any], stated: Mapping[str, Any], figure: str
) -> _Found | None:
    if held is None:
        return None
    rows = [
        row
        for row, key in enumerate(held.curves.keys)
        if held.worst.points[row] and _concerns(item, key)
    ]
    if not rows:
        return None
    if figure == "worst_margin":
        value, low, high = held.evaluation.margin, held.evaluation.low, held.evaluation.high
        sign = 1.0
    else:
        value, low, high = held.curves.value, held.curves.low, held.curves.high
        sign = 1.0 if held.sense == "min" else -1.0
    seen = held.evaluation.evaluated[rows]
    axis = held.curves.frequency_mhz
    one, two, three = (np.where(seen, sign * matrix[rows], np.inf) for matrix in (value, low, high))
    if sign < 0.0:
        two, three = three, two
    at = int(np.argmin(one.min(axis=0)))
    least, most = float(two.min()), float(three.min())
    ends = sorted((sign * least, sign * most))
    agrees = None
    if "frequency_mhz" in stated:
        near = _near(axis, float(stated["frequency_mhz"]))
        agrees = bool((two[:, near] <= most + TOLERANCE).any())
    return _Found(sign * float(one.min()), ends[0], ends[1], float(axis[at]), agrees)


def _near(axis: F64, stated_mhz: float) -> slice:
    """Points that may be printed as the stated frequency: within half its last digit."""
    digits = repr(stated_mhz).partition(".")[2]
    half = 0.5 * 10.0 ** -len(digits) if digits.isdigit() and digits != "0" else 0.5
    first, last = np.searchsorted(axis, (stated_mhz - half - 1e-9, stated_mhz + half + 1e-9))
    return slice(int(first), int(last))


def _in_figures(parts: Parts, item: Mapping[str, Any], figure: str, unit: str) -> _Found | None:
    pair = "/".join(item.get("pairs", ())) or None
    mine = [
        margin
        for margin in parts.scalars
        if margin.parameter == item["parameter"]
        and margin.unit == unit
        and margin.margin is not None
        and (pair is None or margin.pair in (pair, None))
    ]
    if not mine:
        return None
    worst = min(mine, key=lambda margin: margin.margin or 0.0)
    shown = worst.margin if figure == "worst_margin" else worst.value
    low, high = (
        (worst.margin_low, worst.margin_high)
        if figure == "worst_margin"
        else (worst.value_low, worst.value_high)
    )
    if shown is None:
        return None
    return _Found(
        shown,
        -np.inf if low is None else low,
        np.inf if high is None else high,
        None,
        None,
    )
