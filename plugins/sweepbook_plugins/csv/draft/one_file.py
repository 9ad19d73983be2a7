"""A draft for one file with several parts: a table of tests, further tables, and blocks of curves.

Each further table is a part that is joined to the tests; the blocks are pieces of these.
"""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from sweepbook.draft.document import Table
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.meaning import tables as core_tables
from sweepbook.draft.reading import understand
from sweepbook_plugins.csv.draft import join, keys, sections, tests
from sweepbook_plugins.csv.draft.blocks import LEAST, Blocks, bare, find, line_behind
from sweepbook_plugins.csv.draft.file_lines import of_file
from sweepbook_plugins.csv.draft.further import A_TEST, all_joined, taken, told
from sweepbook_plugins.csv.draft.join import Joined, Part, Shared
from sweepbook_plugins.csv.draft.joined import Drafted
from sweepbook_plugins.csv.draft.sections import Looked
from sweepbook_plugins.csv.draft.shape import Seen
from sweepbook_plugins.csv.draft.table_words import take_words
from sweepbook_plugins.csv.draft.tables import shape_of

if TYPE_CHECKING:
    from sweepbook.limits.library import Library

_WHERE = "join.csv"


def draft(looked: Sequence[Looked], limits: "Library") -> Drafted | None:
    """The draft of files with such parts; None for others.

    Args:
        looked: the files; the parts of the first count, and the words of all.
        limits: where names of limits are looked up.
    """
    text, shape = looked[0]
    blocks = find(text, shape)
    if blocks is None:
        return None
    others = [seen for seen in shape.tables if seen.start not in blocks.span]
    parts = [
        Part("", text, shape, seen, seen.heading, line_behind(text, seen.stop)) for seen in others
    ]
    for heads in parts:
        if heads.wide or not tests.are_tests(heads.titles, heads.rows):
            continue
        further = [part for part in parts if part is not heads]
        named = {part.heading for part in further} - {"", heads.heading, blocks.heading}
        if len(named) < len(further) or (shared := join.shared(heads, blocks)) is None:
            continue
        if (own := _without(looked[0], blocks, further)) is not None:
            return _drafted(heads, further, blocks, shared, [own, *looked], limits)
    return None


def _without(looked: Looked, blocks: Blocks, further: Sequence[Part]) -> Looked | None:
    """A file without its parts but the table of tests; None where it then is no such table."""
    text, _ = looked
    gone = {*blocks.span}
    for part in further:
        start = part.seen.start
        while text.lines[start].strip() != part.heading:
            start -= 1
        gone |= {*range(start, part.seen.stop)}
    rest = text._replace(
        lines=["" if at in gone else line for at, line in enumerate(text.lines)],
        rows=[[] if at in gone else row for at, row in enumerate(text.rows)],
    )
    shape = shape_of(rest)
    shape.legend = looked[1].legend
    return (rest, shape) if len(shape.tables) == 1 else None


def _drafted(
    heads: Part,
    further: Sequence[Part],
    blocks: Blocks,
    shared: Shared,
    looked: Sequence[Looked],
    limits: "Library",
) -> Drafted | None:
    """The draft; None where a further table does not join the tests.

    Args:
        heads: the table of tests.
        further: the tables besides, each below a heading.
        blocks: those with curves.
        shared: how these are joined.
        looked: the file without its other parts, then all files.
        limits: where names of limits are looked up.
    """
    own, *files = looked
    evidence = Evidence(tests=len(heads.rows), legend=own[1].legend, delimiter=own[0].delimiter)
    take_words(files, evidence)
    keys.hand_over([own[1]], evidence)
    join.into(heads, evidence, besides=[shared.heads])
    some = [of for part in further if (of := taken(heads, part, shared.heads, evidence))]
    if len(some) < len(further):
        return None
    pieces = _pieces(blocks, shared, evidence)
    if _is_between(pieces, blocks, shared.other):
        return None
    kinds = sections.hand_over(pieces, evidence)
    found = understand(evidence)
    joined = all_joined([told(of) for of in some], heads, found, {})
    made, _ = sections.tables(pieces, kinds, evidence, found)
    joined.append(_joined(heads, blocks, shared, [*_top(pieces, blocks), *made]))
    skip = [heads.heading] if heads.heading else []
    lines = tests.test_lines(heads.titles, heads.rows, "csv.rows", shared.heads)
    tables = [lines, *join.lines(heads.name, joined), *core_tables(evidence, found, limits)]
    return Drafted([own], A_TEST, tables, skip)


def _is_between(pieces: Sequence[Looked], blocks: Blocks, key: str) -> bool:
    """Whether the key of a test stands between those that name a curve, where it is unseen."""
    names = [*blocks.rows[0].keys]
    named = {
        bare(name, text.delimiter)
        for text, shape in pieces
        for of in shape.tables
        for name, _ in of.named
    }
    at = [names.index(name) for name in named & {*names}]
    return bool(at) and min(at) < names.index(key) < max(at)


def _pieces(blocks: Blocks, shared: Shared, evidence: Evidence) -> list[Looked]:
    """The blocks of each test as a file of its own, looked at."""
    pieces = [(text, shape_of(text, LEAST)) for text in blocks.of_tests(shared.other)]
    for _, shape in pieces:
        shape.legend = evidence.legend
        shape.separator = blocks.separator()
    for key, text in blocks.same(shared.other):
        evidence.put_line(key, text)
    return pieces


def _top(pieces: Sequence[Looked], blocks: Blocks) -> list[Table]:
    """The table `join.csv` of the blocks."""
    (table,) = of_file(pieces, "sections", _WHERE)
    table.lines = [line for line in table.lines if line.key != "test.first_line"]
    table.add("test.first_line", blocks.first_line())
    return [table]


def _joined(heads: Part, blocks: Blocks, shared: Shared, tables: Sequence[Table]) -> Joined:
    """How the blocks are joined."""
    for table in tables:
        table.name = table.name.replace("[csv.", f"[{_WHERE}.", 1)
    lacks = not set(heads.texts[shared.heads]) <= set(blocks.texts[shared.other])
    rivals = [one._replace(key=one.other_key, other_key=one.key) for one in shared.rivals]
    of_blocks = Seen((), blocks.span.start, blocks.span.stop)
    part = Part("", heads.text, heads.shape, of_blocks, blocks.heading, blocks.behind)
    return Joined(part, shared.heads, shared.other, "sections", tables, lacks, rivals, blocks)
