"""Every stated worst margin and worst value beside what the sweeps yield, on intervals.

A stated figure agrees where its interval (half its last digit to each side) meets that of the
recomputed one in one of the readings it may have. A stated frequency agrees where the point there
may be the worst one, given the digits of the source.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import cache, partial
from typing import Any, NamedTuple

from sweepbook.judging.alone import as_exported
from sweepbook.judging.assessment import ScalarMargin
from sweepbook.judging.curves import Key
from sweepbook.judging.digits import half_digit
from sweepbook.judging.evidence import Evidence
from sweepbook.judging.hold import Held
from sweepbook.judging.one_order import stated_for_both
from sweepbook.judging.parts import Parts
from sweepbook.judging.settings import JudgeSettings
from sweepbook.judging.settle import TOLERANCE
from sweepbook.judging.stated_names import names_of
from sweepbook.judging.stated_readings import Reading, readings
from sweepbook.judging.working import StatedFigure
from sweepbook.limits.model import LimitTable

FIGURES = ("worst_margin", "worst_value")


def stated_figures(
    evidence: Evidence, parts: Parts, table: LimitTable, settings: JudgeSettings
) -> tuple[StatedFigure, ...]:
    """Compare what can be compared; figures of parameters without a limit are passed over.

    Args:
        evidence: of the record.
        parts: the same as judged.
        table: the limit table.
        settings: interpretations and grades.
    """
    alone = cache(partial(as_exported, evidence=evidence, table=table, settings=settings))
    return tuple(_compared(evidence, parts, alone))


def _compared(
    evidence: Evidence, parts: Parts, alone: Callable[[str], Held | None]
) -> Iterator[StatedFigure]:
    document, figures = evidence.document, evidence.figures
    held = {one.rule.parameter: one for one in parts.held}
    scalars: dict[tuple[str, str], list[ScalarMargin]] = {}
    for margin in parts.scalars:
        if margin.margin is not None:
            scalars.setdefault((margin.parameter, margin.unit), []).append(margin)
    both = stated_for_both(document)
    for position, item in enumerate(document.get("stated", {}).get("items", ())):
        for figure in FIGURES:
            if figure not in item:
                continue
            parameter, stated = item["parameter"], item[figure]
            name, unit, _ = names_of(stated)
            exported = [one for one in figures.get(parameter, ()) if one.unit == unit]
            judged = scalars.get((parameter, unit), ())
            value, half = float(stated[name]), half_digit(stated)
            found: list[Reading] = []
            apart: list[float] = []
            key = Key(parameter, item.get("end"), tuple(item.get("pairs", ())))
            asked = item, figure, held.get(parameter), judged, exported
            for one in readings(*asked, alone, of_both=key in both):
                found.append(one)
                apart.append(max(value - half - one.high, one.low - value - half))
                if one.frequency_agrees is not False and apart[-1] <= TOLERANCE:
                    break  # it agrees in all, so that no other one can change what is found
            if found:
                path = f"$.stated.items[{position}].{figure}"
                told = _Stated(path, item, figure, value, half, unit)
                yield _fact(told, found, min(apart) <= TOLERANCE)


class _Stated(NamedTuple):
    """A stated figure of an item, with half its last digit."""

    path: str
    item: Mapping[str, Any]
    figure: str
    value: float
    half: float
    unit: str


def _fact(stated: _Stated, found: Sequence[Reading], agrees: bool) -> StatedFigure:
    told = [one.frequency_agrees for one in found if one.frequency_agrees is not None]
    item = stated.item
    return StatedFigure(
        path=stated.path,
        parameter=item["parameter"],
        end=item.get("end"),
        pairs=tuple(item.get("pairs", ())),
        figure=stated.figure,
        stated=stated.value,
        half_digit=stated.half,
        low=found[0].low,
        high=found[0].high,
        recomputed=found[0].value,
        agrees=agrees,
        stated_mhz=item[stated.figure].get("frequency_mhz"),
        recomputed_mhz=found[0].at_mhz,
        frequency_agrees=any(told) if told else None,
        unit=stated.unit,
        others=() if agrees else tuple((one.low, one.high) for one in found[1:]),
    )
