"""What the lines of an export are, as plain values."""

from dataclasses import dataclass, field

from sweepbook.draft.legend import NOTHING, Legend
from sweepbook_plugins.csv.draft.wide import Wide


@dataclass(frozen=True)
class Seen:
    """A table.

    Attributes:
        titles: of its columns.
        start, stop: positions of its first row and behind its last.
        heading: the whole line above it that is neither titles nor key and value, or "".
        outer: the heading around that one, or "".
        units: the row of units between titles and rows, or ().
        wide: how its curves are written where a row holds a whole one, else None.
        given: whether the dialect has to name the columns: the file does not, or not clearly.
        named: lines between heading and titles that name its curve: their keys, texts behind.
        mark: the first cell of its rows, where that tells them and its titles leave it out; or "".
    """

    titles: tuple[str, ...]
    start: int
    stop: int
    heading: str = ""
    outer: str = ""
    units: tuple[str, ...] = ()
    wide: Wide | None = None
    given: bool = False
    named: tuple[tuple[str, str], ...] = ()
    mark: str = ""

    @property
    def kind(self) -> tuple[str, ...]:
        """Its titles, but for those of the frequencies of curves in rows."""
        return tuple(self.titles[at] for at in self.wide.head) if self.wide else self.titles


@dataclass
class Shape:
    """What the lines of a file are.

    Attributes:
        tables: in order.
        keys: position, key, value of key lines; the key with its heading before it.
        headings: whole lines that only gather key lines below them.
        titles: first cells of lines of titles with their values on the next line.
        titled: the keys of each of these lines.
        names: texts of cells within key lines that name the next cell.
        singles: keys of lines with one value right below rows with several, and their headings.
        upper: first cells of lines of titles that go on in the line below.
        separator: text between key and value where the delimiter is not it, or "".
        mixed: whether it parts lines of one cell only, and cells are keys and values as well.
        first_line: what every test begins with, or "" where the file holds one test.
        starts: positions where tests begin.
        counted: positions of key lines whose key counts tests, so that its numbers say nothing.
        noise: whole lines that mean nothing: rules, and what ends a test.
        opening: the first line, where it is neither key nor titles.
        legend: what the files explain of pairs, units and ends.
        comments: what lines begin with that are no data.
    """

    tables: list[Seen] = field(default_factory=list)
    keys: list[tuple[int, str, str]] = field(default_factory=list)
    headings: list[str] = field(default_factory=list)
    titles: list[str] = field(default_factory=list)
    titled: list[tuple[str, ...]] = field(default_factory=list)
    names: list[str] = field(default_factory=list)
    singles: dict[str, str] = field(default_factory=dict)
    upper: list[str] = field(default_factory=list)
    separator: str = ""
    mixed: bool = False
    first_line: str = ""
    starts: list[int] = field(default_factory=list)
    counted: set[int] = field(default_factory=set)
    opening: str = ""
    noise: list[str] = field(default_factory=list)
    legend: Legend = NOTHING
    comments: list[str] = field(default_factory=list)
