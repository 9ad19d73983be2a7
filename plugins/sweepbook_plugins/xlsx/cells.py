"""The cells of one column: what a value looks like there, made once for a value that recurs."""

import math
from typing import TYPE_CHECKING

from sweepbook_plugins.xlsx.look import NUMBERS, Kind
from sweepbook_plugins.xlsx.rows import lines_at, number_at, place, text_at

if TYPE_CHECKING:
    from sweepbook_plugins.xlsx.layout import Cell
    from sweepbook_plugins.xlsx.styles import Styles

_MANY, _LONG = 128, 400
"""How many texts of a column are kept for the next time, and up to which length."""


class Cells(dict["Cell", str]):
    """Cells by their values; ask for one by `cells[value]`. Where nothing is to be said, none.

    A number is written as one in a column of numbers where it is finite, and as text elsewhere.
    """

    def __init__(self, name: str, kind: Kind, styles: "Styles") -> None:
        """Begin a column.

        Args:
            name: "A", "B", ... of the column.
            kind: what it holds.
            styles: formats of the workbook.
        """
        super().__init__({None: ""})
        self._name, self._styles = name, styles
        self._tinted, self._numeric = kind is Kind.WORD, kind in NUMBERS
        self._place = place(name, styles.number(kind))

    def __missing__(self, value: "Cell") -> str:
        """Make a cell; only texts are kept, since 1 and 1.0 are one key and two texts."""
        if isinstance(value, str):
            cell = text_at(self._of_word(value) if self._tinted else self._place, value)
            if len(value) <= _LONG:
                if len(self) > _MANY:
                    self.clear()
                    self[None] = ""
                self[value] = cell
            return cell
        if isinstance(value, tuple):
            return lines_at(self._place, value)
        if value is not None and self._numeric and math.isfinite(value):
            return number_at(self._place, value)
        return text_at(self._place, str(value))

    def _of_word(self, word: str) -> str:
        """The place with the tint of a word."""
        return place(self._name, self._styles.number(Kind.WORD, word))
