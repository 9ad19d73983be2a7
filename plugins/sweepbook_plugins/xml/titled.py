"""Rows whose columns are titled by elements or a text beside them, as in a table on paper."""

from collections.abc import Callable, Collection, Sequence
from typing import TYPE_CHECKING

from sweepbook.dialect.raw import Fault
from sweepbook_plugins.xml import named_cells
from sweepbook_plugins.xml.found import listed
from sweepbook_plugins.xml.layout import TitlesForm
from sweepbook_plugins.xml.strange import Cells, not_plain, others_in, wrong_place
from sweepbook_plugins.xml.table import Columns, Rows
from sweepbook_plugins.xml.titles import fault, parted, texts_at, titles_of
from sweepbook_plugins.xml.tree import every, text_at, text_of

if TYPE_CHECKING:
    from lxml.etree import _Element

    from sweepbook_plugins.xml.paths import Path

_NO_AXIS = (
    "no column has the title {0!r}, as that of the frequencies is called, among {1}, so that no "
    "curve is read from these rows; see {2}.frequency"
)


def read(
    table: "_Element",
    path: "Path",
    titles: TitlesForm,
    ignored: Collection["Path"],
    place: Callable[[], str],
) -> Rows:
    """The rows in an element; there may be none.

    Args:
        table: the element.
        path: of its rows.
        titles: how its columns are titled.
        ignored: paths from a row of what means nothing.
        place: where the element stands, for messages.

    Raises:
        Fault: a row has not as many cells as there are titles, or something else in the place of
            one, no column has a title, or two have one: then nobody can tell which curve a value
            is of.
    """
    if titles.called:
        return named_cells.read(table, path, titles, titles.called, ignored, place)
    return _in_order(table, path, titles, ignored, place)


def _in_order(
    table: "_Element",
    path: "Path",
    titles: TitlesForm,
    ignored: Collection["Path"],
    place: Callable[[], str],
) -> Rows:
    """The rows where cells stand in the order of their titles."""
    rows = every(table, path)
    called = titles_of(table, titles)
    if not rows or not called:
        return Rows((), {}, lambda position: 0)
    if wrong := fault(called, titles):
        raise Fault(place(), wrong)
    lines = [row.sourceline or 0 for row in rows]
    cells = [_cells(row, titles, len(called)) for row in rows]
    held = Cells(titles.cells, titles.axis, tuple(ignored), titles.where)
    strange = [row for row in rows if not_plain(row, held, len(called))]
    for at, row in enumerate(cells):
        if len(row) != len(called):
            raise Fault(
                _where(rows, at, place),
                f"the row has {len(row)} cells where there are {len(called)} titles; see "
                f"{titles.where} with its titles, cells and separator",
            )
    if strange and (found := wrong_place(rows, held)):
        raise Fault(_where(rows, found.row, place), found.message)
    columns: Columns = {}
    for at, title in enumerate(called):  # all of what is no curve, one column after the other
        columns[title] = [*columns.get(title, ()), *(row[at] for row in cells)]
    frequency: Sequence[str] = ()
    if titles.frequency:
        if titles.frequency not in columns:
            why = _NO_AXIS.format(titles.frequency, listed(called), titles.where)
            return Rows((), {}, lines.__getitem__, why=why)
        frequency = columns.pop(titles.frequency)
    if titles.axis:
        frequency = [(text_at(row, titles.axis) or "").strip() for row in rows]
    tag = path.steps[0].tag if len(path.steps) == 1 else ""
    whole = not strange and not path.steps[0].conditions
    others = others_in(strange, held)
    return Rows(frequency, columns, lines.__getitem__, others, tag=tag if whole else "")


def _where(rows: "Sequence[_Element]", at: int, place: Callable[[], str]) -> str:
    """Where a row stands, for messages."""
    return f"line {rows[at].sourceline or 0}, {place().partition(', ')[2]}, row {at + 1}"


def _cells(row: "_Element", form: TitlesForm, count: int) -> list[str]:
    """The cells of a row; a separator behind the last of so many begins no further one."""
    if form.cells is not None and form.cells.steps:
        return texts_at(row, form.cells)
    text = text_of(row) if form.cells is None else text_at(row, form.cells) or ""
    cells = parted(text, form.separator)
    return cells[:-1] if len(cells) == count + 1 and not cells[-1] else cells
