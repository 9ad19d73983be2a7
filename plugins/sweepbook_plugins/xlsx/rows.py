"""Writing the rows of a sheet straight into the file that xlsxwriter keeps for them.

xlsxwriter's own way takes some four times as long, remembers the height of every row, and
takes a text that begins with <r> and ends with </r> for markup. It stays in charge of all else:
styles, columns, filters, print, the archive. The link to its insides is this module alone.
"""

from collections.abc import Iterable
from functools import partial
from pathlib import Path
from shutil import copyfileobj
from typing import Any

from sweepbook_plugins.xlsx.text import inline, inline_lines

_PIECE = 1 << 20
HERE = "\0"
"""Stands in a cell for the number of its row; in a text it cannot stand."""


def column_name(position: int) -> str:
    """A, B, ..., Z, AA, ... for a column counted from 0."""
    name = ""
    position += 1
    while position:
        position, letter = divmod(position - 1, 26)
        name = chr(ord("A") + letter) + name
    return name


def style_number(style: Any) -> int:  # noqa: ANN401
    """The number by which a cell names a format of xlsxwriter's."""
    return int(style._get_xf_index())


def place(column: str, style: int) -> str:
    """Where a cell stands and how it looks, as the functions below take it."""
    return f'r="{column}{HERE}" s="{style}"'


def text_at(place: str, text: str) -> str:
    """A cell of text."""
    return f'<c {place} t="inlineStr">{inline(text)}</c>'


def lines_at(place: str, texts: Iterable[str]) -> str:
    """A cell of several texts, each on a line of its own."""
    return f'<c {place} t="inlineStr">{inline_lines(texts)}</c>'


def number_at(place: str, value: float | int) -> str:
    """A cell of a finite number, which reads back as the same double."""
    number = int(value) if isinstance(value, int) else float(value)
    return f"<c {place}><v>{number!r}</v></c>"


def text_cell(column: str, style: int, text: str) -> str:
    """A cell of text in a column."""
    return text_at(place(column, style), text)


def number_cell(column: str, style: int, value: float | int) -> str:
    """A cell of a finite number in a column."""
    return number_at(place(column, style), value)


def blank_cell(column: str, style: int) -> str:
    """A cell with a look and nothing in it."""
    return f'<c r="{column}{HERE}" s="{style}"/>'


class Rows:
    """The rows of one sheet, from top to bottom."""

    def __init__(self, sheet: Any, columns: int) -> None:  # noqa: ANN401
        """Begin above the first row.

        Args:
            sheet: xlsxwriter's, of a workbook in constant memory, with no cell and no row set.
            columns: how many the sheet has.
        """
        self._sheet, self._write = sheet, sheet.row_data_fh.buffer.write
        sheet.dim_colmin, sheet.dim_colmax = 0, columns - 1
        sheet._write_optimized_sheet_data = partial(_copy_rows, sheet)

    def add(self, row: int, cells: Iterable[str], height: float | None = None) -> None:
        """Write one row.

        Args:
            row: counted from 1; higher than the one before.
            cells: from left to right, as the functions above make them.
            height: in points, None for that of the sheet.
        """
        high = "" if height is None else f' ht="{height:g}" customHeight="1"'
        written = f'<row r="{HERE}"{high}>{"".join(cells)}</row>'
        self._write(written.replace(HERE, str(row)).encode("utf-8"))
        if self._sheet.dim_rowmin is None:
            self._sheet.dim_rowmin = row - 1
        self._sheet.dim_rowmax = row - 1


def _copy_rows(sheet: Any) -> None:  # noqa: ANN401
    """Put the rows into the sheet's file as bytes; xlsxwriter would read and write them as text."""
    sheet._xml_start_tag("sheetData")
    sheet.fh.flush()
    sheet.row_data_fh.close()
    rows = Path(sheet.row_data_filename)
    with rows.open("rb") as written:
        copyfileobj(written, sheet.fh.buffer, _PIECE)
    rows.unlink()
    sheet._xml_end_tag("sheetData")
