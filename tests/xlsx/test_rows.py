"""Rows written straight into the sheet are what xlsxwriter itself would have written."""

import math
from pathlib import Path

import pytest
from openpyxl import load_workbook
from openpyxl.utils import get_column_letter
from xlsxwriter import Workbook

from sweepbook_plugins.xlsx.file import OPTIONS
from sweepbook_plugins.xlsx.look import CELLS, Kind
from sweepbook_plugins.xlsx.rows import (
    Rows,
    blank_cell,
    column_name,
    number_cell,
    style_number,
    text_cell,
)

TABLE: tuple[tuple[str | float | int | None, ...], ...] = (
    ("Title", "a & b", " <c> ", "_x0041_"),
    ("x", 1, -0.5, 1e300),
    ("y", 5e-324, 1e16, 123456789012),
    ("z", None, "Büro", 0),
)


def ours(target: Path) -> None:
    with Workbook(str(target), OPTIONS) as book:
        style = style_number(book.add_format(CELLS[Kind.TEXT]))
        rows = Rows(book.add_worksheet("A"), 4)
        for number, values in enumerate(TABLE, 1):
            cells = []
            for position, value in enumerate(values):
                name = column_name(position)
                if value is None:
                    cells.append(blank_cell(name, style))
                elif isinstance(value, str):
                    cells.append(text_cell(name, style, value))
                else:
                    cells.append(number_cell(name, style, value))
            rows.add(number, cells, 20.25 if number == 1 else None)


def theirs(target: Path) -> None:
    with Workbook(str(target), OPTIONS) as book:
        style = book.add_format(CELLS[Kind.TEXT])
        sheet = book.add_worksheet("A")
        sheet.set_row(0, 20.25)
        for row, values in enumerate(TABLE):
            for column, value in enumerate(values):
                if isinstance(value, str):
                    sheet.write_string(row, column, value, style)
                elif value is None:
                    sheet.write_blank(row, column, None, style)
                else:
                    sheet.write_number(row, column, value, style)


def test_cells_styles_heights_and_extent_are_the_same(tmp_path: Path) -> None:
    ours(tmp_path / "ours.xlsx")
    theirs(tmp_path / "theirs.xlsx")
    one, two = (load_workbook(tmp_path / f"{name}.xlsx")["A"] for name in ("ours", "theirs"))
    assert one.dimensions == two.dimensions == "A1:D4"
    assert one.row_dimensions[1].height == two.row_dimensions[1].height == 20.25
    for mine, other in zip(one.iter_rows(), two.iter_rows(), strict=True):
        for a, b in zip(mine, other, strict=True):
            assert (a.coordinate, a.data_type, a.number_format) == (
                b.coordinate,
                b.data_type,
                b.number_format,
            )
            assert repr(a.font) == repr(b.font)
            if isinstance(a.value, str):
                assert a.value == b.value
            elif a.value is not None:  # xlsxwriter gives 16 digits of a number
                assert math.isclose(float(str(a.value)), float(str(b.value)), rel_tol=1e-15)


@pytest.mark.parametrize("value", [0.1 + 0.2, 1 / 3, 5e-324, 1.7976931348623157e308, -0.0, 7])
def test_a_number_reads_back_as_the_same_double(value: float) -> None:
    cell = number_cell("A", 1, value)
    assert float(cell.partition("<v>")[2].partition("</v>")[0]) == value


def test_columns_are_named_as_everywhere() -> None:
    """All 16,384 columns that a sheet has, against openpyxl."""
    names = [column_name(position) for position in range(2**14)]
    assert names == [get_column_letter(number) for number in range(1, 2**14 + 1)]
    assert names[-1] == "XFD"
