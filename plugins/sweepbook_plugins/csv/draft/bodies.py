"""The rows below what may be a line of titles: where they end, looked for once."""

from collections.abc import Sequence

from sweepbook.draft.numbers import is_figure, is_frequency, is_numeric, unit_named
from sweepbook.draft.parsed import UNIT_WORDS
from sweepbook_plugins.csv.draft.text import Cells

_UNITS = {
    *("db", "hz", "khz", "mhz", "ghz", "ns", "ps", "us", "m", "ft", "ohm", "%", "-"),
    *(text.casefold() for text in UNIT_WORDS if any(map(str.isdigit, text))),
}


class Bodies:
    """Finds the rows below each line, asked for line by line.

    Below lines of one width one after another the rows have the same end, and are not gone through
    again for each: that would take minutes for a file of a million lines that are in no table.
    """

    def __init__(self, rows: Sequence[Cells]) -> None:
        self._rows = rows
        self._at = self._stop = self._numeric = 0

    def below(self, at: int) -> tuple[int, int]:
        """Position behind the last row that may stand below a line, and rows with a number."""
        rows = self._rows
        if self._at < at and at + 1 < self._stop:
            gone = rows[self._at + 1 : at + 1]
            self._numeric -= sum(any(map(is_numeric, row)) for row in gone)
        else:
            self._stop = self._end(at)
            body = rows[at + 1 : self._stop]
            self._numeric = sum(any(map(is_numeric, row)) for row in body)
        self._at = at
        return self._stop, self._numeric

    def _is_lower(self, at: int, width: int) -> bool:
        """Whether titles go on in a line between their first one and one of units."""
        rows = self._rows
        if at + 1 >= len(rows) or len(rows[at]) != width or len(rows[at + 1]) != width:
            return False
        upper, lower = rows[at - 1], rows[at]
        if upper[0] and is_frequency(lower[0]) and not is_frequency(upper[0]):
            return False  # titles begin here, and what stands above is a key line
        wordy = not any(map(is_figure, lower))
        return wordy and not is_units(lower) and units_below(upper, rows[at + 1])

    def _end(self, at: int) -> int:
        rows, width, stop = self._rows, len(self._rows[at]), at + 1
        if self._is_lower(stop, width):
            stop += 1
        if stop < len(rows) and len(rows[stop]) == width and units_below(rows[at], rows[stop]):
            stop += 1
        while stop < len(rows) and len(rows[stop]) == width and not _is_titles(rows[stop]):
            if width == 2 and not all(map(is_numeric, rows[stop][:1])):
                break
            stop += 1
        return stop


def _is_titles(row: Cells) -> bool:
    """Whether a row of a table is rather the line of titles of the next one."""
    return all(row) and not any(map(is_figure, row)) and any(map(is_frequency, row))


def units_below(titles: Cells, row: Cells) -> bool:
    """Whether a row names the units of titles; kHz and dB below a key and its text are titles."""
    key = len(titles) == 2 and titles[0] and unit_named(row[0]) and not is_frequency(titles[0])
    return is_units(row) and not key


def is_units(row: Cells) -> bool:
    """Whether a row names units, and nothing else."""
    texts = [cell.strip("[]()").casefold() for cell in row if cell]
    return len(texts) > 1 and all(text in _UNITS for text in texts)
