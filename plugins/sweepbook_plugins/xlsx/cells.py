"""The cells of one column: what a value looks like there, and how much room it takes."""

import math
from typing import TYPE_CHECKING

from sweepbook_plugins.xlsx.layout import lines
from sweepbook_plugins.xlsx.look import NUMBERS, Kind
from sweepbook_plugins.xlsx.recurring import Recurring
from sweepbook_plugins.xlsx.rows import lines_at, number_at, place, text_at
from sweepbook_plugins.xlsx.styles import is_small

if TYPE_CHECKING:
    from sweepbook_plugins.xlsx.layout import Cell
    from sweepbook_plugins.xlsx.styles import Styles


class Cells(Recurring[str]):
    """Cells by their values. Where nothing is to be said, there is none.

    A number is written as one in a column of numbers where it is finite, and as text elsewhere.
    """

    def __init__(self, name: str, kind: Kind, styles: "Styles") -> None:
        """Begin a column.

        Args:
            name: "A", "B", ... of the column.
            kind: what it holds.
            styles: formats of the workbook.
        """
        super().__init__()
        self._name, self._styles = name, styles
        self._kind, self._tinted, self._numeric = kind, kind is Kind.WORD, kind in NUMBERS
        self._place = place(name, styles.number(kind))

    def make(self, value: "Cell") -> str:
        """Make a cell."""
        if isinstance(value, str):
            return text_at(self._of_word(value) if self._tinted else self._place, value)
        if value is None:
            return ""
        if isinstance(value, tuple):
            return lines_at(self._place, value)
        if self._numeric and math.isfinite(value):
            return number_at(self._of_small(value) if is_small(value) else self._place, value)
        return text_at(self._place, str(value))

    def _of_small(self, value: float | int) -> str:
        """The place with as many decimals as show that a number is not zero."""
        return place(self._name, self._styles.of_number(self._kind, value))

    def _of_word(self, word: str) -> str:
        """The place with the tint of a word."""
        return place(self._name, self._styles.number(Kind.WORD, word))


class Lines(Recurring[int]):
    """How many lines of wrapped text a value takes in a column."""

    def __init__(self, width: float) -> None:
        """Begin a column of that many digits."""
        super().__init__()
        self._width = width

    def make(self, value: "Cell") -> int:
        """Count the lines."""
        return lines(value, self._width)
