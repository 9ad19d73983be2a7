"""Rows of the judged curves and figures: most of the database, so each costs little."""

from collections.abc import Iterable
from operator import attrgetter
from typing import TYPE_CHECKING

from sweepbook.judging.overview import ALL, wanted
from sweepbook.record import vocabulary
from sweepbook_plugins.asbuilt.values import Value, clean, finite

if TYPE_CHECKING:
    from sweepbook.judging.assessment import Assessment, Margin, ScalarMargin
    from sweepbook_plugins.asbuilt.kinds import Kinds

KIND = ("parameter", "at_end", "pairs", "outcome", "obligation", "unit", "origin", "grade")
"""Order of the words of a result, which is that of the table of kinds."""

COLUMNS = (
    "test_id",
    "position",
    "kind_id",
    "worst_margin",
    "worst_margin_mhz",
    "limit_at_worst_margin",
    "worst_value",
    "worst_value_mhz",
    "limit_at_worst_value",
    "points_evaluated",
    "points_for_information",
    "remark",
)
"""Order of the cells, which is that of the table of values."""

_CURVE = attrgetter("parameter", "end", "pairs", "outcome", "obligation", "origin", "grade")
_NUMBERS = attrgetter(
    "worst_margin_db",
    "worst_margin_mhz",
    "limit_at_worst_margin_db",
    "worst_value_db",
    "worst_value_mhz",
    "limit_at_worst_value_db",
    "points_evaluated",
    "points_for_information",
)
_COUNTS = 6
"""Where the counts among them begin."""
_FIGURE = attrgetter("parameter", "pair", "outcome", "obligation", "unit", "origin", "grade")


def add_results(
    cells: list[Value],
    test_id: int,
    assessment: "Assessment",
    kinds: "Kinds",
    which: str = ALL,
) -> None:
    """Add the cells of one row a judged curve, then of one a judged figure, of those wanted."""
    margins, scalars, known = assessment.margins, assessment.scalars, kinds.known
    curves: Iterable[tuple[int, Margin]] = enumerate(margins)
    figures: Iterable[tuple[int, ScalarMargin]] = enumerate(scalars, len(margins))
    if which != ALL:
        kept = {*wanted((*margins, *scalars), which)}
        curves = [curve for curve in curves if curve[0] in kept]
        figures = [figure for figure in figures if figure[0] in kept]
    for position, margin in curves:
        curve = _CURVE(margin)
        kind = known.get(curve) or kinds.number(curve, _words_of_curve(*curve))
        numbers = _NUMBERS(margin)
        try:
            total = sum(numbers)
        except TypeError:  # one is None
            total = None
        if total is None or total - total != 0.0:  # one is infinite, or none at all
            numbers = (*map(finite, numbers[:_COUNTS]), *numbers[_COUNTS:])
        remark = margin.reason
        cells += (test_id, position, kind, *numbers, clean(remark) if remark else None)
    for position, scalar in figures:
        figure = _FIGURE(scalar)
        kind = known.get(figure) or kinds.number(figure, _words_of_figure(*figure))
        limit, remark = finite(scalar.limit), scalar.reason
        near, far = (finite(scalar.margin), None, limit), (finite(scalar.value), None, limit)
        told = clean(remark) if remark else None
        cells += (test_id, position, kind, *near, *far, None, None, told)


def _words_of_curve(
    parameter: str,
    end: str | None,
    pairs: tuple[str, ...],
    outcome: str,
    obligation: str,
    origin: str,
    grade: str | None,
) -> tuple[str | None, ...]:
    known = vocabulary.load().get(parameter)
    unit = known.unit if known else "dB"
    told = clean("/".join(pairs)) or None
    return clean(parameter), end, told, str(outcome), obligation, unit, str(origin), grade


def _words_of_figure(
    parameter: str,
    pair: str | None,
    outcome: str,
    obligation: str,
    unit: str,
    origin: str,
    grade: str | None,
) -> tuple[str | None, ...]:
    told = None if pair is None else clean(pair)
    return clean(parameter), None, told, str(outcome), obligation, unit, str(origin), grade
