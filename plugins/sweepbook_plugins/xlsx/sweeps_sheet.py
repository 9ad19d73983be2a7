"""One sheet of sweeps: charts on the left, which print, and the figures that they draw beside them.

The rows of the figures are as many as the longest axis has points; each group has its own columns.
"""

import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any, NamedTuple

from sweepbook_plugins.xlsx.chart import HEIGHT, WIDTH, chart
from sweepbook_plugins.xlsx.look import LINE_HEIGHT, Kind
from sweepbook_plugins.xlsx.rows import Rows, column_name, number_cell, text_cell
from sweepbook_plugins.xlsx.styles import Styles

if TYPE_CHECKING:
    from sweepbook_plugins.xlsx.sweeps import Group, Test

ACROSS = 2
"""Charts in a row."""
COLUMN, ROW = 64, 20
"""Pixels of a column and a row as they are by default."""
TITLES, FIRST = 4, 5
"""Rows, counted from 1: of the titles of columns, and the first of the figures."""
_CHART_COLUMNS = ACROSS * math.ceil(WIDTH / COLUMN) + 1
_CHART_ROWS = math.ceil(HEIGHT / ROW) + 1
_WORST = ("Plot", "Curve", "Frequency, MHz", "Value", "Limit", "Worst margin", "Unit")
Cells = Iterator[tuple[int, Kind, str | float | None]]


class Place(NamedTuple):
    """Where the figures of a group stand: columns counted from 0, rows from 1.

    Attributes:
        sheet: its name.
        column: of the frequencies; the limit and then the curves follow.
        last: row of the last frequency.
        worst: row of its worst point, columns `worst_at` and the next.
        worst_at: column of the frequency of that.
    """

    sheet: str
    column: int
    last: int
    worst: int
    worst_at: int


def write_sweeps(sheet: Any, workbook: Any, styles: Styles, test: "Test") -> None:  # noqa: ANN401
    """Write the sheet.

    Args:
        sheet: xlsxwriter's, still empty.
        workbook: which it is of.
        styles: its formats.
        test: what to draw.
    """
    places = list(_places(sheet.get_name(), test.groups))
    last = max((place.last for place in places), default=FIRST)
    pairs = zip(places, test.groups, strict=True)
    columns = max((place.column + 2 + len(group.names) for place, group in pairs), default=1)
    rows = Rows(sheet, columns)
    rows.add(1, [text_cell("A", styles.title, test.label)], 2 * LINE_HEIGHT)
    rows.add(2, [text_cell("A", styles.number(Kind.TEXT), _about(test, places))])
    for number, cells in enumerate(_table(test.groups, places, last), TITLES - 1):
        style = {TITLES - 1: styles.heading, TITLES: styles.header}.get(number)
        rows.add(number, _written(number, cells, styles, style))
    _look(sheet, styles, columns)
    for at, (group, place) in enumerate(zip(test.groups, places, strict=True)):
        row, across = divmod(at, ACROSS)
        drawn = chart(workbook, group, place)
        sheet.insert_chart(2 + row * _CHART_ROWS, across * (_CHART_COLUMNS // ACROSS), drawn)
    _print(sheet, len(test.groups))


def _about(test: "Test", places: Sequence[Place]) -> str:
    if not test.groups:
        return f"{test.about} None of its curves was held against a limit."
    start = column_name(places[0].worst_at - 2)
    return f"{test.about} The figures of the plots stand from column {start} on."


def _places(name: str, groups: "Sequence[Group]") -> Iterator[Place]:
    column = _CHART_COLUMNS + len(_WORST) + 1
    for at, group in enumerate(groups):
        last = FIRST + len(group.frequency_mhz) - 1
        yield Place(name, column, last, FIRST + at, _CHART_COLUMNS + 2)
        column += len(group.names) + 3


def _table(groups: "Sequence[Group]", places: Sequence[Place], last: int) -> Iterator[Cells]:
    """The cells of each row from the one above the titles on, from left to right."""
    yield _headings(groups, places)
    yield _titles(groups, places)
    worst = [list(_worst(group)) for group in groups]
    for at in range(last - FIRST + 1):
        yield _figures(at, worst, groups, places)


def _headings(groups: "Sequence[Group]", places: Sequence[Place]) -> Cells:
    if groups:
        yield _CHART_COLUMNS, Kind.TEXT, "Where each plot is nearest to its limit"
    for group, place in zip(groups, places, strict=True):
        yield place.column, Kind.TEXT, f"{group.title}, {group.unit} ({group.obligation})"


def _titles(groups: "Sequence[Group]", places: Sequence[Place]) -> Cells:
    for at, text in enumerate(_WORST if groups else ()):
        yield _CHART_COLUMNS + at, Kind.TEXT, text
    for group, place in zip(groups, places, strict=True):
        for at, text in enumerate(("Frequency, MHz", "Limit", *group.names)):
            yield place.column + at, Kind.TEXT, text


def _worst(group: "Group") -> Iterator[tuple[Kind, str | float | None]]:
    yield Kind.TEXT, group.title
    if group.worst is not None:
        row, at = group.worst
        yield Kind.TEXT, group.names[row]
        for value in (group.frequency_mhz[at], group.value[row, at], group.limit[at]):
            yield Kind.FIGURE, float(value)
        yield Kind.FIGURE, group.margin
        yield Kind.TEXT, group.unit


def _figures(
    at: int,
    worst: Sequence[Sequence[tuple[Kind, str | float | None]]],
    groups: "Sequence[Group]",
    places: Sequence[Place],
) -> Cells:
    """Of the point `at` of every group, and before them the worst point of the group `at`."""
    for column, (kind, value) in enumerate(worst[at] if at < len(worst) else ()):
        yield _CHART_COLUMNS + column, kind, value
    for group, place in zip(groups, places, strict=True):
        if at < len(group.frequency_mhz):
            line = (group.frequency_mhz[at], group.limit[at], *group.value[:, at])
            for column, value in enumerate(line):
                yield place.column + column, Kind.FIGURE, float(value)


def _written(number: int, cells: Cells, styles: Styles, style: int | None) -> Iterator[str]:
    """The cells as the sheet has them; what is no number, a hole of a curve, stays empty."""
    for column, kind, value in cells:
        name = column_name(column)
        if isinstance(value, str):
            yield text_cell(name, styles.number(kind) if style is None else style, value)
        elif value is not None and math.isfinite(value):
            look = styles.of_number(kind, value) if style is None else style
            yield number_cell(name, look, value)


def _look(sheet: Any, styles: Styles, columns: int) -> None:  # noqa: ANN401
    plot, curve = _CHART_COLUMNS, _CHART_COLUMNS + 1
    sheet.set_column(plot, plot, 24)
    sheet.set_column(curve, max(columns, curve), 11)
    sheet.hide_gridlines(2)
    sheet.freeze_panes(TITLES, 0)


def _print(sheet: Any, charts: int) -> None:  # noqa: ANN401
    """The charts alone go on paper, upright."""
    from sweepbook_plugins.xlsx.table import paper

    paper(sheet)
    sheet.set_portrait()
    down = math.ceil(charts / ACROSS) * _CHART_ROWS + 1
    sheet.print_area(0, 0, max(down, 2), _CHART_COLUMNS - 1)
