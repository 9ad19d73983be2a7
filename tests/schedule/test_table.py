"""Tables of texts as CSV: rows as they stand, with the lines where they begin."""

import zipfile
from datetime import datetime
from pathlib import Path

import openpyxl
import pytest

from sweepbook.errors import SweepbookError
from sweepbook.registry import load
from sweepbook.source import Source
from sweepbook.table_reader import read_table
from sweepbook.tables import Row

FORMATS = load([]).formats
EMPTY_ARCHIVE = b"PK\x05\x06" + bytes(18)


def _rows(folder: Path, raw: bytes, name: str = "t.csv") -> list[Row]:
    path = folder / name
    path.write_bytes(raw)
    return list(read_table(Source(path), FORMATS))


@pytest.mark.parametrize("mark", [",", ";", "\t", "|"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_marks_encodings_and_line_ends(tmp_path: Path, mark: str, encoding: str, end: str) -> None:
    lines = ["label{0}floor{0}note", "007{0}1{0}Café", "NA{0}{0}=1+1"]
    raw = end.join(lines).format(mark).encode(encoding)
    assert _rows(tmp_path, raw) == [
        Row(1, ("label", "floor", "note")),
        Row(2, ("007", "1", "Café")),
        Row(3, ("NA", "", "=1+1")),
    ]


def test_a_mark_inside_texts_is_not_the_one_between_cells(tmp_path: Path) -> None:
    where = "Main House, 1, TR-1A, K1, P1"
    raw = f"Label;Where;Limit\nA-1;{where};Cat 6\nA-2;{where};Cat 6\nA-3;Loft, 2;Cat 6\n".encode()
    rows = _rows(tmp_path, raw)
    assert rows[1].cells == ("A-1", where, "Cat 6")
    assert {len(row.cells) for row in rows} == {3}


def test_a_row_that_goes_over_several_lines_begins_where_it_begins(tmp_path: Path) -> None:
    rows = _rows(tmp_path, b'label,note\n1,"two\nlines"\n\n2,x\n')
    assert [(row.line, row.cells) for row in rows] == [
        (1, ("label", "note")),
        (2, ("1", "two\nlines")),
        (4, ()),
        (5, ("2", "x")),
    ]
    assert rows[2].blank


def test_a_workbook_is_read_by_its_first_sheet(tmp_path: Path) -> None:
    path = tmp_path / "t.xlsx"
    book = openpyxl.Workbook()
    sheet = book.create_sheet("first", 0)
    sheet.append(["label", "floor", "from", "day"])
    sheet.append(["007", 1, 2.0, datetime(2024, 5, 1)])
    sheet.append([None, None, None, None])
    sheet.append(["NA", "  a b ", 2.5, None])
    book.create_sheet("second").append(["never read"])
    book.save(path)
    assert list(read_table(Source(path), FORMATS)) == [
        Row(1, ("label", "floor", "from", "day")),
        Row(2, ("007", "1", "2", "2024-05-01")),
        Row(3, ()),
        Row(4, ("NA", "a b", "2.5")),
    ]


def test_a_workbook_that_expands_without_end_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "bomb.xlsx"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("xl/worksheets/sheet1.xml", b"0" * (257 << 20))
    with pytest.raises(SweepbookError, match="expands to 257 MiB"):
        list(read_table(Source(path), FORMATS))


@pytest.mark.parametrize(
    ("raw", "name", "told"),
    [
        (b"label\nCaf\xe9\n", "t.csv", "line 2: the text is not UTF-8"),
        (b'label\n1,"never closed\n', "t.csv", "line 2: the row cannot be taken apart"),
        (b"label\n", "t.ods", "none of the endings"),
        (b"label\n", "t.xlsx", "cannot be read as a workbook"),
        (EMPTY_ARCHIVE, "t.xlsx", "cannot be read as a workbook"),
    ],
)
def test_what_is_no_table_is_told(tmp_path: Path, raw: bytes, name: str, told: str) -> None:
    with pytest.raises(SweepbookError, match=told):
        _rows(tmp_path, raw, name)
