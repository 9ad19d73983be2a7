"""The format "sheet-table": a table of texts in a workbook, such as a cable schedule."""

import zipfile
from collections.abc import Iterator
from importlib.util import find_spec

from sweepbook.errors import SweepbookError
from sweepbook.formats import Format
from sweepbook.hookspecs import hookimpl
from sweepbook.source import Source
from sweepbook.tables import Row

_MOST_BYTES = 256 << 20


def read_table(source: Source) -> Iterator[Row]:
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


def _rows(source: Source) -> Iterator[Row]:
    import pandas

    try:
        with source.open() as stream:
            frame = pandas.read_excel(
                stream, engine="openpyxl", header=None, dtype=object, na_filter=False
            )
    except Exception as error:  # the library raises what it meets in a damaged file
        raise _no_workbook(source, type(error).__name__) from error
    for line, values in enumerate(frame.itertuples(index=False, name=None), start=1):
        yield Row(line, tuple(map(_text, values)))


def _text(value: object) -> str:
    """A cell as a person reads it."""
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    return str(value).removesuffix(" 00:00:00").strip()


def _check(source: Source) -> None:
    """Refuse what is no archive, or would expand without end, before anybody unpacks it."""
    try:
        with zipfile.ZipFile(source.path) as archive:
            size = sum(part.file_size for part in archive.infolist())
    except (OSError, zipfile.BadZipFile) as error:
        raise _no_workbook(source, str(error)) from error
    if size > _MOST_BYTES:
        raise SweepbookError(
            f"{source.name} expands to {size >> 20} MiB, which no table of texts does.",
            "Save the table alone as CSV.",
        )


def _no_workbook(source: Source, why: str) -> SweepbookError:
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
