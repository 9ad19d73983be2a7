"""Rows of a block: each with its own cells, or all of one width and kept as one list of cells.

The second kind makes no object a row. A column of it is a slice, which is what a curve is made of.
"""

from collections.abc import Iterator, Sequence
from itertools import chain, compress, groupby, islice, repeat
from operator import ne
from typing import overload

Row = list[str]


class Rows(Sequence[Row]):
    """Rows, one a line, each with its own cells; [] where a line has none.

    Attributes:
        width: how many cells every row has; -1 where they differ.
    """

    def __init__(self, rows: list[Row]) -> None:
        self._rows = rows
        widths = set(map(len, rows))
        self.width = widths.pop() if len(widths) == 1 else -1

    def __len__(self) -> int:
        return len(self._rows)

    @overload
    def __getitem__(self, at: int) -> Row: ...

    @overload
    def __getitem__(self, at: slice) -> "Rows": ...

    def __getitem__(self, at: int | slice) -> "Row | Rows":
        """One row, or some of them one after another."""
        return Rows(self._rows[at]) if isinstance(at, slice) else self._rows[at]

    def __iter__(self) -> Iterator[Row]:
        return iter(self._rows)

    def column(self, position: int) -> list[str]:
        """The cells of every row at a position; of rows of one width."""
        return [row[position] for row in self._rows]

    def rest(self, skipped: int) -> "Rows":
        """The rows without the first ones; cell after cell, if they are of one width."""
        left = self[skipped:]
        return EvenRows([*chain(*left)], left.width) if left.width > 0 else left

    def runs(self, positions: Sequence[int]) -> Iterator[tuple[int, int]]:
        """Where rows of one width begin and end to have the same cells at some positions."""
        end = 0
        for _, run in groupby(self._rows, lambda row: [row[at] for at in positions]):
            start, end = end, end + sum(1 for _ in run)
            yield start, end


class EvenRows(Rows):
    """Rows of one width, cell after cell."""

    def __init__(self, cells: list[str], width: int) -> None:
        self._cells = cells
        self.width = width

    def __len__(self) -> int:
        return len(self._cells) // self.width

    @overload
    def __getitem__(self, at: int) -> Row: ...

    @overload
    def __getitem__(self, at: slice) -> Rows: ...

    def __getitem__(self, at: int | slice) -> Row | Rows:
        """One row, or some of them one after another."""
        width = self.width
        if isinstance(at, slice):
            start, stop, _ = at.indices(len(self))
            return EvenRows(self._cells[start * width : max(start, stop) * width], width)
        start = range(len(self))[at] * width
        return self._cells[start : start + width]

    def __iter__(self) -> Iterator[Row]:
        width = self.width
        return (self._cells[at : at + width] for at in range(0, len(self._cells), width))

    def column(self, position: int) -> list[str]:
        """The cells of every row at a position."""
        return self._cells[position :: self.width]

    def runs(self, positions: Sequence[int]) -> Iterator[tuple[int, int]]:
        """Where rows begin and end to have the same cells at some positions."""
        count, starts = len(self), {0}
        if not count:
            return iter(())
        for position in positions:
            cells = self.column(position)
            if cells.count(cells[0]) < count:
                starts.update(compress(range(1, count), map(ne, islice(cells, 1, None), cells)))
        bounds = sorted(starts)
        return zip(bounds, [*bounds[1:], count], strict=True)


def split(lines: Sequence[str], delimiter: str) -> Rows:
    """Lines without quotes as rows; a blank line has no cells."""
    marks = set(map(str.count, lines, repeat(delimiter)))
    if len(marks) == 1 and all(lines):
        cells = delimiter.join(lines).split(delimiter)
        return EvenRows(cells, marks.pop() + 1)
    return Rows([line.split(delimiter) if line else [] for line in lines])
