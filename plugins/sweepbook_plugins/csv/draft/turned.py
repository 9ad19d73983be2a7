"""Tables whose first column holds the titles, turned so that the rest of a draft sees rows."""

from collections.abc import Sequence

from sweepbook.draft import phrases
from sweepbook.draft.fields import MUST, guess
from sweepbook.draft.naming import settle
from sweepbook.draft.numbers import is_numeric
from sweepbook.draft.trade_words import UNIT
from sweepbook_plugins.csv.draft.tests import LEAST_KNOWN
from sweepbook_plugins.csv.draft.text import Cells, Text
from sweepbook_plugins.csv.draft.wide import LEAST, rising

_LEAST_WIDTH = 3
_LEAST_TITLES, _MOST_TITLES = 3, 500
_MOST_ABOVE = 10
"""Lines above such a table that may be as wide."""


def turn(text: Text) -> Text:
    """The text with such a table turned; as it is where none stands at its end."""
    if text.aligned:
        return text
    start, rows = len(text.rows), text.rows
    width = next((len(row) for row in reversed(rows) if row), 0)
    while start and (not rows[start - 1] or (len(rows[start - 1]) == width and rows[start - 1][0])):
        start -= 1
    if width < _LEAST_WIDTH:
        return text
    for at in range(start, min(start + _MOST_ABOVE, len(rows))):
        below = [row for row in rows[at:] if row]
        if rows[at] and (_of_curves(below) or _of_tests(below)):
            return _turned(text, at)
    return text


def _of_curves(rows: Sequence[Cells]) -> bool:
    """Whether a column of rising frequencies stands below several titles of words."""
    first = [row[0] for row in rows]
    head = next((at for at, cell in enumerate(first) if is_numeric(cell)), len(first))
    axis = first[head:]
    words = first[:head]
    plain = len(set(words)) == len(words) and _LEAST_TITLES <= head <= _MOST_TITLES
    if not plain or len(axis) < LEAST or not _are_filled(rows[:head]):
        return False
    return rising(axis) and _tell(rows[:head]) > 0


def _of_tests(rows: Sequence[Cells]) -> bool:
    """Whether the first column holds titles of what is known of tests, and the first row none."""
    first = [row[0] for row in rows]
    few = _LEAST_TITLES <= len(first) <= _MOST_TITLES and len(set(first)) == len(first)
    if not few or any(map(is_numeric, first)) or not _are_filled(rows):
        return False
    across = {cell: [below] for cell, below in zip(rows[0], rows[-1], strict=False)}
    known = {one.path for one in guess(across, None) if not one.by_text} & {*MUST}
    return len(known) < LEAST_KNOWN <= _tell(rows)


def _are_filled(rows: Sequence[Cells]) -> bool:
    """Whether most cells of lines hold something, unlike keys and values in lines made even."""
    cells = [cell for row in rows for cell in row[1:]]
    return sum(map(bool, cells)) * 2 >= len(cells)


def _tell(rows: Sequence[Cells]) -> int:
    """How many rows say what a test is known by; pairs are those of curves, and no labels."""
    texts = {row[0]: list(dict.fromkeys(filter(None, row[1:]))) for row in rows}
    told = (one for one in guess(texts, None) if not (one.by_text and _are_pairs(one.texts)))
    return len({one.path for one in told} & {*MUST})


def _are_pairs(texts: Sequence[str]) -> bool:
    naming = settle(list(texts))
    return all(naming.parse(text).pairs for text in texts)


def _turned(text: Text, at: int) -> Text:
    below = [row for row in text.rows[at:] if row]
    columns = [[*column] for column in zip(*below, strict=True)]
    units = [column for column in columns[1:] if phrases.whole(column[0], UNIT)]
    rows = [column for column in columns if column not in units and any(column)]
    lines = [text.delimiter.join(_quoted(cell, text.delimiter) for cell in row) for row in rows]
    return text._replace(
        lines=[*text.lines[:at], *lines],
        rows=[*text.rows[:at], *rows],
        turned=(below[0][0], *(column[0] for column in units)),
    )


def _quoted(cell: str, delimiter: str) -> str:
    return '"{}"'.format(cell.replace('"', '""')) if delimiter in cell else cell
