"""Lines that a spreadsheet made even: without the blank cells that it wrote at their ends."""

import re
from collections.abc import Sequence

from sweepbook.draft import phrases
from sweepbook.draft.numbers import is_numeric
from sweepbook_plugins.csv.draft.separators import SEPARATORS
from sweepbook_plugins.csv.draft.text import Cells, Text
from sweepbook_plugins.csv.rows import filled, padded, without_blank_cells

_LEAST_WIDTH = 2
_LEAST_TITLES = 2
_FRAMES = "[]<>{}()=-*#~+!%/:"
_RUN = re.compile(r"[0-9]+|[^\W\d_]+")


def uneven(text: Text) -> Text:
    """The text with lines as long as what stands in them; as it is where they were not made even.

    Rows keep the blank cells below titles.
    """
    if text.aligned or text.turned or text.marked or not _is_even(text):
        return text
    cells = [[*filled(row)] for row in text.rows]
    rows = _below_titles(cells)
    lines = [
        f"{without_blank_cells(line, text.delimiter)}{text.delimiter * (len(row) - len(of))}"
        for line, of, row in zip(text.lines, cells, rows, strict=True)
    ]
    return text._replace(rows=rows, lines=lines)


def _is_even(text: Text) -> bool:
    """Whether all lines have as many cells, and one holds words in its first cell alone.

    Where they have two cells, that may be a key without its value, unless it has marks as headings
    do or as stand between a key and its value.
    """
    widths = {_width(text, at) for at, row in enumerate(text.rows) if row}
    words = [row[0] for row in text.rows if _is_word(filled(row))]
    if len(widths) != 1 or max(widths) < _LEAST_WIDTH:
        return False
    return bool(words) if max(widths) > _LEAST_WIDTH else any(map(_is_framed, words))


def _width(text: Text, at: int) -> int:
    """Cells of a line, those counted apart into which the delimiter parts a framed heading."""
    line = text.lines[at]
    return len(text.rows[at]) if '"' in line else line.count(text.delimiter) + 1


def _below_titles(lines: Sequence[Cells]) -> list[Cells]:
    """Lines cut to their filled cells, those below titles made as wide as these again."""
    rows: list[Cells] = []
    width = 0
    for at, cells in enumerate(lines):
        if not cells or (_is_word(cells) and not (width and _like(cells[0], lines[at - 1][0]))):
            width = 2 if cells and _lacks_value(lines, at) else 0
            rows.append([*padded(cells, width)])
            width = 0
            continue
        if len(cells) > width and _are_titles(cells):
            width = len(cells)
        rows.append([*padded(cells, width)])
    return rows


def _is_word(cells: Sequence[str]) -> bool:
    return len(cells) == 1 and not is_numeric(cells[0])


def _is_framed(text: str) -> bool:
    return text[:1] in _FRAMES or text[-1:] in _FRAMES or any(mark in text for mark in SEPARATORS)


def _like(text: str, other: str) -> bool:
    """Whether two texts have digits, letters and marks in the same order, as labels of tests do."""
    return any(map(str.isdigit, text)) and _RUN.sub("x", text) == _RUN.sub("x", other)


def _lacks_value(lines: Sequence[Cells], at: int) -> bool:
    """Whether a word alone stands between keys with values, without the frame of a heading."""
    beside = [*lines[at - 1 : at], *lines[at + 1 : at + 2]]
    return [*map(len, beside)] == [2, 2] and not _is_framed(lines[at][0])


def _are_titles(cells: Cells) -> bool:
    """Whether cells are words, or names of pairs, all of them filled but maybe the first."""
    plain = not any(is_numeric(of) and not phrases.PAIR_LIKE.fullmatch(of) for of in cells)
    return len(cells) > _LEAST_TITLES and all(cells[1:]) and plain
