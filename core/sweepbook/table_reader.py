"""Which format reads a table, such as a cable schedule: the one whose ending fits the name."""

from collections.abc import Iterable, Iterator, Mapping

from sweepbook.errors import SweepbookError
from sweepbook.formats import Format
from sweepbook.source import Source
from sweepbook.tables import Row

MOST_COLUMNS = 16_384
MOST_ROWS = 1_048_576
"""What the largest sheet of a spreadsheet holds."""


def read_table(source: Source, formats: Mapping[str, Format]) -> Iterator[Row]:
    """Read a table by the format whose ending fits the file's name.

    Args:
        source: the file.
        formats: all formats, by name; those that read tables are asked.

    Raises:
        SweepbookError: no format reads a table of this ending, it cannot be read, or it is larger
            than a sheet can be.
    """
    able = [entry for entry in formats.values() if entry.read_table is not None]
    name = source.name.casefold()
    for entry in able:
        if entry.read_table is not None and name.endswith(entry.suffixes):
            return _within(source.name, entry.read_table(source))
    endings = ", ".join(sorted(suffix for entry in able for suffix in entry.suffixes))
    raise SweepbookError(
        f"{source.name} has none of the endings of a table that can be read: {endings or 'none'}.",
        "Save the table as CSV, or install a plugin that reads it.",
    )


def _within(name: str, rows: Iterable[Row]) -> Iterator[Row]:
    """The rows of a table no larger than a sheet can be.

    Raises:
        SweepbookError: it is larger.
    """
    for count, row in enumerate(rows, start=1):
        if count > MOST_ROWS or len(row.cells) > MOST_COLUMNS:
            raise SweepbookError(
                f"{name}, line {row.line}: the table has more than {MOST_ROWS:,} rows or "
                f"{MOST_COLUMNS:,} columns, which no sheet has.",
                "Save the rows and columns of the schedule alone.",
            )
        yield row
