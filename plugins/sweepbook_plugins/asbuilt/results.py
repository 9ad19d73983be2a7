"""Rows of the judged curves and figures: most of the database, so each costs little."""

import math
from functools import lru_cache
from operator import attrgetter
from typing import TYPE_CHECKING

from sweepbook.record import vocabulary
from sweepbook_plugins.asbuilt.values import Value, clean, finite

if TYPE_CHECKING:
    from sweepbook.judging.assessment import Assessment, ScalarMargin

Cells = tuple[Value, ...]

COLUMNS = (
    "test_id",
    "position",
    "parameter",
    "at_end",
    "pairs",
    "outcome",
    "obligation",
    "worst_margin",
    "worst_margin_mhz",
    "limit_at_worst_margin",
    "worst_value",
    "worst_value_mhz",
    "limit_at_worst_value",
    "unit",
    "points_evaluated",
    "points_for_information",
    "origin",
    "grade",
    "remark",
)
"""Order of the cells, which is that of the table."""

_MARGIN = attrgetter(
    "parameter",
    "pairs",
    "end",
    "outcome",
    "obligation",
    "worst_margin_db",
    "worst_margin_mhz",
    "limit_at_worst_margin_db",
    "worst_value_db",
    "worst_value_mhz",
    "limit_at_worst_value_db",
    "points_evaluated",
    "points_for_information",
    "origin",
    "grade",
    "reason",
)


def results(test_id: int, assessment: "Assessment") -> list[Cells]:
    """One row a judged curve, then one a judged figure."""
    rows: list[Cells] = []
    for position, margin in enumerate(assessment.margins):
        (word, two, end, outcome, due, a, b, c, d, e, f, points, idle, origin, grade, why) = (
            _MARGIN(margin)
        )
        if not _all_finite(a, b, c, d, e, f):
            a, b, c, d, e, f = map(finite, (a, b, c, d, e, f))
        name, pairs, unit = _names(word, two)
        judged = (_plain(outcome), due, a, b, c, d, e, f, unit, points, idle, _plain(origin), grade)
        remark = clean(why) if why else None
        rows.append((test_id, position, name, end, pairs, *judged, remark))
    for position, scalar in enumerate(assessment.scalars, len(rows)):
        rows.append((test_id, position, *_of_figure(scalar)))
    return rows


def _all_finite(*figures: float | None) -> bool:
    """Whether each figure is a finite number; one is None, NaN or infinite as a rule not."""
    try:
        return math.isfinite(sum(figures))  # type: ignore[arg-type]
    except TypeError:
        return False


def _of_figure(scalar: "ScalarMargin") -> Cells:
    margin, limit, value = finite(scalar.margin), finite(scalar.limit), finite(scalar.value)
    pair, remark = scalar.pair, scalar.reason
    return (
        clean(scalar.parameter),
        None,
        None if pair is None else clean(pair),
        _plain(scalar.outcome),
        scalar.obligation,
        *(margin, None, limit, value, None, limit),
        scalar.unit,
        None,
        None,
        _plain(scalar.origin),
        scalar.grade,
        clean(remark) if remark else None,
    )


@lru_cache(maxsize=4096)
def _names(parameter: str, pairs: tuple[str, ...]) -> tuple[str, str | None, str]:
    """Parameter, pairs and unit of a curve as they go into its row."""
    known = vocabulary.load().get(parameter)
    unit = known.unit if known else "dB"
    return clean(parameter), clean("/".join(pairs)) or None, unit


@lru_cache(maxsize=64)
def _plain(word: str) -> str:
    """A word of an enumeration as plain text, which drivers take fastest."""
    return str(word)
