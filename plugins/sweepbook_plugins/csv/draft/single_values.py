"""Lines right below a table with one value, where its rows have one for each pair."""

from collections.abc import Sequence

from sweepbook.draft import phrases
from sweepbook.draft.document import FOUND, Note, Table
from sweepbook.draft.numbers import is_numeric
from sweepbook_plugins.csv.draft.shape import Shape
from sweepbook_plugins.csv.draft.text import Cells, Text

_CELLS = 2
_MARK = "mark"
_WHY = "this line has one value, and stands below rows with one for each of their columns"


def take(text: Text, shape: Shape, loose: Sequence[int]) -> list[int]:
    """Take such lines for keys of the test; the lines that are none of these.

    Only by its width does one differ from the rows of its table, which begin with what was
    measured as well.
    """
    left = set(loose)
    for seen in shape.tables:
        rows, at = text.rows, seen.stop
        if seen.wide or len(seen.titles) <= _CELLS or not all(map(_names, rows[seen.start : at])):
            continue
        while at in left and _is_single(rows[at]):
            key, value = rows[at]
            shape.keys.append((at, key, value))
            shape.singles.setdefault(key, seen.heading)
            left.remove(at)
            at += 1
    return [at for at in loose if at in left]


def sections(shape: Shape) -> list[Table]:
    """A section for each such line."""
    made = []
    for key, heading in shape.singles.items():
        section = Table("[[csv.sections]]")
        if heading:
            section.add("within", heading)
        section.add("mark", key, Note(FOUND, _WHY))
        section.add("columns", [_MARK, key])
        made.append(section)
    return made


def _is_single(row: Cells) -> bool:
    return len(row) == _CELLS and _names(row) and is_numeric(row[1])


def _names(row: Cells) -> bool:
    """Whether a line begins with what was measured."""
    return bool(row) and phrases.parameter_in(row[0]) is not None
