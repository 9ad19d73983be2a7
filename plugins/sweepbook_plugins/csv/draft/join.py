"""Tests spread over several tables: which column they share, and the dialect's lines for that."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import NamedTuple, Protocol

from sweepbook.draft import phrases
from sweepbook.draft.absent_words import NOT_MEASURED
from sweepbook.draft.document import ASSUMED, FOUND, Note, Table
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.joins import (
    Pair,
    file_lines,
    key_lines,
    may_lack_line,
    paired,
    patterns,
    rivals,
)
from sweepbook_plugins.csv.draft import tests
from sweepbook_plugins.csv.draft.shape import Seen, Shape
from sweepbook_plugins.csv.draft.text import Cells, Text, parted
from sweepbook_plugins.csv.draft.wide import Wide


@dataclass(frozen=True)
class Part:
    """One of several tables that hold the tests together.

    Attributes:
        name: of its file.
        text, shape: the file.
        seen: the table.
        heading: the line above it, where all stand in one file; else "".
        behind: the line above the next one, where there is one in the same file.
        others: the rows of the same table in each of some other files, [] where one lacks it.
    """

    name: str
    text: Text
    shape: Shape
    seen: Seen
    heading: str = ""
    behind: str = ""
    others: Sequence[Sequence[Cells]] = ()

    @property
    def titles(self) -> Sequence[str]:
        """Titles of its columns."""
        return self.seen.titles

    @property
    def wide(self) -> Wide | None:
        """How its curves are written, where each row holds one."""
        return self.seen.wide

    @cached_property
    def rows(self) -> list[Cells]:
        """Its rows."""
        return self.text.rows[self.seen.start : self.seen.stop]

    @cached_property
    def texts(self) -> dict[str, list[str]]:
        """The distinct texts of each column that is no curve, by its title."""
        at = self.wide.head if self.wide else range(len(self.titles))
        rows = [[row[one] if one < len(row) else "" for one in at] for row in self.rows]
        return tests.columns_of([self.titles[one] for one in at], rows)

    def column(self, title: str) -> list[str]:
        """The text of each row in a column, "" for none."""
        at = list(self.titles).index(title)
        return [row[at] if at < len(row) else "" for row in self.rows]

    @property
    def all_rows(self) -> list[Cells]:
        """Its rows in all files."""
        return [row for rows in (self.rows, *self.others) for row in rows]

    def lacks(self, key: str, heads: "Part", column: str) -> bool:
        """Whether in some file tests of the heads are not told in a column.

        Args:
            key: the column.
            heads: the table with a row a test.
            column: its one that tells these.
        """
        files = zip(heads._told_in(column), self._told_in(key), strict=True)
        return any(not told <= some for told, some in files)

    def _told_in(self, title: str) -> list[set[str]]:
        """The texts of a column in each file."""
        at = list(self.titles).index(title)
        return [
            {row[at] for row in rows if at < len(row)} - {""} for rows in (self.rows, *self.others)
        ]


class Columns(Protocol):
    """What tests are joined to: texts in columns, or below keys."""

    @property
    def texts(self) -> Mapping[str, list[str]]:
        """The distinct texts of each column by its title."""

    def column(self, title: str) -> list[str]:
        """The text of each row in a column."""


class Shared(NamedTuple):
    """Columns with the same texts.

    Attributes:
        heads: of the table with a row a test.
        other: of the other table.
        rivals: pairs that fit as well; their `other_key` is of the heads.
    """

    heads: str
    other: str
    rivals: list[Pair]


@dataclass(frozen=True)
class Joined:
    """A table that is joined to the one with the curves.

    Attributes:
        part: the table.
        key: by which the tests know it, of the curves or of what was joined before.
        other_key: its column with the same texts.
        layout: of the dialect, e.g. "test-per-row".
        tables: what says how its rows are read, the first of them `join.csv.rows` or the like.
        may_lack: whether some tests have nothing in it.
        rivals: pairs of keys that fit as well.
        pieces: the blocks of which several are one test; the tables say their layout then.
    """

    part: Part
    key: str
    other_key: str
    layout: str
    tables: Sequence[Table] = field(default_factory=list)
    may_lack: bool = False
    rivals: Sequence[Pair] = ()
    pieces: Columns | None = None


def shared(
    heads: Part, other: Columns, known_by: str = "", *, alone: bool = False
) -> Shared | None:
    """The columns of heads and another table with the same texts, one a row among the heads.

    Those of one name count before others, but not where the one of the heads just counts rows; then
    the one by which the heads are known.

    Args:
        heads: the table with a row a test.
        other: what is to be joined to it.
        known_by: the column of the heads by which the curves are joined to them.
        alone: whether no other one counts.
    """
    found: list[Pair] = []
    for title, texts in heads.texts.items():
        if len(texts) < len(heads.rows) or (alone and title != known_by):
            continue
        for name, some in other.texts.items():
            common = set(texts) & set(some)
            alike = title.casefold() == name.casefold()
            held = alike and len(common) == len(some)
            if common and (held or len(common) * 2 >= max(len(some), len(texts))):
                columns = (name, other.column(name), title, heads.column(title))
                found.append(paired(*columns, alike=alike))
    if not found:
        return None
    found.sort(
        key=lambda of: (
            *(not of.sure, of.other_key != known_by, not of.alike, any(of.counts)),
            *(-of.common, of.other_key, of.key),
        )
    )
    chosen, *others = found
    return Shared(chosen.other_key, chosen.key, rivals(chosen, others))


def lines(name: str | list[str], joined: Sequence[Joined], told: Note | None = None) -> list[Table]:
    """The tables `join` and below, one for each table that is joined.

    Args:
        name: of the file with the curves; or the form, or forms, of such names.
        joined: the others, the one with a row a test first.
        told: what the names tell, where it is such a form.
    """
    others = [of.part.name for of in joined]
    file = name
    if told is None and isinstance(name, str):
        file, *others = patterns([name, *others])
    made: list[Table] = []
    for number, (of, other) in enumerate(zip(joined, others, strict=True)):
        join = Table("[join]" if len(joined) == 1 else "[[join]]")
        _files(join, of.part, "" if number else file, other, [told] if told else [])
        shown = (of.pieces or of.part).texts[of.other_key]
        how = Note(FOUND, "both hold these texts", shown)
        key_lines(join, (of.key, of.other_key), of.rivals, how)
        if of.may_lack:
            may_lack_line(join)
        if of.pieces:
            how = Note(FOUND, "several blocks are of one test, as this key in each of them says")
            join.add("pieces_by", of.other_key, how)
        made += [join, *([] if of.pieces else [layout_of(of.part, of.layout)]), *of.tables]
    return made


def _files(join: Table, part: Part, file: str | list[str], other: str, how: Sequence[Note]) -> None:
    """Say in which file, or part of the one file, a table is."""
    if part.heading:
        behind = [part.behind] if part.behind else []
        own = Note(FOUND, "this table has lines of its own here")
        join.add("part", [part.heading, *behind], own)
    else:
        file_lines(join, file, other, how)


def layout_of(part: Part, layout: str) -> Table:
    """The table `join.csv` of a table that is joined."""
    table = Table("[join.csv]")
    table.add("layout", layout)
    table.add(*parted(part.text))
    if part.text.encoding != "utf-8":
        table.add("encoding", part.text.encoding)
    if part.shape.noise and not part.heading:
        table.add("skip", list(part.shape.noise), Note(ASSUMED, "these lines mean nothing"))
    return table


def into(part: Part, evidence: Evidence, besides: Collection[str] = ()) -> None:
    """Hand over what a table with a row a test says of each.

    Args:
        part: the table.
        evidence: takes the texts.
        besides: columns that are no keys of their own.
    """
    rows = part.all_rows
    cells = {cell for row in rows for cell in row if phrases.whole(cell, NOT_MEASURED)}
    evidence.singles += sorted(cells)
    evidence.lines |= set(part.titles)
    tests.into(part.titles, rows, evidence, besides=besides)
