"""Blank lines between the titles of a table and its rows, which part nothing."""

from collections.abc import Sequence
from itertools import takewhile

from sweepbook.draft.numbers import is_figure, is_frequency, is_numeric, rises
from sweepbook_plugins.csv.draft.bodies import is_units
from sweepbook_plugins.csv.draft.text import Cells, Text
from sweepbook_plugins.csv.draft.wide import LEAST

_LEAST_TITLES = 3
"""Fewer may be a key and its text, below which anything may begin."""
_MOST_BLANK = 2


def closed_up(text: Text) -> Text:
    """The text without blank lines right below titles of curves, as a reader passes over them."""
    gone = {at for at in range(len(text.rows)) if text.rows[at] for at in _blank_below(text, at)}
    if not gone:
        return text
    kept = [at for at in range(len(text.rows)) if at not in gone]
    return text._replace(lines=[text.lines[at] for at in kept], rows=[text.rows[at] for at in kept])


def _blank_below(text: Text, at: int) -> Sequence[int]:
    """Positions of the blank lines between the line of titles here and its first row; else none."""
    rows, titles = text.rows, text.rows[at]
    if len(titles) < _LEAST_TITLES or at + 1 >= len(rows) or rows[at + 1]:
        return ()
    above = rows[at - 1] if at and is_units(titles) else titles
    blank = [*takewhile(lambda one: not rows[one], range(at + 1, len(rows)))]
    behind = rows[blank[-1] + 1 : blank[-1] + 2]
    fits = len(blank) <= _MOST_BLANK and behind and len(behind[0]) == len(titles)
    return blank if fits and _are_titles(above) and _is_row(behind[0], titles) else ()


def _are_titles(cells: Cells) -> bool:
    """Whether titles are words, one of them for an axis, or end with frequencies that rise."""
    words = [*takewhile(lambda cell: not is_numeric(cell), cells)]
    numbers = cells[len(words) :]
    if any(words) and len(numbers) >= LEAST and rises(numbers):
        return True
    return not any(map(is_figure, cells)) and any(map(is_frequency, cells))


def _is_row(cells: Cells, titles: Cells) -> bool:
    """Whether cells end with a figure, and are not the same frequencies as titles, come again."""
    again = [*filter(is_numeric, cells)] == [*filter(is_numeric, titles)]
    return is_numeric(cells[-1]) and any(map(is_figure, cells)) and not again
