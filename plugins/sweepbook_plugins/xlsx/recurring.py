"""What is made of the values of cells, once for a text that recurs."""

from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    from sweepbook_plugins.xlsx.layout import Cell

_LONG = 400
"""Letters of the longest text that is kept for the next time."""

Made = TypeVar("Made")


class Recurring(dict["Cell", Made]):
    """Ask for what is made of a value by `recurring[value]`.

    Only texts are kept, since 1 and 1.0 are one key and two texts.

    Attributes:
        most: how many of them.
    """

    most = 128

    def make(self, value: "Cell") -> Made:
        """Make it."""
        raise NotImplementedError

    def __missing__(self, value: "Cell") -> Made:
        """Make it, and keep it where it may recur."""
        made = self.make(value)
        if value is None or (isinstance(value, str) and len(value) <= _LONG):
            if len(self) > self.most:
                self.clear()
            self[value] = made
        return made
