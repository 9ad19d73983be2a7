"""The format "csv-table": a table of texts, such as a cable schedule, as CSV."""

import codecs
import csv
import io
from collections import Counter
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from sweepbook.errors import SweepbookError
from sweepbook.formats import Format
from sweepbook.hookspecs import hookimpl
from sweepbook.tables import Row

if TYPE_CHECKING:
    from sweepbook.source import Source

DELIMITERS = ",;\t|"
_MOST_BYTES = 64 << 20
_LOOKED_AT, _LOOKED_INTO = 30, 1 << 20
"""Lines, and characters, by which the mark between cells is told."""
_ENCODINGS = {
    codecs.BOM_UTF8: "utf-8-sig",
    codecs.BOM_UTF16_LE: "utf-16",
    codecs.BOM_UTF16_BE: "utf-16",
}


def read_table(source: "Source") -> Iterator[Row]:
    """Yield the rows of a CSV file; the mark between cells is told by the first lines.

    Raises:
        SweepbookError: the file cannot be opened, is too large, is no text in UTF-8 or UTF-16, or
            a quotation mark is never closed.
    """
    raw, encoding, begins = _text(source)
    lines = io.TextIOWrapper(io.BytesIO(raw), encoding, newline="")
    rows = csv.reader(lines, delimiter=_delimiter(begins), strict=True)
    line = 1
    try:
        for cells in rows:
            yield Row(line, tuple(cell.strip() for cell in cells))
            line = rows.line_num + 1
    except csv.Error as error:
        raise SweepbookError(
            f"{source.name}, line {line}: the row cannot be taken apart ({error}).",
            "Look for a quotation mark that is not closed, and save the table as CSV again.",
        ) from error


def _text(source: "Source") -> tuple[bytes, str, str]:
    """The bytes of a table, their encoding, and the text that it begins with."""
    with source.open() as stream:
        raw = stream.read(_MOST_BYTES + 1)
    if len(raw) > _MOST_BYTES:
        raise SweepbookError(
            f"{source.name} is larger than {_MOST_BYTES >> 20} MiB, which no table of texts is.",
            "Give the table alone.",
        )
    encoding = next((name for mark, name in _ENCODINGS.items() if raw.startswith(mark)), "utf-8")
    try:
        return raw, encoding, raw.decode(encoding)[:_LOOKED_INTO]
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        raise SweepbookError(
            f"{source.name}, line {line}: the text is not {encoding.upper()}.",
            "Save the table as CSV in UTF-8.",
        ) from error


def _delimiter(text: str) -> str:
    """The mark that parts most of the first lines into equally many cells; then into the most.

    A mark inside texts, as the commas of "Main House, 1, TR-1A", is not in the line of titles.
    """
    head = text.splitlines()[:_LOOKED_AT]
    return max(DELIMITERS, key=lambda mark: _evenness(head, mark))


def _evenness(lines: Sequence[str], mark: str) -> tuple[int, int]:
    """How many lines have one number of cells, of two or more, and that number."""
    try:
        widths = Counter(len(cells) for cells in csv.reader(lines, delimiter=mark))
    except csv.Error:
        return 0, 0
    return max(((count, width) for width, count in widths.items() if width > 1), default=(0, 0))


@hookimpl
def describe_formats() -> list[Format]:
    """The one format of this module."""
    return [
        Format(
            name="csv-table",
            title="a table of texts as CSV, such as a cable schedule",
            suffixes=(".csv", ".tsv", ".txt"),
            read_table=read_table,
        )
    ]
