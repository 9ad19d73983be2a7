"""A block cut into lines and cells by where its marks stand, without a text for any cell."""

from bisect import bisect_right
from collections.abc import Iterator, Mapping
from itertools import pairwise

import numpy as np

from sweepbook.bulk_cells import Buffer
from sweepbook_plugins.csv.rows import Positions, Row, Rows
from sweepbook_plugins.csv.stretches import EvenRows, Stretch
from sweepbook_plugins.csv.wide import WideRow

LEAST = 16
"""Lines of one width one after another that are worth arrays."""

WIDE = 64
"""Cells of a line that are worth no text each."""

_TOGETHER = 16_384
"""Bytes of lines that are decoded at once, since key lines are asked for one after another."""

_LINE_END = ord("\n")
_APART = -1


class BlockRows(Rows):
    """Rows of a block; lines of one width one after another are stretches.

    Args:
        raw: the lines in UTF-8, each with its end.
        delimiter: what stands between two cells: one byte of ASCII.
        apart: rows of lines that cannot be cut at every delimiter, by position.
    """

    def __init__(self, raw: bytes, delimiter: str, apart: Mapping[int, Row]) -> None:
        self._buffer = Buffer(raw)
        self._delimiter = delimiter
        self._apart = dict(apart)
        cells = self._buffer.bytes
        marks = cells == ord(delimiter)
        marks |= cells == _LINE_END
        self._ends = np.flatnonzero(marks)
        self._starts = np.empty_like(self._ends)
        self._starts[0] = 0
        np.add(self._ends[:-1], 1, out=self._starts[1:])
        self._last = np.flatnonzero(cells[self._ends] == _LINE_END)
        self._widths = np.diff(self._last, prepend=-1)
        first = self._last - self._widths + 1
        self._widths[self._starts[first] == self._ends[self._last]] = 0
        self._widths[list(self._apart)] = _APART
        self._found: dict[int, Stretch] = {}
        self._decoded = range(0)
        self._lines: list[str] = []
        self._find_edges()

    def _find_edges(self) -> None:
        self._edges = [0, *(np.flatnonzero(np.diff(self._widths)) + 1).tolist(), len(self)]

    def __len__(self) -> int:
        return int(self._last.size)

    def row(self, at: int) -> Row:
        """The row at a position."""
        if at in self._apart:
            return self._apart[at]
        width = int(self._widths[at])
        if width < WIDE:
            return self.line(at).split(self._delimiter) if width else []
        end = int(self._last[at]) + 1
        bounds = self._starts[end - width : end], self._ends[end - width : end]
        return WideRow(self._buffer, self._delimiter, bounds)

    def some(self, start: int, stop: int) -> Rows:
        """The rows from a position on; those of one stretch are kept as bytes."""
        stretch = self._stretch(start)
        if stretch and stop <= stretch[0] + len(stretch[1]):
            return EvenRows(stretch[1], start - stretch[0], stop - stretch[0])
        return Rows([self.row(position) for position in range(start, stop)])

    def line(self, at: int) -> str:
        """A line without its end."""
        if at not in self._decoded:
            self._decode(at)
        return self._lines[at - self._decoded.start]

    def _decode(self, at: int) -> None:
        """Decode a line, and those behind it that go with it."""
        ends = self._ends[self._last[at : at + _TOGETHER]]
        start = int(self._ends[self._last[at - 1]]) + 1 if at else 0
        count = max(1, int(np.searchsorted(ends, start + _TOGETHER)))
        self._lines = self._buffer.text(start, int(ends[count - 1])).split("\n")
        self._decoded = range(at, at + count)

    def _stretch(self, at: int) -> tuple[int, Stretch] | None:
        """Position of the first line of the stretch that a line is of, and the stretch, if any."""
        index = bisect_right(self._edges, at) - 1
        first, end = self._edges[index : index + 2] if at < len(self) else (at, at)
        if end - first < LEAST or self._widths[first] <= 0:
            return None
        if first not in self._found:
            width = int(self._widths[first])
            cells = slice(self._last[first] - width + 1, self._last[end - 1] + 1)
            bounds = (of[cells].reshape(-1, width) for of in (self._starts, self._ends))
            self._found[first] = Stretch(self._buffer, self._delimiter, *bounds)
        return first, self._found[first]

    def run_end(self, start: int, width: int, axis: int, positions: Positions) -> int:
        """Where the plain rows of a table end that are like the first; see `Rows.run_end`."""
        stretch = self._stretch(start)
        if stretch is None:
            end = self._edges[bisect_right(self._edges, start)]
            near = Rows([self[at] for at in range(start, end)])
            return start + near.run_end(0, width, axis, positions)
        first, lines = stretch
        even = EvenRows(lines, start - first, len(lines))
        return start + even.run_end(0, width, axis, positions)

    def drop_wide(self, most: int) -> dict[int, int]:
        """Take the cells from rows that have too many; how many these were, by position."""
        wide = {at: len(self[at]) for at in np.flatnonzero(self._widths > most).tolist()}
        wide |= {at: len(row) for at, row in self._apart.items() if len(row) > most}
        if wide:
            self._apart |= {at: [] for at in wide}
            self._widths[list(wide)] = _APART
            self._find_edges()
        return wide

    def stretches(self, start: int) -> Iterator[tuple[int, int, int]]:
        """Where rows begin and end to be of one width, from a position on; see `Rows`."""
        edges = [start, *(of for of in self._edges if of > start)]
        for first, end in pairwise(edges):
            yield first, end, int(self._widths[first])
