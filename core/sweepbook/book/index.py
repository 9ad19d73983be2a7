"""The index for people: what is current, one row a record, made anew from the journal."""

import csv
import io
import re

from sweepbook import files
from sweepbook.book.contents import Contents
from sweepbook.book.layout import MOST_TABLE, Book
from sweepbook.book.proof import text_of
from sweepbook.inputs import small_file
from sweepbook.text import printable

TITLES = ("record id", "label", "tested", "limit", "stated", "source")
_FORMULA = ("=", "+", "-", "@")
_ROW = re.compile(r"^(sb0-[0-9a-f]{64}),", re.MULTILINE)


def text(contents: Contents) -> str:
    """The whole index as CSV, in the order of the labels.

    A cell that a spreadsheet would take for a formula gets an apostrophe in front; what is not
    printable is written as an escape.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(TITLES)
    for entry in contents.entries():
        of = entry.listed
        sources = "; ".join(entry.sources)
        cells = (of.record_id, of.label, of.started, of.limit, of.stated, sources)
        writer.writerow(_cell(cell) for cell in cells)
    return out.getvalue()


def write(book: Book, contents: Contents) -> None:
    """Write the index, if it would say something else than it does.

    Raises:
        SweepbookError: the book cannot be written to.
    """
    data = text(contents).encode()
    try:
        there = small_file(book.index, MOST_TABLE)
    except OSError:
        there = None
    if there != data:
        files.write_bytes(book.index, data, book.root)


def cut_back(book: Book, contents: Contents) -> str:
    """What to say where whole lines of the journal are gone; "" where none is known to be.

    The index is written after them and never before: what it has of other records is theirs.
    """
    ahead = set(_ROW.findall(text_of(book.index))) - contents.file_sha256.keys()
    if not ahead:
        return ""
    return (
        f"Lines are missing at its end: index.csv has {len(ahead)} of the records that no line "
        "tells of. Restore it from a copy, or gather again what no line tells of."
    )


def _cell(value: str) -> str:
    shown = printable(value)
    return f"'{shown}" if shown.startswith(_FORMULA) else shown
