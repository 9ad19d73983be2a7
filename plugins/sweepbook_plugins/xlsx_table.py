"""One mechanism for every sheet: columns as data, rows as they come, further sheets when full."""

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

from sweepbook.text import printable
from sweepbook_plugins.xlsx_look import (
    CELLS,
    HEADER_NUMBER,
    HEADER_TEXT,
    LINE_HEIGHT,
    NUMBERS,
    STRONG,
    TINTS,
    Kind,
)

MOST_ROWS = 1_048_576
"""Rows of a sheet, the header's included (ECMA-376 as all programs implement it)."""
MOST_CHARACTERS = 32_767
"""UTF-16 units that a cell takes."""

Row = TypeVar("Row")
Cell = str | float | int | None


@dataclass(frozen=True, slots=True)
class Column(Generic[Row]):
    """One column.

    Attributes:
        title: with the unit where there is one.
        width: in characters.
        kind: how cells are written and shown.
        get: the cell's value from a row; None leaves it empty.
    """

    title: str
    width: float
    kind: Kind
    get: Callable[[Row], Cell]


class Look:
    """The cell formats of one workbook, each made once."""

    def __init__(self, workbook: Any) -> None:  # noqa: ANN401 - xlsxwriter ships no types
        self._workbook = workbook
        self._made: dict[tuple[Kind, str], Any] = {}
        self.header = workbook.add_format(HEADER_TEXT)
        self.header_number = workbook.add_format(HEADER_NUMBER)

    def cell(self, kind: Kind, word: str = "") -> Any:  # noqa: ANN401
        """The format of a cell; `word` gives a tint where it has one."""
        key = (kind, word if word in TINTS else "")
        if key not in self._made:
            properties = dict(CELLS[kind])
            if key[1]:
                properties |= {"bg_color": TINTS[word], "bold": word in STRONG}
            self._made[key] = self._workbook.add_format(properties)
        return self._made[key]


class Table(Generic[Row]):
    """A sheet with frozen headers and filters that continues on another when it is full."""

    def __init__(
        self,
        workbook: Any,  # noqa: ANN401
        look: Look,
        name: str,
        columns: Sequence[Column[Row]],
        frozen: int = 1,
        printed: int | None = None,
        most_rows: int = MOST_ROWS,
    ) -> None:
        """Begin the first sheet.

        Args:
            workbook: xlsxwriter's, in constant memory: rows must come in order.
            look: its formats.
            name: of the sheet, at most 28 characters.
            columns: from left to right.
            frozen: columns that stay when one scrolls to the right.
            printed: columns that go on paper, from the left; None for all.
            most_rows: rows of a sheet, the header's included.
        """
        self._workbook, self._look, self._name = workbook, look, name
        self._columns, self._frozen, self._most = columns, frozen, most_rows
        self._printed = printed or len(columns)
        self._sheets = 0
        self._begin()

    def add(self, rows: Iterable[Row]) -> None:
        """Write rows below those that are there."""
        for row in rows:
            if self._next == self._most:
                self.close()
                self._begin()
            values = [column.get(row) for column in self._columns]
            self._sheet.set_row(self._next, self._height(values))
            for position, value in enumerate(values):
                if value is not None:
                    self._write(position, self._columns[position].kind, value)
            self._next += 1

    def close(self) -> None:
        """Set the filters and what is printed, now that the number of rows is known."""
        last = max(self._next - 1, 1)
        self._sheet.autofilter(0, 0, last, len(self._columns) - 1)
        self._sheet.print_area(0, 0, last, self._printed - 1)

    def _begin(self) -> None:
        self._sheets += 1
        name = self._name if self._sheets == 1 else f"{self._name} {self._sheets}"
        sheet = self._sheet = self._workbook.add_worksheet(name)
        for position, column in enumerate(self._columns):
            sheet.set_column(position, position, column.width, self._look.cell(column.kind))
        sheet.freeze_panes(1, self._frozen)
        sheet.set_landscape()
        sheet.set_paper(9)
        sheet.fit_to_pages(1, 0)
        sheet.repeat_rows(0)
        sheet.set_footer("&L&A&RPage &P of &N")
        sheet.set_row(0, 30)
        for position, column in enumerate(self._columns):
            numeric = column.kind in NUMBERS
            header = self._look.header_number if numeric else self._look.header
            sheet.write_string(0, position, column.title, header)
        self._next = 1

    def _height(self, values: Sequence[Cell]) -> float:
        """Points for the tallest cell of wrapped text."""
        pairs = zip(self._columns, values, strict=True)
        prose = (height(str(v), c.width) for c, v in pairs if c.kind is Kind.PROSE and v)
        return max(prose, default=LINE_HEIGHT)

    def _write(self, position: int, kind: Kind, value: Cell) -> None:
        if kind in NUMBERS:
            self._sheet.write_number(self._next, position, value, self._look.cell(kind))
            return
        text = fitting(str(value))
        word = text if kind is Kind.WORD else ""
        self._sheet.write_string(self._next, position, text, self._look.cell(kind, word))


def height(text: str, width: float) -> float:
    """Points that wrapped text takes in a column of that many characters, 30 lines at most."""
    return LINE_HEIGHT * min(30, max(1, math.ceil(len(text) / width)))


def fitting(text: str) -> str:
    """The text as a cell can hold it: control characters visible, and no longer than a cell."""
    shown = printable(text)
    if len(shown.encode("utf-16-le")) // 2 <= MOST_CHARACTERS:
        return shown
    note = f"... (cut: {len(text)} characters, whole in the record)"
    return (
        shown.encode("utf-16-le")[: (MOST_CHARACTERS - 100) * 2].decode("utf-16-le", "ignore")
        + note
    )
