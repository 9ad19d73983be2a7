"""The format "sheet-table": a table of texts in a workbook, such as a cable schedule."""

from collections.abc import Iterator
from importlib.util import find_spec
from typing import TYPE_CHECKING

from sweepbook.errors import SweepbookError
from sweepbook.formats import Format
from sweepbook.hookspecs import hookimpl
from sweepbook.tables import Row

if TYPE_CHECKING:
    from sweepbook.source import Source

_MOST_BYTES, _FREE_BYTES, _MOST_RATIO = 256 << 20, 4 << 20, 60
"""How far a workbook may expand: in all, before anybody asks by how much, and as a multiple of its
file. Cells cost far more than their bytes, and sheets of people pack 10 to 30 times."""


def read_table(source: "Source") -> Iterator[Row]:
    """Yield the rows of the first sheet of a workbook; a formula counts by its last result.

    A whole number comes without a decimal mark and a day as YYYY-MM-DD: a label that looks like a
    number keeps its leading zeros only where its cell is text.

    Raises:
        SweepbookError: openpyxl is not installed, or the file is no such workbook, or expands
            without end.
    """
    _check(source)
    if find_spec("openpyxl") is None:
        raise SweepbookError(
            f"{source.name}: reading a workbook needs openpyxl, which is not installed.",
            "Install it where sweepbook is (pip install openpyxl), or save the table as CSV.",
        )
    yield from _rows(source)


def _rows(source: "Source") -> Iterator[Row]:
    """The rows as they stand in the file; a wide or long empty one costs nothing."""
    from openpyxl import load_workbook

    line = 0
    try:
        with source.open() as stream:
            book = load_workbook(stream, read_only=True, data_only=True, keep_links=False)
            sheet = book.worksheets[0]
            sheet.reset_dimensions()  # what the file says of its size may be wrong
            for values in sheet.iter_rows(values_only=True):
                line += 1
                yield Row(line, tuple(map(_text, values)))
    except SweepbookError:
        raise
    except Exception as error:  # the library raises what it meets in a damaged file
        raise _no_workbook(source, f"{type(error).__name__} behind row {line}") from error


def _text(value: object) -> str:
    """A cell as a person reads it."""
    if value is None:
        return ""
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    return str(value).removesuffix(" 00:00:00").strip()


def _check(source: "Source") -> None:
    """Refuse what is no archive, or would expand without end, before anybody unpacks it."""
    import struct
    import zipfile

    try:
        packed = source.path.stat().st_size
        with zipfile.ZipFile(source.path) as archive:
            size = sum(part.file_size for part in archive.infolist())
    except (OSError, ValueError, NotImplementedError, struct.error, zipfile.BadZipFile) as error:
        raise _no_workbook(source, str(error)) from error
    if size > _MOST_BYTES or size > max(_FREE_BYTES, _MOST_RATIO * packed):
        raise SweepbookError(
            f"{source.name} expands to {size >> 20} MiB from {packed:,} bytes, which no table of "
            "texts does.",
            "Save the table alone as CSV.",
        )


def _no_workbook(source: "Source", why: str) -> SweepbookError:
    return SweepbookError(
        f"{source.name} cannot be read as a workbook ({why}).",
        "Open it in the program that wrote it, and save the table as CSV.",
    )


@hookimpl
def describe_formats() -> list[Format]:
    """The one format of this module."""
    return [
        Format(
            name="sheet-table",
            title="a table of texts as the first sheet of a workbook, such as a cable schedule",
            suffixes=(".xlsx", ".xlsm"),
            read_table=read_table,
        )
    ]
