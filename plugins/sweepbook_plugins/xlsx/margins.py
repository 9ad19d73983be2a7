"""The sheet of margins: one row a judged curve, one a judged single figure."""

from collections.abc import Iterator

from sweepbook.judging.assessment import Assessment, Margin, ScalarMargin
from sweepbook.judging.overview import ALL, Part, wanted
from sweepbook_plugins.xlsx.fields import title, unit, value_of, worked_out
from sweepbook_plugins.xlsx.layout import Column, Layout, Row
from sweepbook_plugins.xlsx.look import Kind

_COLUMNS = (
    Column("Link", 15, Kind.TEXT),
    Column("Parameter", 34, Kind.TEXT),
    Column("End", 6, Kind.TEXT),
    Column("Pair, or disturbing / disturbed", 12, Kind.TEXT),
    Column("Outcome", 12, Kind.WORD),
    Column("Unit", 8, Kind.TEXT),
    Column("Worst margin", 9, Kind.FIGURE),
    Column("Worst margin at, MHz", 10, Kind.FIGURE),
    Column("Limit at worst margin", 10, Kind.FIGURE),
    Column("Worst value", 9, Kind.FIGURE),
    Column("Worst value at, MHz", 10, Kind.FIGURE),
    Column("Limit at worst value", 10, Kind.FIGURE),
    Column("Obligation", 12, Kind.TEXT),
    Column("Points evaluated", 11, Kind.COUNT),
    Column("Points for information", 13, Kind.COUNT),
    Column("Curve or figure", 13, Kind.TEXT),
    Column("Limit known to grade", 9, Kind.TEXT),
    Column("True margin at least", 9, Kind.FIGURE),
    Column("True margin at most", 9, Kind.FIGURE),
    Column("Remark", 90, Kind.PROSE),
    Column("Record", 64, Kind.TEXT),
)

MARGINS = Layout("Margins", _COLUMNS, frozen=4, printed=13, on_paper=False)


def judged(assessment: Assessment, label: str, which: str = ALL) -> Iterator[Row]:
    """The rows of a record: curves first, single figures after, in the judgement's order.

    Args:
        assessment: of the record.
        label: of the link.
        which: ALL of them; of each parameter the one nearest to failing (WORST); or NONE.
    """
    record_id = assessment.record.record_id
    every: list[Part] = [*assessment.margins, *assessment.scalars]
    for place in wanted(every, which):
        part = every[place]
        row = _of_curve(part) if isinstance(part, Margin) else _of_figure(part)
        yield label, *row, record_id


def _of_curve(curve: Margin) -> Row:
    return (
        title(curve.parameter),
        curve.end,
        "/".join(curve.pairs),
        curve.outcome.value,
        unit(curve.parameter),
        worked_out(curve.worst_margin_db),
        curve.worst_margin_mhz,
        worked_out(curve.limit_at_worst_margin_db),
        value_of(curve),
        curve.worst_value_mhz,
        worked_out(curve.limit_at_worst_value_db),
        curve.obligation,
        curve.points_evaluated,
        curve.points_for_information,
        curve.origin.value,
        curve.grade,
        worked_out(curve.margin_low_db),
        worked_out(curve.margin_high_db),
        curve.reason or None,
    )


def _of_figure(figure: ScalarMargin) -> Row:
    """The same of a single figure, which has no end, no frequency and no points."""
    return (
        title(figure.parameter),
        None,
        figure.pair,
        figure.outcome.value,
        figure.unit,
        worked_out(figure.margin),
        None,
        worked_out(figure.limit),
        value_of(figure),
        None,
        None,
        figure.obligation,
        None,
        None,
        figure.origin.value,
        figure.grade,
        worked_out(figure.margin_low),
        worked_out(figure.margin_high),
        figure.reason or None,
    )
