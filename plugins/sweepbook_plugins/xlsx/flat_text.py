"""The texts of a flat table: what the value of a cell is there."""

import math
from typing import TYPE_CHECKING

from sweepbook.text import printable
from sweepbook_plugins.xlsx.recurring import Recurring

if TYPE_CHECKING:
    from sweepbook_plugins.xlsx.layout import Cell

_FORMULA = ("=", "+", "-", "@", "'")


class Texts(Recurring[str]):
    """Texts by the values of cells of all columns; none begins as a formula does."""

    most = 2000

    def make(self, value: "Cell") -> str:
        """Make a text."""
        if value is None:
            return ""
        if isinstance(value, tuple):
            value = " ".join(value)
        if isinstance(value, str):
            shown = printable(value)
            return f"'{shown}" if shown.startswith(_FORMULA) else shown
        if not math.isfinite(value):
            return ""
        return str(value) if isinstance(value, int) else repr(float(value))
