"""Lines whose cells stand below titles with blanks between, cut as the reader will cut them."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from sweepbook.draft.numbers import is_figure, is_numeric
from sweepbook_plugins.csv.below_titles import Columns, Placed, apart, with_untitled, words

WAYS = ("below", "left", "right")
"""How titles may stand above cells; the first that all rows keep to."""
SEPARATOR = ": "
_LEAST = 3
"""Texts in a line that are rather a row than a key and its value."""


class Cut(NamedTuple):
    """Lines as cells.

    Attributes:
        aligned: as a dialect has it.
        rows: the cells of each line.
    """

    aligned: str
    rows: list[list[str]]


def numbers(lines: Sequence[str]) -> int:
    """How many numbers stand in lines of three texts or more with two blanks between.

    A line whose tabulators part its numbers as well has none: those are its delimiter.
    """
    return sum(_numbers(line) for line in lines)


def _numbers(line: str) -> int:
    row = [of.text for of in apart(line)]
    found = sum(map(is_numeric, row)) if len(row) >= _LEAST else 0
    by_tab = sum(is_numeric(cell.strip()) for cell in line.split("\t"))
    return found if found > by_tab else 0


def cut(lines: Sequence[str]) -> Cut:
    """Cut the lines of a file."""
    found = [_Printed(lines, way) for way in WAYS]
    best = min(found, key=lambda one: one.misfits)
    return Cut(best.aligned, best.rows)


class _Printed:
    """The lines of a file, cut in one way.

    Attributes:
        aligned: the way.
        rows: cells of each line.
        misfits: how many lines with numbers right below rows do not keep to it.
    """

    def __init__(self, lines: Sequence[str], aligned: str) -> None:
        self.aligned = aligned
        self.misfits = 0
        self._columns: Columns | None = None
        self.rows = [self._cells(line, lines[at + 1 : at + 2]) for at, line in enumerate(lines)]

    def _cells(self, line: str, below: Sequence[str]) -> list[str]:
        texts = apart(line)
        if not texts:
            self._columns = None
            return []
        plain = [of.text for of in texts]
        if len(texts) > 1 and self._columns is not None:
            try:
                return self._columns.cells(texts)
            except ValueError:
                rest = len(self._columns.titles) >= _LEAST and any(map(is_numeric, plain))
                self.misfits += rest and SEPARATOR not in line
                self._columns = None
        if SEPARATOR in line or len(texts) < 2:
            return [line.strip()]
        self._columns = next(self._below(line, below), None)
        return [*self._columns.titles] if self._columns else plain

    def _below(self, line: str, below: Sequence[str]) -> Iterator[Columns]:
        """The columns whose titles a line holds, where the next line is a row below them."""
        row = apart(below[0]) if below else []
        if len(row) < 2 or not any(is_numeric(of.text) for of in row) or SEPARATOR in below[0]:
            return
        for titles in (apart(line), words(line)):
            for some in (titles, with_untitled(titles)):
                if some and _are_titles(some) and self._fits(some, row):
                    yield Columns(some, self.aligned)

    def _fits(self, titles: Sequence[Placed], row: Sequence[Placed]) -> bool:
        try:
            Columns(titles, self.aligned).cells(row)
        except ValueError:
            return False
        return True


def _are_titles(titles: Sequence[Placed]) -> bool:
    """Whether no text is a number, but for what may be a pair."""
    return not any(is_figure(of.text) for of in titles)
