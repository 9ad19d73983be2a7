"""Tests spread over two files: which column they share, and the dialect's lines for that."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import takewhile

from sweepbook.draft import phrases
from sweepbook.draft.absent_words import NOT_MEASURED
from sweepbook.draft.document import ASSUMED, FOUND, Note, Table
from sweepbook.draft.evidence import Evidence
from sweepbook_plugins.csv.draft import tests
from sweepbook_plugins.csv.draft.text import Cells
from sweepbook_plugins.csv.draft.wide import Wide


@dataclass(frozen=True)
class Half:
    """One of the two files, or of two tables in one.

    Attributes:
        name: of the file.
        titles, rows: of its only table.
        delimiter, encoding: as a dialect calls them.
        heading: the line above its table, where both stand in one file.
        wide: how its curves are written, where each row holds one.
    """

    name: str
    titles: Sequence[str]
    rows: Sequence[Cells]
    delimiter: str
    encoding: str
    heading: str = ""
    wide: Wide | None = None


def shared(heads: Half, points: Half) -> tuple[str, str] | None:
    """The columns of heads and points that hold the same texts, one a row among the heads.

    A column of one name in both counts before others.
    """
    found = []
    beside = points.wide.head if points.wide else range(len(points.titles))
    known = tests.columns_of(
        [points.titles[at] for at in beside], [[row[at] for at in beside] for row in points.rows]
    )
    for title, texts in tests.columns_of(heads.titles, heads.rows).items():
        if len(texts) < len(heads.rows):
            continue
        for other, some in known.items():
            common = set(texts) & set(some)
            if common and len(common) * 2 >= max(len(some), len(texts)):
                found.append((title.casefold() != other.casefold(), title, other))
    return min(found)[1:] if found else None


def lines(
    heads: Half, points: Half, keys: tuple[str, str], part: Sequence[str] = (),
    noise: Sequence[str] = (),
) -> list[Table]:  # fmt: skip
    """The tables `join` and below.

    Args:
        heads: the half with a row a test.
        points: the half with the curves.
        keys: the columns that both share.
        part: first line of the heads, and the one behind their last, in a file of both.
        noise: lines of the file with the heads that mean nothing.
    """
    mine, others = keys
    join = Table("[join]")
    if part:
        join.add("part", list(part), Note(FOUND, "the tests have a table of their own here"))
    else:
        how = Note(ASSUMED, "what both names share is taken for the name of the job")
        names = _patterns(points.name, heads.name)
        join.add("file", names[0], how)
        join.add("other", names[1])
    shown = [row[list(heads.titles).index(mine)] for row in heads.rows]
    join.add("key", others, Note(FOUND, "both files hold these texts", shown))
    join.add("other_key", mine)
    layout = Table("[join.csv]")
    layout.add("layout", "test-per-row")
    layout.add("delimiter", heads.delimiter)
    if heads.encoding != "utf-8":
        layout.add("encoding", heads.encoding)
    if noise and not part:
        layout.add("skip", list(noise), Note(ASSUMED, "these lines mean nothing"))
    return [join, layout, tests.test_lines(heads.titles, heads.rows, "join.csv.rows", mine)]


def _patterns(one: str, other: str) -> list[str]:
    """Two names with {} for what they share at their beginning, else at the end of their stems."""
    if start := _shared_start(one, other):
        return [f"{{}}{name[len(start) :]}" for name in (one, other)]
    stems = [name.partition(".")[0] for name in (one, other)]
    end = len(_shared_start(stems[0][::-1], stems[1][::-1]))
    if not end:
        return [one, other]
    return [
        f"{stem[:-end]}{{}}{name[len(stem) :]}"
        for stem, name in zip(stems, (one, other), strict=True)
    ]


def _shared_start(one: str, other: str) -> str:
    """What two names begin with, down to where a word ends in both."""
    same = takewhile(lambda pair: pair[0] == pair[1], zip(one, other, strict=False))
    start = "".join(letter for letter, _ in same)
    while start[-1:].isalnum() and any(
        name[len(start) : len(start) + 1].isalnum() for name in (one, other)
    ):
        start = start[:-1]
    return start.rstrip("-_. ")


def into(heads: Half, keys: tuple[str, str], evidence: Evidence) -> None:
    """Hand over what the heads say of each test."""
    cells = {cell for row in heads.rows for cell in row if phrases.whole(cell, NOT_MEASURED)}
    evidence.singles += sorted(cells)
    evidence.lines |= set(heads.titles)
    tests.into(heads.titles, heads.rows, evidence, besides=keys[0] if keys[0] == keys[1] else "")
