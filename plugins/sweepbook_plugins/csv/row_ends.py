"""How the rows of a test end: which of them lack a cell, or have one too many, by the others."""

from typing import TYPE_CHECKING

from sweepbook.dialect.raw import Fault, RawTest
from sweepbook_plugins.csv.place import Place
from sweepbook_plugins.csv.rows import DIGITS, Row, Rows

if TYPE_CHECKING:
    from sweepbook_plugins.csv.grid import Columns, Table

_NUMBER_BEGINS = DIGITS | frozenset("+-.,")


class RowEnds:
    """Counts the rows that end in a blank cell, by how many cells they have.

    Many exports end every row with a mark between cells. A row that lost a cell then has one less
    than the others and ends in a blank one like them, below the last title, and all that stood
    behind the lost one has moved. Where the last title is that of a column which is mostly blank, a
    row with a cell too many is wider than the titles, has a number there and ends in a blank cell
    as well; it is told by the row before or behind it, which has one filled cell less.

    Args:
        place: where their table stands.
    """

    def __init__(self, place: Place) -> None:
        self._width = len(place.titles)
        self._last = max(0, place.filled - 1)
        self._counts: dict[int, int] = {}
        self._doubtful: dict[int, tuple[int, int]] = {}
        self._before = -1
        self._wider: tuple[int, int] | None = None
        self._gained = 0

    def see(self, row: Row, line: int) -> None:
        """Look at a row as it stands in the file."""
        if not row[-1].strip():
            doubtful = not any(map(str.strip, row[self._last :]))
            self._note(len(row), 1, line if doubtful else 0)
            self._count(row, line)
        else:
            self._before, self._wider = -1, None

    def see_run(self, rows: Rows, line: int) -> None:
        """Look at rows as wide as the titles."""
        if blank := rows.blank_ends():
            doubtful = self._last == self._width - 1
            self._note(self._width, len(blank), line + blank[0] if doubtful else 0)
            self._count(rows[blank[0]], line + blank[0])
            self._count(rows[blank[-1]], line + blank[-1])

    def _count(self, row: Row, line: int) -> None:
        """Hold the filled cells of a row that ends in a blank one against those beside it."""
        filled = sum(map(bool, map(str.strip, row)))
        if len(row) > self._width:
            if row[self._width - 1].strip()[:1] in _NUMBER_BEGINS:
                self._wider = line, filled
                if filled == self._before + 1:
                    self._gained = self._gained or line
        elif len(row) == self._width:
            self._before = filled
            if self._wider and self._wider[1] == filled + 1:
                self._gained = self._gained or self._wider[0]
            self._wider = None

    def _note(self, width: int, count: int, line: int) -> None:
        self._counts[width] = self._counts.get(width, 0) + count
        if line:
            first, known = self._doubtful.get(width, (line, 0))
            self._doubtful[width] = (first, known + count)

    def fault(self) -> Fault | None:
        """What to say of rows that lack a cell, or have one too many; None where none does."""
        wider = sum(count for width, count in self._counts.items() if width > self._width)
        if self._gained and wider < self._counts.get(self._width, 0):
            return Fault(
                f"line {self._gained}",
                "the line has a cell more than the titles, and one more that is filled than the "
                "row beside it: a cell may be too many, and what stands behind it have moved; mend "
                "the line, or export it again; see csv.delimiter",
            )
        usual = max(self._counts, default=0)
        fewer = {width: of for width, of in self._doubtful.items() if width < usual}
        if not fewer or sum(count for _, count in fewer.values()) > self._counts[usual]:
            return None
        line, width = min((line, width) for width, (line, _) in fewer.items())
        return Fault(
            f"line {line}",
            f"the line has {width} cells, the last of them blank, where other rows of the test end "
            f"so with {usual}: a cell may be lacking, and what stands behind it have moved; mend "
            "the line, or export it again; see csv.delimiter",
        )


def part_of(columns: "Columns", table: "Table") -> RawTest:
    """What a table says of its test, with a fault where rows seem to lack a cell."""
    part = table.part()
    fault = None if columns.may_end_early else table.ends.fault()
    if fault:
        part.faults.append(fault)
    return part
