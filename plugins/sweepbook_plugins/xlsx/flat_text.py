"""The texts of a flat table: what the value of a cell is there."""

import math
from typing import TYPE_CHECKING

from sweepbook_plugins.xlsx.recurring import Recurring
from sweepbook_plugins.xlsx.text import fitting

if TYPE_CHECKING:
    from sweepbook_plugins.xlsx.layout import Cell

_FORMULA = ("=", "+", "-", "@", "'")


class Texts(Recurring[str]):
    """Texts by the values of cells of all columns; none begins as a formula does.

    One that no cell of an office program takes is cut: the label of a link stands in many rows.
    """

    most = 2000

    def make(self, value: "Cell") -> str:
        """Make a text."""
        if value is None:
            return ""
        if isinstance(value, tuple):
            value = " ".join(value)
        if isinstance(value, str):
            shown = fitting(value)
            return f"'{shown}" if shown.startswith(_FORMULA) else shown
        if not math.isfinite(value):
            return ""
        return str(value) if isinstance(value, int) else repr(float(value))
