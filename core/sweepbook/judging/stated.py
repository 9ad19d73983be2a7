"""Every stated worst margin and worst value beside what the sweeps yield, on intervals.

A stated figure agrees where its interval (half its last digit to each side) meets that of the
recomputed one in one of the readings it may have. A stated frequency agrees where the point there
may be the worst one, given the digits of the source.
"""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from sweepbook.judging.assessment import ScalarMargin
from sweepbook.judging.digits import half_digit
from sweepbook.judging.figures import Figure
from sweepbook.judging.parts import Parts
from sweepbook.judging.settle import TOLERANCE
from sweepbook.judging.stated_readings import Reading, readings
from sweepbook.judging.working import StatedFigure

UNITS = {"db": "dB", "ns": "ns", "m": "m", "ohm": "ohm", "percent": "percent"}
PREFIXES = {"worst_margin": "margin_", "worst_value": "value_"}


def stated_figures(
    document: Mapping[str, Any], parts: Parts, figures: Mapping[str, Sequence[Figure]]
) -> tuple[StatedFigure, ...]:
    """Compare what can be compared; figures of parameters without a limit are passed over.

    Args:
        document: of the record.
        parts: its evidence as judged.
        figures: its single figures as exported, by parameter.
    """
    return tuple(_compared(document, parts, figures))


def _compared(
    document: Mapping[str, Any], parts: Parts, figures: Mapping[str, Sequence[Figure]]
) -> Iterator[StatedFigure]:
    held = {one.rule.parameter: one for one in parts.held}
    scalars: dict[tuple[str, str], list[ScalarMargin]] = {}
    for margin in parts.scalars:
        if margin.margin is not None:
            scalars.setdefault((margin.parameter, margin.unit), []).append(margin)
    for position, item in enumerate(document.get("stated", {}).get("items", ())):
        for figure, prefix in PREFIXES.items():
            if figure not in item:
                continue
            name = next(key for key in item[figure] if key.startswith(prefix))
            unit = UNITS[name.removeprefix(prefix)]
            parameter = item["parameter"]
            exported = [one for one in figures.get(parameter, ()) if one.unit == unit]
            judged = scalars.get((parameter, unit), ())
            found: list[Reading] = []
            for one in readings(item, figure, held.get(parameter), judged, exported):
                found.append(one)
                if _settles(one, item[figure], name):
                    break
            if found:
                path = f"$.stated.items[{position}].{figure}"
                yield _fact(path, item, figure, name, unit, found)


def _settles(one: Reading, stated: Mapping[str, Any], name: str) -> bool:
    """Whether a reading agrees in all, so that no other one can change what is found."""
    return one.frequency_agrees is not False and _apart(one, stated, name) <= TOLERANCE


def _apart(one: Reading, stated: Mapping[str, Any], name: str) -> float:
    """How far a stated figure is from the interval of a reading; negative where they meet."""
    value, half = float(stated[name]), half_digit(stated)
    return max(value - half - one.high, one.low - value - half)


def _fact(
    path: str,
    item: Mapping[str, Any],
    figure: str,
    name: str,
    unit: str,
    found: Sequence[Reading],
) -> StatedFigure:
    stated = item[figure]
    value, half = float(stated[name]), half_digit(stated)
    apart = [_apart(one, stated, name) for one in found]
    told = [one.frequency_agrees for one in found if one.frequency_agrees is not None]
    return StatedFigure(
        path=path,
        parameter=item["parameter"],
        end=item.get("end"),
        pairs=tuple(item.get("pairs", ())),
        figure=figure,
        stated=value,
        half_digit=half,
        low=found[0].low,
        high=found[0].high,
        recomputed=found[0].value,
        agrees=min(apart) <= TOLERANCE,
        stated_mhz=stated.get("frequency_mhz"),
        recomputed_mhz=found[0].at_mhz,
        frequency_agrees=any(told) if told else None,
        unit=unit,
    )
