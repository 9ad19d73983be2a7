"""Which format reads a table, such as a cable schedule: the one whose ending fits the name."""

from collections.abc import Iterator, Mapping

from sweepbook.errors import SweepbookError
from sweepbook.formats import Format
from sweepbook.source import Source
from sweepbook.tables import Row


def read_table(source: Source, formats: Mapping[str, Format]) -> Iterator[Row]:
    """Read a table by the format whose ending fits the file's name.

    Args:
        source: the file.
        formats: all formats, by name; those that read tables are asked.

    Raises:
        SweepbookError: no format reads a table of this ending, or it cannot be read.
    """
    able = [entry for entry in formats.values() if entry.read_table is not None]
    name = source.name.casefold()
    for entry in able:
        if entry.read_table is not None and name.endswith(entry.suffixes):
            return entry.read_table(source)
    endings = ", ".join(sorted(suffix for entry in able for suffix in entry.suffixes))
    raise SweepbookError(
        f"{source.name} has none of the endings of a table that can be read: {endings or 'none'}.",
        "Save the table as CSV, or install a plugin that reads it.",
    )
