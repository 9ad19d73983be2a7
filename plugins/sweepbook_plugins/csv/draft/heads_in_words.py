"""A table with a row a test among others of its file, in words alone, so that no number shows."""

from collections.abc import Sequence

from sweepbook_plugins.csv.draft.above import lone
from sweepbook_plugins.csv.draft.join import Part, shared
from sweepbook_plugins.csv.draft.lacking import looked_again
from sweepbook_plugins.csv.draft.sections import Looked
from sweepbook_plugins.csv.draft.shape import Seen, Shape
from sweepbook_plugins.csv.draft.tests import are_tests
from sweepbook_plugins.csv.draft.text import Text

_LEAST = 2
"""So many tests at least: of one, its line of titles and its row may be two key lines."""


def with_heads(looked: Sequence[Looked]) -> list[Looked]:
    """The files, those looked at again in which there is such a table.

    Args:
        looked: files with tables.
    """
    named = [(one, _titles(*one)) for one in looked]
    return [looked_again(one, titles) if titles else one for one, titles in named]


def _titles(text: Text, shape: Shape) -> set[tuple[str, ...]]:
    """The titles of such tables: below a heading, and another table tells the tests by a column.

    None where the same tables come again for each test.
    """
    if shape.first_line or text.turned or text.marked:
        return set()
    held = {at for seen in shape.tables for at in range(seen.start - 1, seen.stop)}
    parts = [Part("", text, shape, seen) for seen in shape.tables]
    found: set[tuple[str, ...]] = set()
    for at in (at for at, row in enumerate(text.rows) if lone(row) and at not in held):
        seen = _below(text, at, held)
        heads = Part("", text, shape, seen)
        if len(heads.rows) < _LEAST or not are_tests(heads.titles, heads.rows):
            continue
        if any(shared(heads, part) for part in parts):
            found.add(seen.titles)
    return found


def _below(text: Text, heading: int, held: set[int]) -> Seen:
    """The titles below a heading, with the rows of the same width below these."""
    rows, first = text.rows, heading + 1
    while first < len(rows) and not rows[first]:
        first += 1
    stop = first
    while stop < len(rows) and stop not in held and len(rows[stop]) == len(rows[first]) > 1:
        stop += 1
    return Seen(tuple(rows[first]) if stop > first else (), first + 1, max(stop, first + 1))
