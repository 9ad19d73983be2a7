"""A table of texts from outside, such as a cable schedule: rows as they stand, none interpreted."""

from dataclasses import dataclass


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
