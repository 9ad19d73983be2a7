"""Headings of two cells: a word that is the same in each, and the name of the table below."""

from collections import defaultdict
from collections.abc import Sequence

from sweepbook_plugins.csv.draft.sections import Looked
from sweepbook_plugins.csv.draft.tables import shape_of
from sweepbook_plugins.csv.draft.text import Cells, Text

_LEAST = 2
"""So many tables have such a heading, where a word is that of headings and no key."""


def looked_again(looked: Sequence[Looked]) -> list[Looked] | None:
    """Files with each such line as a heading of one cell; None where no file has any.

    A key that comes again above tables looks the same, so that this is a second look: it holds
    where all tables then go together, and else the lines are keys.

    Args:
        looked: the files as they are looked at first.
    """
    found = [_positions(text) for text, _ in looked]
    again = [_with_headings(one, at) for one, at in zip(looked, found, strict=True)]
    return again if any(found) and all(map(_is_each_headed, again, found)) else None


def _with_headings(looked: Looked, at: Sequence[int]) -> Looked:
    text, before = looked
    if not at:
        return looked
    rows = [*text.rows]
    for one in at:
        rows[one] = [text.lines[one].strip()]
    text = text._replace(rows=rows)
    shape = shape_of(text)
    shape.legend = before.legend
    return text, shape


def _is_each_headed(looked: Looked, at: Sequence[int]) -> bool:
    """Whether no table of a file has a heading of another kind."""
    text, shape = looked
    own = {text.lines[one].strip() for one in at}
    return not at or all(seen.heading in own for seen in shape.tables if seen.heading)


def _positions(text: Text) -> list[int]:
    """The lines of the word with most of them, [] for none."""
    if text.turned or text.marked:
        return []
    words: dict[str, list[int]] = defaultdict(list)
    for at, row in enumerate(text.rows):
        if len(row) > 1 and all(row[:2]) and not any(row[2:]):
            words[row[0]].append(at)
    fit = [at for at in words.values() if _are_headings(text.rows, at)]
    return max(fit, key=len, default=[])


def _are_headings(rows: Sequence[Cells], at: Sequence[int]) -> bool:
    """Whether some lines name a table each, and stand above titles of more cells than two."""
    names = {rows[one][1] for one in at}
    told = all(any(map(str.isalpha, name)) for name in names)
    return told and len(names) >= _LEAST and sum(_is_above(rows, one) for one in at) >= _LEAST


def _is_above(rows: Sequence[Cells], at: int) -> bool:
    below = next((row for row in rows[at + 1 : at + 3] if row), [])
    return len([cell for cell in below if cell]) > 2
