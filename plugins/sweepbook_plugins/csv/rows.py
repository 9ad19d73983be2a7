"""Rows of a block, each a list of its cells: what every other kind of rows must agree with."""

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import overload

from sweepbook.columns import Part
from sweepbook_plugins.csv.wide import WideRow

DIGITS = frozenset("0123456789")

Row = Sequence[str]
Positions = tuple[int, ...]


def filled(row: Row) -> Row:
    """The cells of a row without blanks around them, and without blank ones at its end."""
    if isinstance(row, WideRow) and row[-1].strip():
        return row.stripped()
    cells = [*map(str.strip, row)]
    while cells and not cells[-1]:
        cells.pop()
    return cells


def without_blank_cells(line: str, delimiter: str) -> str:
    """A line up to the blank cells at its end, which a spreadsheet writes to make lines even."""
    end = line.find(delimiter, len(line.rstrip(f"{delimiter} \t")))
    return line if end < 0 else line[:end]


def padded(row: Row, width: int) -> Row:
    """A row with blank cells at its end up to a width."""
    lacking = width - len(row)
    return [*row, *[""] * lacking] if lacking > 0 else row


class Rows(Sequence[Row]):
    """Rows, one a line, each with its own cells; [] where a line has none."""

    def __init__(self, rows: list[Row]) -> None:
        self._rows = rows

    def __len__(self) -> int:
        return len(self._rows)

    @overload
    def __getitem__(self, at: int) -> Row: ...

    @overload
    def __getitem__(self, at: slice) -> "Rows": ...

    def __getitem__(self, at: int | slice) -> "Row | Rows":
        """One row, or some of them one after another."""
        if isinstance(at, slice):
            start, stop, _ = at.indices(len(self))
            return self.some(start, max(start, stop))
        return self.row(at if at >= 0 else at + len(self))

    def row(self, at: int) -> Row:
        """The row at a position."""
        return self._rows[at]

    def some(self, start: int, stop: int) -> "Rows":
        """The rows from a position on, to another that is not before it."""
        return Rows(self._rows[start:stop])

    def __iter__(self) -> Iterator[Row]:
        return map(self.row, range(len(self)))

    def column(self, position: int, numbers: Positions) -> Part:
        """The cells of every row at a position; of rows of one width.

        Args:
            position: the position.
            numbers: it, and other positions at which numbers are expected as well.
        """
        del numbers
        return [row[position] for row in self._rows]

    def runs(self, positions: Positions) -> Iterator[tuple[int, int]]:
        """Where rows of one width begin and end to have the same cells at some positions."""
        end = 0
        for _, run in groupby(self._rows, lambda row: [row[at] for at in positions]):
            start, end = end, end + sum(1 for _ in run)
            yield start, end

    def run_end(self, start: int, width: int, axis: int, positions: Positions) -> int:
        """Where the rows end that are plain rows of a table, with the same cells as the first.

        Args:
            start: position of the first, which is one.
            width: cells of a plain row.
            axis: position of the cell that begins with a digit in a plain row.
            positions: positions of the cells that are the same.
        """
        rows = self._rows
        first = [rows[start][at] for at in positions]
        for end in range(start + 1, len(rows)):
            row = rows[end]
            if len(row) != width or row[axis][:1] not in DIGITS:
                return end
            if [row[at] for at in positions] != first:
                return end
        return len(rows)

    def blank_ends(self) -> Sequence[int]:
        """Positions of the rows whose last cell is blank, rising; of rows of one width."""
        return [at for at, row in enumerate(self._rows) if not row[-1].strip()]

    def drop_wide(self, most: int) -> dict[int, int]:
        """Take the cells from rows that have too many; how many these were, by position."""
        wide = {at: len(row) for at, row in enumerate(self._rows) if len(row) > most}
        for at in wide:
            self._rows[at] = []
        return wide

    def stretches(self, start: int) -> Iterator[tuple[int, int, int]]:
        """Where rows begin and end to be of one width, and the width, from a position on.

        The width is below 0 where it may change from row to row.
        """
        for width, stretch in groupby(self._rows[start:], len):
            end = start + sum(1 for _ in stretch)
            yield start, end, width
            start = end
