"""Tables whose first column holds the titles, turned so that the rest of a draft sees rows."""

from collections.abc import Sequence

from sweepbook.draft import phrases
from sweepbook.draft.fields import guess
from sweepbook.draft.numbers import is_numeric
from sweepbook.draft.trade_words import UNIT
from sweepbook_plugins.csv.draft.text import Cells, Text
from sweepbook_plugins.csv.draft.wide import LEAST, rising

_LEAST_WIDTH = 3
_LEAST_TITLES = 3
_MUST = {"link.label", "test.limit", "test.started", "stated.overall"}
_LEAST_KNOWN = 2


def turn(text: Text) -> Text:
    """The text with such a table turned; as it is where none stands in it."""
    for at, row in enumerate(text.rows):
        if len(row) >= _LEAST_WIDTH:
            below = [row for row in text.rows[at:] if row]
            if all(row[0] for row in below) and (_of_curves(below) or _of_tests(below)):
                return _turned(text, at)
            if len({len(row) for row in below}) == 1:
                return text
    return text


def _of_curves(rows: Sequence[Cells]) -> bool:
    """Whether a column of rising frequencies stands below several titles of words."""
    first = [row[0] for row in rows]
    head = next((at for at, cell in enumerate(first) if is_numeric(cell)), len(first))
    axis = first[head:]
    wide = {len(row) for row in rows}
    words = first[:head]
    plain = len(wide) == 1 and len(set(words)) == len(words) >= _LEAST_TITLES
    return plain and len(axis) >= LEAST and rising(axis) and _tell(rows[:head]) > 0


def _of_tests(rows: Sequence[Cells]) -> bool:
    """Whether the first column holds titles of what is known of tests, and the first row none."""
    first = [row[0] for row in rows]
    across = {cell: [below] for cell, below in zip(rows[0], rows[-1], strict=False)}
    plain = len(set(first)) == len(first) >= _LEAST_TITLES and not any(map(is_numeric, first))
    known = {one.path for one in guess(across, None) if not one.by_text} & _MUST
    return plain and len(known) < _LEAST_KNOWN <= _tell(rows)


def _tell(rows: Sequence[Cells]) -> int:
    """How many rows say what a test is known by."""
    texts = {row[0]: list(dict.fromkeys(filter(None, row[1:]))) for row in rows}
    return len({one.path for one in guess(texts, None)} & _MUST)


def _turned(text: Text, at: int) -> Text:
    below = [row for row in text.rows[at:] if row]
    width = max(map(len, below))
    columns = [[*column] for column in zip(*(_filled(row, width) for row in below), strict=True)]
    units = [column for column in columns[1:] if phrases.whole(column[0], UNIT)]
    rows = [column for column in columns if column not in units and any(column)]
    lines = [text.delimiter.join(_quoted(cell, text.delimiter) for cell in row) for row in rows]
    return text._replace(
        lines=[*text.lines[:at], *lines],
        rows=[*text.rows[:at], *rows],
        turned=(below[0][0], *(column[0] for column in units)),
    )


def _filled(row: Cells, width: int) -> Cells:
    return [*row, *[""] * (width - len(row))]


def _quoted(cell: str, delimiter: str) -> str:
    return '"{}"'.format(cell.replace('"', '""')) if delimiter in cell else cell
