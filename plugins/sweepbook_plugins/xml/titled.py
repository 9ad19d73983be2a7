"""Rows whose columns are titled by elements or a text beside them, as in a table on paper."""

from collections import Counter
from collections.abc import Callable, Collection, Sequence
from typing import TYPE_CHECKING

from sweepbook.dialect.raw import Fault
from sweepbook_plugins.xml.found import listed
from sweepbook_plugins.xml.layout import TitlesForm
from sweepbook_plugins.xml.strange import Cells, not_plain, others_in, wrong_place
from sweepbook_plugins.xml.table import Columns, Rows
from sweepbook_plugins.xml.tree import every, text_at, text_of

if TYPE_CHECKING:
    from lxml.etree import _Element

    from sweepbook_plugins.xml.paths import Path

_OTHERWISE = (
    "where other texts of its element tell what a column is, {0}.titles = {{ path, texts }} makes "
    "one title of all of them"
)

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
    rows = every(table, path)
    called = _titles(table, titles)
    if not rows or not called:
        return Rows((), {}, lambda position: 0)
    if wrong := _no_titles(called, titles):
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


def _no_titles(called: Sequence[str], titles: TitlesForm) -> str:
    """What to say of texts that do not tell columns apart; "" where they do."""
    otherwise = _OTHERWISE.format(titles.where)
    if not any(called):
        where = f"{titles.where}.titles"
        return f"none of its {len(called)} columns has a text where {where} names one; {otherwise}"
    doubled = (of for of, times in Counter(called).items() if times > 1 and of not in titles.others)
    if double := next(doubled, None):
        return (
            f"the title {double!r} comes twice, so that nobody can tell its columns apart; "
            f"{otherwise}; if nothing is to be read from them, name it in other_columns of "
            f"{titles.where}"
        )
    return ""


def _where(rows: "Sequence[_Element]", at: int, place: Callable[[], str]) -> str:
    """Where a row stands, for messages."""
    return f"line {rows[at].sourceline or 0}, {place().partition(', ')[2]}, row {at + 1}"


def _titles(table: "_Element", form: TitlesForm) -> list[str]:
    """The titles of the columns: one element each, of one or several texts, or all in one text."""
    if form.texts:
        return [_made(each, form.texts) for each in every(table, form.path)]
    texts = _texts(table, form.path)
    if len(texts) != 1:
        return texts
    titles = _parted(texts[0], form.separator)
    return titles[:-1] if titles and not titles[-1] else titles


def _made(column: "_Element", texts: Sequence["Path"]) -> str:
    """A title of several texts, with a blank between those that are there."""
    found = ((text_at(column, path) or "").strip() for path in texts)
    return " ".join(filter(None, found))


def _cells(row: "_Element", form: TitlesForm, count: int) -> list[str]:
    """The cells of a row; a separator behind the last of so many begins no further one."""
    if form.cells is not None and form.cells.steps:
        return _texts(row, form.cells)
    text = text_of(row) if form.cells is None else text_at(row, form.cells) or ""
    cells = _parted(text, form.separator)
    return cells[:-1] if len(cells) == count + 1 and not cells[-1] else cells


def _texts(element: "_Element", path: "Path") -> list[str]:
    """The texts at a path, "" for those that hold nothing."""
    if not path.steps:
        return [(text_at(element, path) or "").strip()]
    found = every(element, path)
    if path.attribute is not None:
        return [(each.get(path.attribute) or "").strip() for each in found]
    return [text_of(each).strip() for each in found]


def _parted(text: str, separator: str | None) -> list[str]:
    return text.split() if separator is None else [of.strip() for of in text.split(separator)]
