"""Lines of one width one after another, kept as bytes: no cell is a text before it is asked for."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from sweepbook import bulk_cells
from sweepbook.bulk_cells import Buffer, Plain
from sweepbook.bulk_numbers import Read, runs
from sweepbook.columns import Part
from sweepbook_plugins.csv.rows import Positions, Row, Rows

Bounds = NDArray[np.intp]


class Summary(NamedTuple):
    """What numbers of some lines are, at each of some positions.

    Attributes:
        odd: whether any cell is no plain number.
        digits: the most digits behind the decimal mark.
        least: of the values; of an odd cell 0.
        greatest: of them.
    """

    odd: list[bool]
    digits: list[int]
    least: list[float]
    greatest: list[float]


class Stretch:
    """Lines of one width in a block.

    Attributes:
        width: cells of each line.
    """

    def __init__(self, buffer: Buffer, delimiter: str, starts: Bounds, ends: Bounds) -> None:
        """Take the cells.

        Args:
            buffer: the bytes of the block.
            delimiter: what stands between two cells.
            starts: intp[n, width], where the cells begin.
            ends: intp[n, width], where they end.
        """
        self.width = starts.shape[1]
        self._buffer = buffer
        self._delimiter = delimiter
        self._starts = starts
        self._ends = ends
        self._numbers: dict[tuple[Positions, str], Plain] = {}
        self._summary: tuple[tuple[Positions, str, tuple[int, int]], Summary] | None = None
        self._changes: dict[Positions, Bounds] = {}
        self._no_digit: dict[int, Bounds] = {}
        self._blank_ends: Bounds | None = None

    def __len__(self) -> int:
        return len(self._starts)

    def row(self, at: int) -> Row:
        """The cells of a line."""
        start, end = self._starts[at, 0], self._ends[at, -1]
        return self._buffer.text(int(start), int(end)).split(self._delimiter)

    def cell(self, at: int, position: int) -> str:
        """One cell of a line."""
        return self._buffer.text(int(self._starts[at, position]), int(self._ends[at, position]))

    def cells(self, position: int, lines: Sequence[int] | slice) -> list[str]:
        """The cells of some lines at a position."""
        starts, ends = (of[lines, position].tolist() for of in (self._starts, self._ends))
        return list(map(self._buffer.text, starts, ends))

    def numbers(self, positions: Positions, decimal: str) -> Plain:
        """The cells of every line at some positions, rising, as numbers: [positions, n]."""
        known = self._numbers.get((positions, decimal))
        if known is None:
            cells, ends = self._taken(positions)
            known = bulk_cells.columns(cells, ends, decimal, len(positions))
            self._numbers[positions, decimal] = known
        return known

    def _taken(self, positions: Positions) -> tuple[bytes, Bounds]:
        """The bytes of the cells at some positions, with the one behind each, and their ends."""
        if len(positions) == self.width:
            first, end = self._starts[0, 0], self._ends[-1, -1] + 1
            return self._buffer.raw[first:end], (self._ends - first).ravel()
        firsts, lasts = zip(*_spans(positions), strict=True)
        starts, ends = self._starts[:, firsts], self._ends[:, lasts] + 1
        taken = self._buffer.gathered(starts.ravel(), ends.ravel())
        at = slice(firsts[0], lasts[0] + 1) if len(firsts) == 1 else list(positions)
        return taken, np.cumsum(self._ends[:, at] - self._starts[:, at] + 1) - 1

    def summary(self, positions: Positions, decimal: str, span: tuple[int, int]) -> Summary:
        """What the numbers of some lines are at each of some positions; the last is kept."""
        key = positions, decimal, span
        if self._summary is None or self._summary[0] != key:
            values, digits, odd = (of[:, slice(*span)] for of in self.numbers(positions, decimal))
            self._summary = (
                key,
                Summary(
                    (np.count_nonzero(odd, axis=1) > 0).tolist(),
                    digits.max(axis=1).tolist(),
                    values.min(axis=1).tolist(),
                    values.max(axis=1).tolist(),
                ),
            )
        return self._summary[1]

    def changes(self, positions: Positions) -> Bounds:
        """Lines that differ from the one before in a cell at some positions, rising."""
        known = self._changes.get(positions)
        if known is None:
            found = np.zeros(len(self) - 1, np.bool_)
            for first, last in _spans(positions):
                found |= self._buffer.differ(self._starts[:, first], self._ends[:, last])
            known = self._changes[positions] = np.flatnonzero(found) + 1
        return known

    def without_digit(self, position: int) -> Bounds:
        """Lines whose cell at a position does not begin with a digit, rising."""
        known = self._no_digit.get(position)
        if known is None:
            first = self._buffer.bytes[self._starts[:, position]]  # of an empty cell what ends it
            known = np.flatnonzero((first < ord("0")) | (first > ord("9")))
            self._no_digit[position] = known
        return known

    def blank_ends(self) -> Bounds:
        """Lines whose last cell is empty, rising."""
        if self._blank_ends is None:
            self._blank_ends = np.flatnonzero(self._starts[:, -1] == self._ends[:, -1])
        return self._blank_ends


class EvenRows(Rows):
    """Some lines of a stretch, one after another."""

    def __init__(self, stretch: Stretch, first: int, end: int) -> None:
        self._stretch = stretch
        self._first = first
        self._end = end

    def __len__(self) -> int:
        return self._end - self._first

    def row(self, at: int) -> Row:
        """The row at a position."""
        return self._stretch.row(self._first + range(len(self))[at])

    def some(self, start: int, stop: int) -> "EvenRows":
        """The rows from a position on, still as bytes."""
        return EvenRows(self._stretch, self._first + start, self._first + stop)

    def column(self, position: int, numbers: Positions) -> Part:
        """The cells of every row at a position, still as bytes."""
        return KeptColumn(self._stretch, (self._first, self._end), position, numbers)

    def runs(self, positions: Positions) -> Iterator[tuple[int, int]]:
        """Where rows begin and end to have the same cells at some positions."""
        if not len(self):
            return
        changes = self._stretch.changes(positions)
        low, high = np.searchsorted(changes, (self._first + 1, self._end))
        start = 0
        for end in (*(changes[low:high] - self._first).tolist(), len(self)):
            yield start, end
            start = end

    def blank_ends(self) -> Sequence[int]:
        """Positions of the rows whose last cell is empty, rising."""
        blank = self._stretch.blank_ends()
        if not blank.size:
            return ()
        low, high = np.searchsorted(blank, (self._first, self._end))
        found: list[int] = (blank[low:high] - self._first).tolist()
        return found

    def run_end(self, start: int, width: int, axis: int, positions: Positions) -> int:
        """Where the plain rows of a table end that are like the first; see `Rows.run_end`."""
        if width != self._stretch.width:
            return start + 1
        first = self._first + start
        others = (self._stretch.changes(positions), self._stretch.without_digit(axis))
        ends = (of[np.searchsorted(of, first + 1) :][:1] for of in others)
        return int(min([self._end, *(end[0] for end in ends if end.size)])) - self._first


class KeptColumn:
    """The cells of some lines of a stretch at one position.

    Args:
        stretch: the lines.
        span: the first of them, and the one behind the last.
        position: the position.
        numbers: it, and other positions at which numbers are expected as well.
    """

    def __init__(
        self, stretch: Stretch, span: tuple[int, int], position: int, numbers: Positions
    ) -> None:
        self._stretch = stretch
        self._first, self._end = span
        self._position = position
        self._numbers = numbers if position in numbers else (position,)

    def some(self, at: Sequence[int]) -> list[str]:
        """The cells of some of the lines."""
        return self._stretch.cells(self._position, [self._first + one for one in at])

    def __len__(self) -> int:
        return self._end - self._first

    def __getitem__(self, at: int) -> str:
        return self._stretch.cell(self._first + range(len(self))[at], self._position)

    def __iter__(self) -> Iterator[str]:
        return iter(self._stretch.cells(self._position, slice(self._first, self._end)))

    def plain(self, decimal: str) -> Plain:
        """The cells as numbers."""
        found = self._stretch.numbers(self._numbers, decimal)
        return found.column(self._numbers.index(self._position), slice(self._first, self._end))

    def read(self, decimal: str, plain: Plain) -> Read:
        """The cells as one reading."""
        at, span = self._numbers.index(self._position), (self._first, self._end)
        of = self._stretch.summary(self._numbers, decimal, span)
        values = plain.values[:]
        values.setflags(write=False)
        if not of.odd[at]:
            return Read(values, of.digits[at], (), (of.least[at], of.greatest[at]))
        odd = plain.odd.nonzero()[0].tolist()
        return Read(values, of.digits[at], runs(odd, self.some(odd)))


def _spans(positions: Positions) -> Iterator[tuple[int, int]]:
    """First and last of positions side by side: what stands between is alike if all of it is."""
    first = last = -1
    for position in sorted(set(positions)):
        if position != last + 1 or first < 0:
            if first >= 0:
                yield first, last
            first = position
        last = position
    if first >= 0:
        yield first, last
