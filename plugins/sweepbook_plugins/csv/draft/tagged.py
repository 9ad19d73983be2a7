"""Rows of points without titles, each with a mark first, below a line that names their curve."""

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from sweepbook.draft import phrases
from sweepbook.draft.numbers import is_numeric, runs_up
from sweepbook_plugins.csv.draft.text import Cells

_LEAST = 8
"""So many rows of one mark are a curve."""
_LEAST_CELLS = 3
TAG, FREQUENCY, VALUE, OTHER = "mark", "frequency", "value", "number"


class Tagged(NamedTuple):
    """Rows of one mark.

    Attributes:
        columns: names for their cells, which have none in the file.
        stop: position behind the last row.
    """

    columns: tuple[str, ...]
    stop: int


def find(rows: Sequence[Cells], at: int) -> Tagged | None:
    """The rows below a line that names their curve; None where it names none.

    Args:
        rows: the lines as cells.
        at: the line.
    """
    if at + _LEAST >= len(rows) or not phrases.parameter_in(" ".join(rows[at])):
        return None
    first = rows[at + 1]
    if len(first) < _LEAST_CELLS or not first[0].isalnum() or is_numeric(first[0]):
        return None
    stop = at + 1
    while stop < len(rows) and _is_like(rows[stop], first):
        stop += 1
    some = rows[at + 1 : stop]
    if len(some) < _LEAST or rows[at][0] == first[0] or not _rises([row[1] for row in some]):
        return None
    others = [f"{OTHER} {number}" for number in range(1, len(first) - 2)]
    return Tagged((TAG, FREQUENCY, VALUE, *others), stop)


def _is_like(row: Cells, first: Cells) -> bool:
    return (
        len(row) == len(first)
        and row[0] == first[0]
        and is_numeric(row[1])
        and sum(map(is_numeric, row[1:])) * 2 >= len(row) - 1
    )


def _rises(texts: Sequence[str]) -> bool:
    numbers = [float(text.replace(",", ".")) if is_numeric(text) else 0.0 for text in texts]
    return runs_up(texts) or all(a < b for a, b in pairwise(numbers))
