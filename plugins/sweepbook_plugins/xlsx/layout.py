"""What a sheet is, as data: columns from left to right, and how much room text takes in them."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from sweepbook_plugins.xlsx.look import BOLD_LETTERS, LETTERS, RAGGED, Kind

BOLD_WIDTH = 1.2
"""Digits of the default face that the widest letters of a title take; on the safe side."""
MOST_LINES = 30
"""Lines of wrapped text that a row is made high for."""

Cell = str | float | int | tuple[str, ...] | None
"""A tuple is several texts, each on a line of its own; None leaves the cell empty."""
Row = Sequence[Cell]
"""A row is its cells, in the order of the columns: whoever makes rows stands beside the columns."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column.

    Attributes:
        title: with the unit where there is one.
        width: in digits of the default face.
        kind: how cells are written and shown.
    """

    title: str
    width: float
    kind: Kind


@dataclass(frozen=True, slots=True)
class Layout:
    """One sheet.

    Attributes:
        name: at most 28 characters, so that a number fits behind it.
        columns: from left to right.
        frozen: columns that stay when one scrolls to the right.
        printed: columns that go on paper, from the left; None for all.
        on_paper: whether its rows are printed with the rest of the workbook.
        lines: lines of text that a row has room for; rows that need more are made higher one by
            one, which costs memory, so let it fit most of them.
    """

    name: str
    columns: Sequence[Column]
    frozen: int = 1
    printed: int | None = None
    on_paper: bool = True
    lines: int = 1


def lines(cell: Cell, width: float) -> int:
    """Lines that wrapped text takes in a column of that many digits, at most MOST_LINES."""
    if isinstance(cell, tuple):
        return min(MOST_LINES, sum(lines(text, width) for text in cell) or 1)
    letters = 0 if cell is None else len(str(cell))
    if letters <= width * LETTERS:
        return 1
    return min(MOST_LINES, math.ceil(letters / max(width * LETTERS - RAGGED, 1)))


def room(width: float, lines: int) -> int:
    """Letters that surely fit that many lines of a column."""
    return math.floor((width * LETTERS - RAGGED) * lines if lines > 1 else width * LETTERS)


def title_lines(column: Column) -> int:
    """Lines of a title broken between words, less the indent."""
    taken, room = 1, column.width * BOLD_LETTERS - 1
    left = room
    for word in column.title.split():
        if len(word) > left and left < room:
            taken, left = taken + 1, room
        left -= len(word) + 1
    return taken


def narrowest(column: Column, most: int) -> float:
    """The least width at which the title of a column takes no more than that many lines."""
    longest = max(map(len, column.title.split()), default=0)
    widths = (float(width) for width in range(6, math.ceil(column.width)))
    fits = (
        width
        for width in widths
        if width >= BOLD_WIDTH * longest and title_lines(replace(column, width=width)) <= most
    )
    return next(fits, column.width)
