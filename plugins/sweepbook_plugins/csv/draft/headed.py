"""Tables of all tests below a heading each, in one file or in several of its make."""

from collections.abc import Sequence

from sweepbook.source import Source
from sweepbook_plugins.csv.draft.blocks import line_behind
from sweepbook_plugins.csv.draft.join import Part
from sweepbook_plugins.csv.draft.sections import Looked
from sweepbook_plugins.csv.draft.shape import Seen, Shape
from sweepbook_plugins.csv.draft.text import Cells, Text

_Kind = tuple[str, tuple[str, ...], tuple[int, ...]]
"""Heading, titles, and where those of the head of each row stand in a table of whole curves."""


def parts(sources: Sequence[Source], looked: Sequence[Looked]) -> tuple[list[Part], list[int]]:
    """The tables of the file with most rows in tables below a heading each, and what files are so.

    The same tables of the other files go with them. A file may lack some, and have no others.

    Args:
        sources: the files.
        looked: the same, looked at.

    Returns:
        the tables in their order, [] where no file has several; and the positions of the files,
        that of the tables first.
    """
    kinds = [_kinds(shape) for _, shape in looked]
    most = max(map(len, kinds))
    if most < 2:
        return [], []
    counts = [sum(seen.stop - seen.start for seen in shape.tables) for _, shape in looked]
    full = [at for at, of in enumerate(kinds) if len(of) == most]
    first = max(full, key=lambda at: counts[at])
    others = [at for at, of in enumerate(kinds) if of and at != first and {*of} <= {*kinds[first]}]
    text, shape = looked[first]
    found = [
        Part(
            *(sources[first].file_name, text, shape, seen, seen.heading, behind),
            [_rows(looked[at], kinds[at].get(kind)) for at in others],
        )
        for (kind, seen), behind in zip(kinds[first].items(), _behind(text, shape), strict=True)
    ]
    return found, [first, *others]


def _behind(text: Text, shape: Shape) -> list[str]:
    """The line behind each table with which its part ends: one that means nothing, or a heading."""
    headings = [*(seen.heading for seen in shape.tables[1:]), ""]
    lines = [line_behind(text, seen.stop) for seen in shape.tables]
    return [
        line if line in shape.noise else heading
        for line, heading in zip(lines, headings, strict=True)
    ]


def _kinds(shape: Shape) -> dict[_Kind, Seen]:
    """The tables of a file by what they are; none where two share a heading, or one has none."""
    headings = [seen.heading for seen in shape.tables]
    if len({*headings} - {""}) < len(headings):
        return {}
    return {
        (seen.heading, seen.kind, tuple(seen.wide.head) if seen.wide else ()): seen
        for seen in shape.tables
    }


def _rows(looked: Looked, seen: Seen | None) -> list[Cells]:
    return looked[0].rows[seen.start : seen.stop] if seen else []
