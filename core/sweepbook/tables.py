"""A table of texts from outside, such as a cable schedule: rows as they stand, none interpreted."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from sweepbook.errors import SweepbookError

if TYPE_CHECKING:
    from sweepbook.formats import Format
    from sweepbook.source import Source


@dataclass(frozen=True, slots=True)
class Row:
    """One row.

    Attributes:
        line: where it begins, counted from 1, as a person who opens the file counts.
        cells: its texts, without blanks around them; "" for an empty cell.
    """

    line: int
    cells: tuple[str, ...]

    @property
    def blank(self) -> bool:
        """Whether nothing stands in it."""
        return not any(self.cells)


def read_table(source: "Source", formats: "dict[str, Format]") -> Iterator[Row]:
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
