"""Numbers of the lines of rows, most of which stand one after another."""

from array import array
from bisect import bisect_right


class LineNumbers:
    """The numbers, as stretches of lines one after another."""

    def __init__(self) -> None:
        self._at = array("Q")
        self._first = array("Q")
        self._count = 0

    def __len__(self) -> int:
        return self._count

    def add(self, first: int, count: int = 1) -> None:
        """Add so many lines one after another."""
        if not self._count or self[self._count - 1] != first - 1:
            self._at.append(self._count)
            self._first.append(first)
        self._count += count

    def __getitem__(self, position: int) -> int:
        """The line of a row."""
        at = bisect_right(self._at, position) - 1
        return self._first[at] + position - self._at[at]
