"""Tables, headings and key lines of an export nobody has described yet."""

import re
from collections.abc import Collection, Sequence

from sweepbook.dialect.wires import CONTACTS
from sweepbook.draft import phrases, wire_texts
from sweepbook.draft.numbers import is_figure, is_frequency, is_numeric
from sweepbook_plugins.csv.draft import keyed, marked, single_values, unit_rows, wide
from sweepbook_plugins.csv.draft.above import headings, lone
from sweepbook_plugins.csv.draft.asides import asides_in, is_remark
from sweepbook_plugins.csv.draft.bodies import Bodies, is_units, units_below
from sweepbook_plugins.csv.draft.curves import axis_of
from sweepbook_plugins.csv.draft.figures import states_worst
from sweepbook_plugins.csv.draft.keys import find_tests, sort_loose, states_verdict
from sweepbook_plugins.csv.draft.shape import Seen, Shape
from sweepbook_plugins.csv.draft.text import Cells, Text
from sweepbook_plugins.csv.draft.titles import titles_of, with_clear_titles
from sweepbook_plugins.csv.draft.untitled import Untitled, mark_of, named
from sweepbook_plugins.csv.draft.values_below import have_values_below

_LEAST_ROWS = {2: 3}
"""Two columns may be key and value, and take more rows to be a table; else one is enough."""
_PAIR = re.compile(r"\D*[1-4]|\D*[1-8]\D?[1-8]")
_LEAST_PAIRS = 2
_EIGHT = CONTACTS[:8]
_MOST_TITLES = 5
"""Lines of titles, the last of them that of the axis."""
_MOST_LOOSE = 5_000
"""Lines in no table, behind which no more of a file is looked at."""


def shape_of(
    text: Text, least: int = keyed.LEAST_TABLES, known: Collection[tuple[str, ...]] = ()
) -> Shape:
    """Sort the lines of a file.

    Args:
        text: the file.
        least: so many tables with key lines above them show that these name curves.
        known: titles of tables in other files of the make.
    """
    if text.marked:
        return marked.shape_of(text, text.marked)
    shape = Shape()
    asides = asides_in(text)
    rules = _rules(text) | asides
    text = text._replace(rows=[[] if at in rules else row for at, row in enumerate(text.rows)])
    loose = _Finder(text, shape).tables()
    titles = {*known, *(seen.titles for seen in shape.tables if not seen.given)}
    if any(tuple(text.rows[at]) in titles for at in loose):  # below them words may stand alone
        shape = Shape()
        loose = _Finder(text, shape, titles).tables()
        loose = [at for at in loose if tuple(text.rows[at]) not in titles]  # without any rows
    shape.tables, naming = keyed.find(text, named(shape.tables, text.rows), least)
    loose = [at for at in loose if at not in naming]
    remarks = _remarks(text, [at for at in loose if at], {of.heading for of in shape.tables})
    shape.noise = list(dict.fromkeys(
        text.lines[at].strip()
        for at in sorted((*loose, *rules))
        if at in remarks or at in asides or not any(map(str.isalnum, text.lines[at]))
    ))  # fmt: skip
    noise = set(shape.noise)
    loose = [at for at in loose if text.lines[at].strip() not in noise]
    shape.noise += _closing(text, shape, loose)
    above = {seen.heading for seen in shape.tables} | {seen.outer for seen in shape.tables}
    loose = [at for at in loose if text.lines[at].strip() not in above - {""}]
    find_tests(text, shape, loose)
    noise = set(shape.noise)
    loose = [at for at in loose if text.lines[at].strip() not in noise]
    sort_loose(text, shape, single_values.take(text, shape, loose))
    return shape


def _rules(text: Text) -> set[int]:
    """Lines of marks alone, which part nothing from what stands above them."""
    lone_ones = (at for at, row in enumerate(text.rows) if len(row) == 1)
    return {at for at in lone_ones if not any(map(str.isalnum, text.lines[at]))}


def _remarks(text: Text, loose: Sequence[int], headings: Collection[str]) -> set[int]:
    """Lines that are remarks; none where headings begin with the mark of one too.

    Args:
        text: the file.
        loose: positions of the lines in no table.
        headings: of the tables.
    """
    remarks = {at for at in loose if is_remark(text, at)}
    marks = {text.lines[at].split()[0] for at in remarks}
    named = {text.lines[at] for at in loose if phrases.parameter_in(text.lines[at])}
    heads = [line.split()[0] for line in {*headings, *named} if line]
    often = {mark for mark in marks if heads.count(mark) > 1}
    often |= marks & {line.split()[0] for line in named if line}
    return set() if often else remarks


class _Finder:
    """Goes through the lines of a file and finds its tables, each by the line it begins with."""

    def __init__(self, text: Text, shape: Shape, known: Collection[tuple[str, ...]] = ()) -> None:
        self._known_titles = known
        self._text, self._rows, self._shape = text, text.rows, shape
        self._bodies, self._untitled = Bodies(text.rows), Untitled(text.rows)
        self._loose: list[int] = []

    def tables(self) -> list[int]:
        """Positions of the lines in no table; the tables go into the shape."""
        at, rows = 0, self._rows
        while at < len(rows) and len(self._loose) < _MOST_LOOSE:
            stop = at
            for find in (self._wide, self._titled, self._known, self._bare) if rows[at] else ():
                stop = find(at)
                if stop > at:
                    break
            if stop == at:
                self._loose += [at] if rows[at] else []
                stop += 1
            at = stop
        return self._loose

    def _line(self, at: int | None) -> str:
        return "" if at is None else self._text.lines[at].strip()

    def _wide(self, at: int) -> int:
        """Position behind a table with a whole curve in each row; here if none begins."""
        rows, whole = self._rows, self._text.cells(at)
        found = wide.find(rows, at, whole)
        if found is None and not self._text.aligned:  # whose titles stand in one line
            found = unit_rows.find(rows, at, whole)
        if found is None:
            return at
        begins, upper = found.wide.upper, self._shape.upper
        upper += [begins] if begins is not None and begins not in upper else []
        inner, around = map(self._line, headings(self._rows, self._loose, at))
        seen = Seen(found.titles, found.first, found.stop, inner, around, wide=found.wide)
        self._shape.tables.append(seen)
        return found.stop

    def _known(self, at: int) -> int:
        """The same for a table whose titles another file has; no number has to stand in it."""
        titles, stop = tuple(self._rows[at]), at + 1
        if titles not in self._known_titles:
            return at
        while len(self._rows[stop : stop + 1]) and len(self._rows[stop]) == len(titles):
            stop += 1
        if stop == at + 1:
            return at
        heading, _ = headings(self._rows, self._loose, at)
        self._shape.tables.append(Seen(titles, at + 1, stop, self._line(heading)))
        return stop

    def _titled(self, at: int) -> int:
        """The same for a table below a line of titles, or two of them."""
        rows, line = self._rows, at
        stop = _table_end(self._bodies, rows, at)
        if stop == at or (any(rows[stop:]) and have_values_below(rows, at)):
            return at
        titles, first, at = titles_of(rows[:stop], at)
        again = len(set(titles)) < len(titles)
        if again and is_units([*titles]):
            return line
        if first != at:
            upper = [*self._shape.upper, *(row[0] for row in rows[first:at])]
            self._shape.upper = list(dict.fromkeys(upper))
            self._loose = [one for one in self._loose if one < first]
        heading, outer = headings(rows, self._loose, first)
        units = stop > at + 2 and units_below(rows[at], rows[at + 1])
        seen = Seen(
            titles,
            at + (2 if units else 1),
            stop,
            self._line(heading),
            self._line(outer) if outer is not None and lone(rows[outer]) else "",
            tuple(rows[at + 1]) if units else (),
        )
        body = rows[seen.start : stop]
        if again and (states_worst(titles, body) or axis_of(titles, body) is None):
            seen = with_clear_titles(seen, self._line(at))
        self._shape.tables.append(seen)
        return stop

    def _bare(self, at: int) -> int:
        """The same for a table without titles below a heading that says what is measured."""
        row = self._rows[at]
        heading, _ = headings(self._rows, self._loose, at, whole=True)
        stop = self._untitled.stop(at) if heading is not None else at
        if stop == at:
            return at
        blank = ("",) * (len(row) - (2 if mark_of(row) else 1))
        self._shape.tables.append(Seen(blank, at, stop, self._line(heading), given=True))
        return stop


def _closing(text: Text, shape: Shape, loose: Sequence[int]) -> list[str]:
    """Words alone on their lines behind the last table, such as "end of file"."""
    last = max((seen.stop for seen in shape.tables), default=0)
    behind = [at for at in loose if at >= last and lone(text.rows[at])]
    lines = [text.lines[at].strip() for at in behind if not states_verdict(text.rows[at])]
    return [line for line in lines if not any(map(str.isdigit, line))]


def _table_end(bodies: Bodies, rows: Sequence[Cells], at: int) -> int:
    """Position behind the last row of the table whose titles stand here; here if none does."""
    titles = rows[at]
    width = len(titles)
    contacts = _contacts(rows, at)
    named = all(titles[_has_pairs(titles) :]) and not any(
        is_figure(title) and title not in contacts for title in titles
    )
    told = any(map(_has_letters, titles)) or _has_pairs(titles)
    if width < 2 or not named or not told or _goes_on(rows, at):
        return at
    stop, numeric = bodies.below(at)
    count = stop - at - 1
    enough = count >= _LEAST_ROWS.get(width, 1) and numeric * 2 >= count
    return stop if enough and not _is_key_line(titles, count) else at


def _goes_on(rows: Sequence[Cells], at: int) -> bool:
    """Whether titles go on in lines of words down to that of an axis, which rows follow."""
    width = len(rows[at])
    for below in range(at + 1, min(at + _MOST_TITLES, len(rows) - 1)):
        row = rows[below]
        if len(row) != width or any(map(is_figure, row)):
            return False
        if is_frequency(row[0]):
            numbers = any(map(is_numeric, rows[below + 1][:1]))
            return below > at + 2 and numbers and width > 2
    return False


def _has_pairs(titles: Cells) -> bool:
    """Whether titles are those of pairs, with none above what the rows begin with."""
    return not titles[0] and len(titles) > _LEAST_PAIRS and all(map(_PAIR.fullmatch, titles[1:]))


def _contacts(rows: Sequence[Cells], at: int) -> Sequence[str]:
    """Titles that are the contacts of a wire map, where a row below is one test; else none.

    Below a word for wires the next line rather is the other end of the same ones.
    """
    titles = rows[at]
    first = titles.index(_EIGHT[0]) if _EIGHT[0] in titles else 0
    below = [row for row in rows[at + 1 : at + 3] if len(row) == len(titles)]
    tests = len(below) > 1 and below[0][0] != below[1][0] and all(row[0] for row in below)
    if not first or not tests or wire_texts.is_named(titles[0]):
        return ()
    return _EIGHT if titles[first : first + len(_EIGHT)] == [*_EIGHT] else ()


def _is_key_line(titles: Cells, count: int) -> bool:
    """Whether the first of some lines is rather a key with two values, like those below it."""
    return not any(map(is_frequency, titles)) and len(titles) <= 3 and count < 2


def _has_letters(text: str) -> bool:
    return any(char.isalpha() for char in text)
