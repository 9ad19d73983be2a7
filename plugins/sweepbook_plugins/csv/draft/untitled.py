"""Tables without titles: points one below the other, under a line that says what they are of."""

import re
from collections.abc import Sequence
from dataclasses import replace

from sweepbook.draft import phrases
from sweepbook.draft.numbers import is_numeric, units_possible, values_of
from sweepbook_plugins.csv.draft.shape import Seen
from sweepbook_plugins.csv.draft.text import Cells
from sweepbook_plugins.csv.draft.wide import LEAST, rising
from sweepbook_plugins.csv.line_marks import NUMBER

KIND, FREQUENCY, VALUE, LIMIT = "row", "frequency", "value", "limit"
"""What a draft calls the columns: the words of a mark, an axis, a measurement and its limit."""
_DIGITS = re.compile(r"(?<![0-9.,])[0-9]+(?![0-9.,])")


class Untitled:
    """Finds such tables, asked for line by line; rows of which none begins are gone through once.

    Args:
        rows: the lines of a file as cells.
    """

    def __init__(self, rows: Sequence[Cells]) -> None:
        self._rows = rows
        self._none = 0

    def stop(self, at: int) -> int:
        """Position behind the last row of the table that begins here; here if none does."""
        rows = self._rows
        if at < self._none or not _is_row(rows[at]):
            return at
        first, stop = rows[at], at + 1
        mark = mark_of(first)
        while stop < len(rows) and len(rows[stop]) == len(first) and _is_row(rows[stop]):
            if mark_of(rows[stop]) != mark:
                break
            stop += 1
        axis = [row[1 if mark else 0] for row in rows[at:stop]]
        if len(axis) < LEAST or not rising(axis):
            self._none = stop
            return at
        return stop if units_possible(max(values_of(axis) or [0.0])) else at


def mark_of(row: Cells) -> str:
    """The word that each row of such a table begins with, or ""."""
    return "" if is_numeric(row[0]) else row[0]


def _is_row(row: Cells) -> bool:
    """Whether cells are two numbers or more, with or without a word in front."""
    numbers = row[1:] if row and not is_numeric(row[0]) else row
    return len(numbers) > 1 and bool(row[0]) and all(map(is_numeric, numbers[:2]))


def named(tables: Sequence[Seen], rows: Sequence[Cells]) -> list[Seen]:
    """The tables with names for the columns of those without titles.

    A column that is the same in all tables of one parameter is its limit; the first of the others
    is what was measured.
    """
    columns = {at: _names(tables, at, rows) for at in {_width(seen) for seen in tables} - {0}}
    made = []
    for seen in tables:
        if width := _width(seen):
            start = [KIND] if mark_of(rows[seen.start]) else []
            titles = [*start, FREQUENCY, *columns[width]]
            seen = replace(seen, titles=tuple(titles))
        made.append(seen)
    return made


def _width(seen: Seen) -> int:
    """How many columns of a table without titles stand behind its axis; else 0."""
    return len(seen.titles) if seen.given and not any(seen.titles) else 0


def _names(tables: Sequence[Seen], width: int, rows: Sequence[Cells]) -> list[str]:
    same = [True] * width
    told = [False] * width
    first: dict[str, Seen] = {}
    for seen in tables:
        found = phrases.parameter_in(seen.heading) if _width(seen) == width else None
        if found is None:
            continue
        other = first.setdefault(found.meaning, seen)
        for at in range(width) if other is not seen else ():
            one, two = (_column(of, at - width, rows) for of in (seen, other))
            same[at] = same[at] and one == two
            told[at] = True
    limits = [at for at in range(width) if same[at] and told[at]]
    value = next((at for at in range(width) if at not in limits), 0)
    names = {value: VALUE}
    if value in limits:
        limits.remove(value)
    names.update({at: LIMIT for at in limits[:1]})
    return [names.get(at, f"column {at + 1}") for at in range(width)]


def _column(seen: Seen, at: int, rows: Sequence[Cells]) -> list[str]:
    return [row[at] for row in rows[seen.start : seen.stop]]


def counted(heading: str, count: int) -> str:
    """A heading with {number} for the count of the rows below it, where it says that."""
    found = [match for match in _DIGITS.finditer(heading) if int(match[0]) == count]
    if len(found) != 1 or count < LEAST:
        return heading
    return f"{heading[: found[0].start()]}{NUMBER}{heading[found[0].end() :]}"
