"""The sheet of margins: one row a judged curve, one a judged single figure."""

import math
from collections.abc import Iterator
from typing import NamedTuple

from sweepbook.judging.assessment import Assessment, Margin, Outcome, ScalarMargin
from sweepbook_plugins.xlsx.fields import title, unit
from sweepbook_plugins.xlsx.layout import Cell, Column, Layout
from sweepbook_plugins.xlsx.links import NO_LABEL
from sweepbook_plugins.xlsx.look import Kind

ALL, WORST, NONE = "all", "worst", "none"


class Judged(NamedTuple):
    """A row: a curve or a single figure of a record, in `unit`."""

    label: str
    record_id: str
    part: Margin | ScalarMargin
    unit: str


def judged(assessment: Assessment, which: str = ALL) -> Iterator[Judged]:
    """The rows of a record: curves first, single figures after, in the judgement's order.

    Args:
        assessment: of the record.
        which: ALL of them; of each parameter the one nearest to failing (WORST); or NONE.
    """
    if which == NONE:
        return
    every = _all(assessment)
    if which == ALL:
        yield from every
        return
    groups: dict[tuple[str, type], list[Judged]] = {}
    for row in every:
        groups.setdefault((row.part.parameter, type(row.part)), []).append(row)
    for rows in groups.values():
        yield min(rows, key=_nearest)


def _nearest(row: Judged) -> tuple[bool, float]:
    """What fails first, then by margin; what has none comes last."""
    margin = row.part.worst_margin_db if isinstance(row.part, Margin) else row.part.margin
    return row.part.outcome is not Outcome.FAIL, math.inf if margin is None else margin


def _all(assessment: Assessment) -> Iterator[Judged]:
    label, record_id = assessment.record.label or NO_LABEL, assessment.record.record_id
    for margin in assessment.margins:
        yield Judged(label, record_id, margin, unit(margin.parameter))
    for scalar in assessment.scalars:
        yield Judged(label, record_id, scalar, scalar.unit)


def _pairs(part: Margin | ScalarMargin) -> str | None:
    return "/".join(part.pairs) if isinstance(part, Margin) else part.pair


def _of(part: Margin | ScalarMargin, of_curve: str, of_figure: str = "") -> Cell:
    """A member by its name for curves and for single figures; None where it has none."""
    name = of_curve if isinstance(part, Margin) else of_figure
    value: Cell = getattr(part, name) if name else None
    return value


_MARGIN = ("worst_margin_db", "margin")
_AT_LEAST, _AT_MOST = ("margin_low_db", "margin_low"), ("margin_high_db", "margin_high")
_LIMIT, _VALUE = ("limit_at_worst_margin_db", "limit"), ("worst_value_db", "value")
_LIMIT_AT_VALUE = "limit_at_worst_value_db"
_COLUMNS: tuple[Column[Judged], ...] = (
    Column("Link", 15, Kind.TEXT, lambda r: r.label),
    Column("Parameter", 34, Kind.TEXT, lambda r: title(r.part.parameter)),
    Column("End", 6, Kind.TEXT, lambda r: _of(r.part, "end")),
    Column("Pair, or disturbing / disturbed", 12, Kind.TEXT, lambda r: _pairs(r.part)),
    Column("Outcome", 12, Kind.WORD, lambda r: r.part.outcome.value),
    Column("Unit", 8, Kind.TEXT, lambda r: r.unit),
    Column("Worst margin", 9, Kind.FIGURE, lambda r: _of(r.part, *_MARGIN)),
    Column("Worst margin at, MHz", 10, Kind.FIGURE, lambda r: _of(r.part, "worst_margin_mhz")),
    Column("Limit at worst margin", 10, Kind.FIGURE, lambda r: _of(r.part, *_LIMIT)),
    Column("Worst value", 9, Kind.FIGURE, lambda r: _of(r.part, *_VALUE)),
    Column("Worst value at, MHz", 10, Kind.FIGURE, lambda r: _of(r.part, "worst_value_mhz")),
    Column("Limit at worst value", 10, Kind.FIGURE, lambda r: _of(r.part, _LIMIT_AT_VALUE)),
    Column("Obligation", 12, Kind.TEXT, lambda r: r.part.obligation),
    Column("Points evaluated", 11, Kind.COUNT, lambda r: _of(r.part, "points_evaluated")),
    Column(
        "Points for information", 13, Kind.COUNT, lambda r: _of(r.part, "points_for_information")
    ),
    Column("Curve or figure", 13, Kind.TEXT, lambda r: r.part.origin.value),
    Column("Limit known to grade", 9, Kind.TEXT, lambda r: r.part.grade),
    Column("True margin at least", 9, Kind.FIGURE, lambda r: _of(r.part, *_AT_LEAST)),
    Column("True margin at most", 9, Kind.FIGURE, lambda r: _of(r.part, *_AT_MOST)),
    Column("Remark", 90, Kind.PROSE, lambda r: r.part.reason or None),
    Column("Record", 64, Kind.TEXT, lambda r: r.record_id),
)

MARGINS = Layout("Margins", _COLUMNS, frozen=4, printed=13)
