"""One mechanism for every sheet: columns as data, rows as they come, further sheets when full."""

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

from sweepbook_plugins.xlsx_look import (
    BOLD_LETTERS,
    CELLS,
    HEADER_NUMBER,
    HEADER_TEXT,
    LETTERS,
    LINE_HEIGHT,
    NUMBERS,
    STRONG,
    TINTS,
    Kind,
)
from sweepbook_plugins.xlsx_text import write_text

MOST_ROWS = 1_048_576
"""Rows of a sheet, the header's included (the limit of the office programs)."""
MOST_LINES = 30
"""Lines of wrapped text that a row is made high for."""

Row = TypeVar("Row")
Cell = str | float | int | None


@dataclass(frozen=True, slots=True)
class Column(Generic[Row]):
    """One column.

    Attributes:
        title: with the unit where there is one.
        width: in digits of the default face.
        kind: how cells are written and shown.
        get: the cell's value from a row; None leaves it empty.
    """

    title: str
    width: float
    kind: Kind
    get: Callable[[Row], Cell]


@dataclass(frozen=True, slots=True)
class Layout(Generic[Row]):
    """One sheet.

    Attributes:
        name: at most 28 characters, so that a number fits behind it.
        columns: from left to right.
        frozen: columns that stay when one scrolls to the right.
        printed: columns that go on paper, from the left; None for all.
        lines: lines of text that a row has room for; rows that need more are made higher one by
            one, which costs memory, so let it fit most of them.
    """

    name: str
    columns: Sequence[Column[Row]]
    frozen: int = 1
    printed: int | None = None
    lines: int = 1


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
        layout: Layout[Row],
        most_rows: int = MOST_ROWS,
    ) -> None:
        """Begin the first sheet.

        Args:
            workbook: xlsxwriter's, in constant memory: rows must come in order.
            look: its formats.
            layout: what the sheet is.
            most_rows: rows of a sheet, the header's included.
        """
        self._workbook, self._look, self._layout = workbook, look, layout
        self._most = most_rows
        self._columns = tuple(enumerate(layout.columns))
        self._plain = [look.cell(column.kind) for column in layout.columns]
        self._prose = [at for at, column in self._columns if column.kind is Kind.PROSE]
        self._sheets = 0
        self._begin()

    def add(self, rows: Iterable[Row]) -> None:
        """Write rows below those that are there."""
        for row in rows:
            if self._next == self._most:
                self.close()
                self._begin()
            values = [column.get(row) for _, column in self._columns]
            lines = self._lines(values)
            if lines > self._layout.lines:
                self._sheet.set_row(self._next, LINE_HEIGHT * lines)
            for position, column in self._columns:
                value = values[position]
                if value is not None:
                    self._write(position, column.kind, value)
            self._next += 1

    def close(self) -> None:
        """Set the filters and what is printed, now that the number of rows is known."""
        last, columns = max(self._next - 1, 1), len(self._columns)
        self._sheet.autofilter(0, 0, last, columns - 1)
        self._sheet.ignore_errors({"number_stored_as_text": f"A1:XFD{last + 1}"})
        self._sheet.print_area(0, 0, last, (self._layout.printed or columns) - 1)

    def _begin(self) -> None:
        layout = self._layout
        self._sheets += 1
        name = layout.name if self._sheets == 1 else f"{layout.name} {self._sheets}"
        sheet = self._sheet = self._workbook.add_worksheet(name)
        sheet.set_default_row(LINE_HEIGHT * layout.lines)
        for position, column in self._columns:
            sheet.set_column(position, position, column.width, self._plain[position])
        sheet.freeze_panes(1, layout.frozen)
        paper(sheet)
        sheet.repeat_rows(0)
        sheet.set_row(0, 2 + LINE_HEIGHT * max(_title_lines(c) for c in layout.columns))
        for position, column in self._columns:
            numeric = column.kind in NUMBERS
            header = self._look.header_number if numeric else self._look.header
            sheet.write_string(0, position, column.title, header)
        self._next = 1

    def _lines(self, values: Sequence[Cell]) -> int:
        """Lines of the tallest cell of wrapped text."""
        columns = self._layout.columns
        return max(
            (lines(str(values[at]), columns[at].width) for at in self._prose if values[at]),
            default=1,
        )

    def _write(self, position: int, kind: Kind, value: str | float | int) -> None:
        style = self._plain[position]
        if kind in NUMBERS and not isinstance(value, str) and math.isfinite(value):
            self._sheet.write_number(self._next, position, value, style)
            return
        text = str(value)
        if kind is Kind.WORD:
            style = self._look.cell(kind, text)
        write_text(self._sheet, self._next, position, text, style)


def paper(sheet: Any) -> None:  # noqa: ANN401
    """Set a sheet up for print: A4 across, all printed columns on the page, pages numbered."""
    sheet.set_landscape()
    sheet.set_paper(9)
    sheet.set_margins(left=0.4, right=0.4, top=0.5, bottom=0.6)
    sheet.fit_to_pages(1, 0)
    sheet.set_footer("&L&A&RPage &P of &N")


def lines(text: str, width: float) -> int:
    """Lines that wrapped text takes in a column of that many digits, at most MOST_LINES."""
    return min(MOST_LINES, max(1, math.ceil(len(text) / (width * LETTERS))))


def _title_lines(column: Column[Any]) -> int:
    """Lines of a title broken between words, less the indent."""
    taken, room = 1, column.width * BOLD_LETTERS - 1
    left = room
    for word in column.title.split():
        if len(word) > left and left < room:
            taken, left = taken + 1, room
        left -= len(word) + 1
    return taken
