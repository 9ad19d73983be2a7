"""Holds the tests of a CSV file to a size that fits into memory."""

from collections.abc import Iterator

from sweepbook.dialect.raw import Fault
from sweepbook_plugins.csv.keys import TooManyLines
from sweepbook_plugins.csv.lines import Block

MOST_CHARACTERS = 64 << 20
"""Of one test; a whole certification with a row a point has about 3,000,000."""

MOST_CELLS = 5_000_000
"""Of one test; a whole certification with a row a point has about 500,000."""


class Bounded:
    """The blocks of a file, as long as no test of them is too large.

    A test is counted from the block on in which the one before it ended.

    Args:
        lines: the blocks.
        delimiter: what stands between two cells.
    """

    def __init__(self, lines: Iterator[Block], delimiter: str) -> None:
        self._lines = lines
        self._delimiter = delimiter
        self._characters = self._cells = 0

    def ended(self) -> None:
        """Count anew: a test has ended."""
        self._characters = self._cells = 0

    def blocks(self) -> Iterator[Block]:
        """The blocks one after another.

        Raises:
            TooManyLines: a test has too many.
        """
        for block in self._lines:
            self._characters += len(block.text)
            self._cells += block.text.count(self._delimiter) + len(block.rows)
            if self._characters > MOST_CHARACTERS:
                raise _TooLarge(block.first, f"{MOST_CHARACTERS:,} characters")
            if self._cells > MOST_CELLS:
                raise _TooLarge(block.first, f"{MOST_CELLS:,} cells")
            yield block


class _TooLarge(TooManyLines):
    def __init__(self, line: int, most: str) -> None:
        super().__init__(line, f"no test ends within {most}", "")
        self.fault = Fault(
            self.fault.place,
            f"no test ends within {most}, and nothing behind this line was read; see csv.test and "
            "csv.rows.test if one does, or cut what is no part of a test out of the file",
        )
