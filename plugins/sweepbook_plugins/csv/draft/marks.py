"""Rows of several kinds told by their first cell: which there are, and what their titles are."""

from collections.abc import Mapping, Sequence, Set
from typing import NamedTuple

from sweepbook.draft import phrases
from sweepbook.draft.numbers import is_numeric
from sweepbook_plugins.csv.draft import whole_rows
from sweepbook_plugins.csv.draft.roles import axis_at
from sweepbook_plugins.csv.draft.text import Cells, Text
from sweepbook_plugins.csv.draft.whole_rows import Whole
from sweepbook_plugins.csv.draft.wide import Wide, by_titles

_COMMENTS = ("#", "//", "!", "%", "*", "--", "'")
_MOST_KINDS = 24
_LONGEST = 24
"""Characters of a mark."""
_LEAST_POINTS = 20
"""So many rows of one kind are points, if a column of them is an axis."""
_LEAST_TITLED = 3
"""So many are, where a title calls the axis so."""
_LEAST_TOLD = 2
"""So many kinds with titles of their own, or widths, show that the first cell tells rows."""
_FAR_FEWER = 4
"""So many times the rows are as many as the words of a column that names them."""


class Kind(NamedTuple):
    """Rows with one mark.

    Attributes:
        mark: their first cell.
        columns: titles, that of the mark among them.
        told: the line that holds the titles; "" where none does, and they are made up.
        places: positions of the rows, rising.
        whole: what they go on with behind these columns, where each holds a whole curve or the
            frequencies of some; else None.
    """

    mark: str
    columns: tuple[str, ...]
    told: str
    places: list[int]
    whole: Whole | None = None


class Kinds(NamedTuple):
    """The kinds of rows of a file.

    Attributes:
        remarks: positions of lines that are no data, with what each begins with.
        kinds: in the order in which they come.
        points: those that hold points, or curves.
    """

    remarks: Mapping[int, str]
    kinds: Sequence[Kind]
    points: Sequence[Kind]


def find(text: Text) -> Kinds | None:
    """The kinds of rows of a file; None where the first cell tells none."""
    remarks = _remarks(text)
    groups: dict[str, list[int]] = {}
    for at, row in enumerate(text.rows):
        if row and at not in remarks:
            groups.setdefault(row[0], []).append(at)
    for mark in _marks_of_titles(text, groups):
        remarks |= dict.fromkeys(groups.pop(mark), f"{mark}{text.delimiter}")
    if not 1 < len(groups) <= _MOST_KINDS:
        return None
    further = {
        (column, cell)
        for places in groups.values()
        for at in places[1:]
        for column, cell in enumerate(text.rows[at])
        if any(map(str.isalpha, cell))
    }
    kinds = [
        kind
        for mark, places in groups.items()
        if (kind := _kind(text, mark, places, remarks, further))
    ]
    points = [kind for kind in kinds if _are_points(text, kind)]
    told = sum(bool(kind.told) for kind in kinds)
    widths = {len(kind.columns) for kind in kinds if len(kind.places) > 1}
    if not points or max(told, len(widths)) < _LEAST_TOLD:
        return None
    return Kinds(remarks, kinds, points)


def _remarks(text: Text) -> dict[int, str]:
    """Positions of lines that are remarks, with the mark they begin with."""
    firsts: dict[str, int] = {}
    for row in filter(None, text.rows):
        firsts[row[0]] = firsts.get(row[0], 0) + 1
    found = {}
    for at, row in enumerate(text.rows):
        mark = next((mark for mark in _COMMENTS if row and text.lines[at].startswith(mark)), "")
        if mark and (row[0] == mark or firsts[row[0]] == 1):
            found[at] = mark
    return found


def _marks_of_titles(text: Text, groups: Mapping[str, Sequence[int]]) -> list[str]:
    """First cells of lines that each hold the mark of a kind and its titles."""
    found = []
    for mark, places in groups.items():
        rows = [text.rows[at] for at in places]
        marks = [row[1] for row in rows if len(row) > 1 and row[1] in groups]
        widths = [len(text.rows[groups[of][0]]) + 1 for of in marks]
        if len({*marks}) == len(rows) >= _LEAST_TOLD and widths == [*map(len, rows)]:
            found.append(mark)
    return found


def _kind(
    text: Text, mark: str, places: Sequence[int], remarks: Mapping[int, str],
    further: Set[tuple[int, str]],
) -> Kind | None:  # fmt: skip
    """The rows of one width that begin with a short word; None where they are no kind.

    Args:
        text: the file.
        mark: the word.
        places: positions of the rows.
        remarks: positions of lines that are no data.
        further: words of all rows but the first of each kind, with their columns.
    """
    widths = {len(text.rows[at]) for at in places}
    named = mark and len(mark) <= _LONGEST and not is_numeric(mark)
    if named and (whole := whole_rows.find(text, mark, places, remarks)):
        columns = (_mark_title(whole.titles), *whole.titles)
        return Kind(mark, columns, whole.told, [*places], whole)
    if not named or len(widths) > 1 or widths == {1}:
        return None
    at, columns = _titles(text, mark, places, remarks, further)
    rows = [one for one in places if one != at]
    if at is None and len(rows) > 1:
        columns = _made_up(mark, [text.rows[one][1:] for one in rows])
    told = text.lines[at] if at is not None else ""
    return Kind(mark, columns, told, rows) if columns and rows else None


def _titles(
    text: Text, mark: str, places: Sequence[int], remarks: Mapping[int, str],
    further: Set[tuple[int, str]],
) -> tuple[int | None, tuple[str, ...]]:  # fmt: skip
    """Position of the line that holds the titles of a kind, and these; none where none does.

    A row whose words stand in the same columns of other rows holds data, and no titles.
    """
    rows = [text.rows[at] for at in places[:2]]
    width = len(rows[0])
    own = places[:1] if _begins_as_titles(rows) else []
    own = [] if further & {*enumerate(rows[0][1:], 1)} else own
    for at in (*remarks, *own):
        plain = text.lines[at].removeprefix(remarks.get(at, ""))
        cells = [cell.strip() for cell in plain.split(text.delimiter)]
        head, between, rest = cells[0].partition(":")
        if between and head.strip() == mark:
            cells = [mark, rest.strip(), *cells[1:]]
        elif len(cells) == width + 1 and cells[1] == mark:
            cells = cells[1:]
        told = cells[1:]
        named = all(told) and len({*told}) == len(told)
        named = named and (not any(map(is_numeric, told)) or _are_frequencies(told))
        if cells[0] == mark and len(cells) == width and named:
            return at, (_mark_title(told), *told)
    return None, ()


def _begins_as_titles(rows: Sequence[Cells]) -> bool:
    """Whether the second of two rows has numbers where the first has words, or frequencies."""
    if len(rows) > 1 and curves_in(rows[0][1:], [rows[1][1:]]):
        return True
    return len(rows) > 1 and not any(map(is_numeric, rows[0])) and any(map(is_numeric, rows[1]))


def _mark_title(titles: Sequence[str]) -> str:
    """What the column of the mark is called: a name that no other column has."""
    name = "kind"
    while name in titles:
        name = f"({name})"
    return name


def _made_up(mark: str, rows: Sequence[Cells]) -> tuple[str, ...]:
    """Names of columns without titles: of an axis, and of the rest by their numbers."""
    names = [f"{mark} {at}" for at in range(2, len(rows[0]) + 2)]
    axis = axis_at(names, _columns(rows)) if len(rows) >= _LEAST_POINTS else None
    if axis is not None:
        names[axis] = "frequency"
    return (_mark_title(names), *names)


def _are_points(text: Text, kind: Kind) -> bool:
    """Whether rows hold a point each, or a curve, and name what it is of."""
    if kind.whole is not None:
        return not kind.whole.are_frequencies
    rows = [text.rows[at][1:] for at in kind.places]
    if curves_in(kind.columns[1:], rows):
        return True
    if len(rows) < (_LEAST_TITLED if kind.told else _LEAST_POINTS):
        return False
    columns = _columns(rows)
    axis = axis_at(kind.columns[1:], columns)
    return axis is not None and any(map(_name_rows, columns))


def _are_frequencies(titles: Sequence[str]) -> bool:
    """Whether the numbers among titles are frequencies of a whole curve in each row."""
    return curves_in(titles, [["1"] * len(titles)]) is not None


def curves_in(titles: Sequence[str], rows: Sequence[Cells]) -> Wide | None:
    """How curves are written where each row holds a whole one; None where none does.

    Args:
        titles: of the columns; those of values are frequencies.
        rows: their cells.
    """
    lines = [list(titles), *rows]
    found = by_titles(lines, 0, lines[0])
    return found.wide if found and found.stop == len(lines) else None


def _columns(rows: Sequence[Cells]) -> list[Cells]:
    return [[row[at] for row in rows] for at in range(len(rows[0]))]


def _name_rows(column: Sequence[str]) -> bool:
    """Whether a column holds a few words that may say what rows are of."""
    words = {*column} - {""}
    few = len(words) > 1 and len(words) * _FAR_FEWER <= len(column)
    lettered = all(any(map(str.isalpha, word)) for word in words)
    return any(map(phrases.parameter_in, words)) or (few and lettered)
