"""One mechanism for every sheet: columns as data, rows as they come, further sheets when full."""

from collections.abc import Iterable, Iterator
from operator import getitem
from typing import Any

from sweepbook_plugins.xlsx.cells import Cells, Lines
from sweepbook_plugins.xlsx.layout import Layout, Row, narrowest, room, title_lines
from sweepbook_plugins.xlsx.look import HEADER_AIR, LINE_HEIGHT, NUMBERS, WRAPPING
from sweepbook_plugins.xlsx.rows import Rows, column_name, text_cell
from sweepbook_plugins.xlsx.styles import Styles

MOST_ROWS = 1_048_576
"""Rows of a sheet, the header's included (the limit of the office programs)."""
NOT_PRINTED = "The rows of this sheet are for the screen. To print them, clear its print area."


class Table:
    """A sheet with frozen headers and filters that continues on another when it is full.

    Attributes:
        name: of the first sheet; those after it have a number besides.
        sheets: how many there are so far.
    """

    def __init__(
        self,
        workbook: Any,  # noqa: ANN401
        styles: Styles,
        layout: Layout,
        most_rows: int = MOST_ROWS,
    ) -> None:
        """Begin the first sheet.

        Args:
            workbook: xlsxwriter's, in constant memory: rows must come in order.
            styles: its formats.
            layout: what the sheet is.
            most_rows: rows of a sheet, the header's included.
        """
        self._workbook, self._styles, self._layout = workbook, styles, layout
        self._most, self.name = most_rows, layout.name
        self._columns = tuple(enumerate(layout.columns))
        self._names = [column_name(position) for position, _ in self._columns]
        self._cells = [
            Cells(name, column.kind, styles)
            for name, column in zip(self._names, layout.columns, strict=True)
        ]
        self._wrapped = [
            (at, room(column.width, layout.lines))
            for at, column in self._columns
            if column.kind in WRAPPING
        ]
        self._places = [at for at, _ in self._wrapped]
        self._lines = [Lines(layout.columns[at].width) for at in self._places]
        self._title_lines = max(map(title_lines, layout.columns))
        self._bare: list[int] = []
        self._next = 2
        self.sheets = 0
        self._begin()

    def add(self, rows: Iterable[Row]) -> None:
        """Write rows below those that are there."""
        cells = self._cells
        for row in rows:
            if self._next > self._most:
                self.close()
                self._begin()
            if self._bare:
                self._bare = [at for at in self._bare if not row[at] and row[at] != 0]
            self._rows.add(self._next, map(getitem, cells, row), self._height(row))
            self._next += 1

    def close(self) -> None:
        """Set the filters, what is printed and how wide columns are in which nothing stands."""
        last, columns = max(self._next - 2, 1), len(self._columns)
        self._sheet.autofilter(0, 0, last, columns - 1)
        self._sheet.ignore_errors({"number_stored_as_text": f"A1:XFD{last + 1}"})
        for at in self._bare if self._next > 2 else ():
            column = self._layout.columns[at]
            width = narrowest(column, self._title_lines)
            self._sheet.set_column(at, at, width, self._styles.format(column.kind))
        if self._next == 2:
            self._sheet.hide()  # else it would print a page of titles
            return  # some programs print the area of a hidden sheet
        printed = last if self._layout.on_paper else 0
        self._sheet.print_area(0, 0, printed, (self._layout.printed or columns) - 1)

    def _begin(self) -> None:
        layout = self._layout
        self.sheets += 1
        self._next = 2
        self._bare = [at for at, _ in self._columns]
        name = self.name if self.sheets == 1 else f"{self.name} {self.sheets}"
        sheet = self._sheet = self._workbook.add_worksheet(name)
        sheet.set_default_row(LINE_HEIGHT * layout.lines)
        for position, column in self._columns:
            sheet.set_column(position, position, column.width, self._styles.format(column.kind))
        sheet.freeze_panes(1, layout.frozen)
        paper(sheet)
        if layout.on_paper:
            sheet.repeat_rows(0)
        else:
            sheet.set_header(f"&L{NOT_PRINTED}")
        self._rows = Rows(sheet, len(self._columns))
        height = LINE_HEIGHT * self._title_lines + HEADER_AIR
        self._rows.add(1, self._titles(), height)

    def _titles(self) -> Iterator[str]:
        """The cells of the first row."""
        for name, column in zip(self._names, self._layout.columns, strict=True):
            numeric = column.kind in NUMBERS
            style = self._styles.header_number if numeric else self._styles.header
            yield text_cell(name, style, column.title)

    def _height(self, row: Row) -> float | None:
        """The height that the tallest cell of wrapped text needs; None where all have room."""
        for at, letters in self._wrapped:
            cell = row[at]
            if cell is not None and not (isinstance(cell, str) and len(cell) <= letters):
                break
        else:
            return None
        most = max(map(getitem, self._lines, map(row.__getitem__, self._places)))
        return LINE_HEIGHT * most if most > self._layout.lines else None


def paper(sheet: Any, pages: int = 0) -> None:  # noqa: ANN401
    """Set a sheet up for print: A4 across, all printed columns on the page, pages numbered.

    Args:
        sheet: xlsxwriter's.
        pages: how many it is to take at most; 0 for as many as it needs.
    """
    sheet.set_landscape()
    sheet.set_paper(9)
    sheet.set_margins(left=0.4, right=0.4, top=0.5, bottom=0.6)
    sheet.fit_to_pages(1, pages)
    sheet.set_footer("&L&A&RPage &P of &N")
