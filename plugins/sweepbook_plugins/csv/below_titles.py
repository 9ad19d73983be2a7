"""Texts of a line with blanks between, and which of the titles above them each stands below."""

import re
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from typing import NamedTuple

_APART = re.compile(r"\S+(?: \S+)*")
"""Texts with two blanks or more between them; a single one is part of a text."""
_WORDS = re.compile(r"\S+")
_TAB = 8
_NO_END = 1 << 30


class Placed(NamedTuple):
    """A text of a line, and from which to which character it stands."""

    text: str
    start: int
    end: int


class Columns:
    """The columns below some titles.

    Args:
        titles: in their order; the first may be "", for what stands left of all others.
        aligned: "left" or "right", where titles stand at that edge of their columns; "below" where
            they stand above some part of each cell.
    """

    def __init__(self, titles: Sequence[Placed], aligned: str) -> None:
        self.titles = [of.text for of in titles]
        bounds = [0, *(of.end for of in titles)]
        if aligned == "left":
            bounds = [0, *(of.start for of in titles[1:]), _NO_END]
        self._starts, self._ends = bounds[:-1], bounds[1:]
        if aligned == "below":
            self._starts, self._ends = [of.start for of in titles], [of.end for of in titles]
        self._untitled = not self.titles[0] and aligned != "left"

    def cells(self, texts: Sequence[Placed]) -> list[str]:
        """The cells of a row, blank ones among them.

        Raises:
            ValueError: a text stands below no title or below two, or two texts below one.
        """
        cells = [""] * len(self.titles)
        for whole in texts:
            pieces = [whole]
            if len(self._above(whole)) > 1:
                pieces = [
                    piece._replace(start=piece.start + whole.start, end=piece.end + whole.start)
                    for piece in _placed(whole.text, _WORDS)
                ]
            for piece in pieces:
                at = self._one_above(piece)
                if cells[at]:
                    raise ValueError(
                        f"{cells[at]!r:.60} and {piece.text!r:.60} both stand below "
                        f"{self.titles[at]!r}, so which is of that column cannot be told"
                    )
                cells[at] = piece.text
        return cells

    def _one_above(self, text: Placed) -> int:
        found = self._above(text)
        if len(found) == 1:
            return found[0]
        where = f"{text.text!r:.60} at character {text.start + 1} stands"
        if not found:
            raise ValueError(f"{where} below no title")
        shown = " and ".join(repr(self.titles[at]) for at in found[:2])
        raise ValueError(f"{where} below {shown}")

    def _above(self, text: Placed) -> range:
        """Positions of the columns within which any of a text stands.

        A column without a title takes what stands before all titles; a number that is longer than
        the first of these stands below it all the same, where cells stand at its right edge.
        """
        found = range(bisect_right(self._ends, text.start), bisect_left(self._starts, text.end))
        return found[1:] if self._untitled and len(found) > 1 and not found[0] else found


def apart(line: str) -> list[Placed]:
    """The texts of a line that has two blanks or more between them."""
    return _placed(_plain(line), _APART)


def words(line: str) -> list[Placed]:
    """The texts of a line with blanks between."""
    return _placed(_plain(line), _WORDS)


def with_untitled(titles: Sequence[Placed]) -> list[Placed]:
    """Titles with one more for what stands left of them; none where nothing can."""
    start = titles[0].start if titles else 0
    return [Placed("", 0, start), *titles] if start else []


def _plain(line: str) -> str:
    """A line with blanks for tabulators, and without a mark of a new page before it."""
    return line.lstrip("\f").rstrip().expandtabs(_TAB)


def _placed(line: str, way: re.Pattern[str]) -> list[Placed]:
    return [Placed(of[0], of.start(), of.end()) for of in way.finditer(line)]
