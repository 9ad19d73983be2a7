"""Titles that are frequencies and go on in a row of units right below them."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from sweepbook.draft.numbers import is_numeric, unit_named
from sweepbook_plugins.csv.draft.bodies import is_units
from sweepbook_plugins.csv.draft.text import Cells
from sweepbook_plugins.csv.draft.wide import LEAST, Found, by_titles
from sweepbook_plugins.csv.names import of_lines


def find(rows: Sequence[Cells], at: int, whole: Cells) -> Found | None:
    """The table with a whole curve in each row whose titles begin in a line; None for no such.

    One unit stands below all of the frequencies, so that a dialect tells a file in another one. The
    first title is a word, by which the reader knows that the line goes on.

    Args:
        rows: the lines as cells.
        at: the line.
        whole: its cells with units of numbers.
    """
    below = rows[at + 1] if at + 2 < len(rows) else []
    if not whole[0] or len(below) > len(whole) or any(map(is_numeric, below)):
        return None
    unit, count = Counter(filter(None, below)).most_common(1)[0] if any(below) else ("", 0)
    if count < LEAST or not (unit_named(unit) or is_units([unit, unit])):
        return None
    found = by_titles(rows, at + 1, [*of_lines([whole], below)])
    if found is None or any(is_numeric(rows[at][n]) for n in found.wide.head):
        return None
    start, stop = found.wide.start, found.wide.start + len(found.wide.axis)
    if {*below[start:stop]} != {unit}:
        return None
    return replace(found, wide=replace(found.wide, upper=whole[0], unit=(unit,)))
