"""Tables of texts as CSV: rows as they stand, with the lines where they begin."""

from pathlib import Path

import pytest

from sweepbook.errors import SweepbookError
from sweepbook.registry import load
from sweepbook.source import Source
from sweepbook.tables import Row, read_table

FORMATS = load([]).formats


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


def test_a_row_that_goes_over_several_lines_begins_where_it_begins(tmp_path: Path) -> None:
    rows = _rows(tmp_path, b'label,note\n1,"two\nlines"\n\n2,x\n')
    assert [(row.line, row.cells) for row in rows] == [
        (1, ("label", "note")),
        (2, ("1", "two\nlines")),
        (4, ()),
        (5, ("2", "x")),
    ]
    assert rows[2].blank


@pytest.mark.parametrize(
    ("raw", "name", "told"),
    [
        (b"label\nCaf\xe9\n", "t.csv", "line 2: the text is not UTF-8"),
        (b'label\n1,"never closed\n', "t.csv", "line 2: the row cannot be taken apart"),
        (b"label\n", "t.ods", "none of the endings"),
    ],
)
def test_what_is_no_table_is_told(tmp_path: Path, raw: bytes, name: str, told: str) -> None:
    with pytest.raises(SweepbookError, match=told):
        _rows(tmp_path, raw, name)
