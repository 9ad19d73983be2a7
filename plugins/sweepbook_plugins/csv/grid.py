"""What a table is to the lines that fill it, and what a line of the wrong width means."""

from collections.abc import Sequence
from typing import Protocol

from sweepbook.dialect.raw import Fault, RawTest
from sweepbook_plugins.csv.forms import Layout, RowsForm
from sweepbook_plugins.csv.names import Names, listed
from sweepbook_plugins.csv.place import Place
from sweepbook_plugins.csv.roles import Texts
from sweepbook_plugins.csv.row_ends import RowEnds
from sweepbook_plugins.csv.rows import DIGITS, Positions, Row, Rows, padded

MOST_ROWS = 1_000_000
"""Rows of one test; a whole certification has about 80,000."""

NUMBER_BEGINS = DIGITS | frozenset("+-.,")


class Table(Protocol):
    """The rows of one test below one line of titles.

    Attributes:
        key: which test it is.
        first, last: numbers of its first and last line.
        ends: how its rows end.
    """

    key: Texts
    first: int
    last: int
    ends: RowEnds

    def take(self, row: Row, line: int) -> None:
        """Take a row as wide as the titles."""

    def take_run(self, rows: Rows, line: int) -> None:
        """Take rows one after another of one run; `line` is the first's."""

    def fault(self, fault: Fault) -> None:
        """Note what loses the test."""

    def ends_open(self) -> None:
        """The file ends within the last row taken."""

    def part(self) -> RawTest:
        """What the table says of its test."""


class Columns(Protocol):
    """The columns of a table, each with its role, for every test that stands in it.

    Attributes:
        place: where the table stands.
        least: cells that a row has at least, where that is fewer than there are titles, else -1.
        endless: whether a row may have more.
        may_end_early: whether rows may end before the last title without blank cells.
        frequency: position of the axis; -1 where no row has one.
        test: positions of the columns that tell tests apart.
        run_positions: these, and those of the columns that name what a row is of; rows one after
            another that are alike in them are a run.
    """

    place: Place
    least: int
    endless: bool
    may_end_early: bool
    frequency: int
    test: list[int]
    run_positions: Positions

    @property
    def numbers(self) -> Positions:
        """Positions of the frequencies and of the values of every curve."""

    def key_of(self, row: Row) -> Texts:
        """Which test a row is of."""

    def open(self, key: Texts, line: int) -> Table:
        """A table for one test."""

    def aside(self, row: Sequence[str], line: int) -> bool:
        """Take a row that is of no test but counts for every one; False where it is none."""

    def fits(self, cells: Sequence[str]) -> bool:
        """Whether stripped cells, without blank ones at the end, can be a row."""


def begins_number(text: str) -> bool:
    """Whether a text begins as a number does."""
    return text[:1] in NUMBER_BEGINS


def least_cells(columns: Columns) -> int:
    """How many cells a row has at least: there may be none below blank titles at the end."""
    return columns.least if columns.least >= 0 else columns.place.filled


def fitted(row: Row, width: int, least: int, *, endless: bool = False) -> Row | None:
    """A row of the right width; None where it cannot be.

    Args:
        row: the row.
        width: how many titles there are; blank cells beyond them are taken off.
        least: how many cells it has at least; blank ones are added up to `width`.
        endless: whether it may be of any width from `least` on, and stays as it is.
    """
    if len(row) == width or (endless and len(row) >= least):
        return row
    if len(row) > width and not any(map(str.strip, row[width:])):
        return row[:width]
    if least <= len(row) < width:
        return padded(row, width)
    return None


def width_fault(row: Sequence[str], place: Place, layout: Layout, names: Names) -> str:
    """What to say of a row that is wider or narrower than the titles."""
    width = len(place.titles)
    cells = "1 cell" if len(row) == 1 else f"{len(row)} cells"
    message = f"the line has {cells} where the titles have {width}"
    if len(row) < width:
        message += f" (none for {listed(place.titles[len(row) :])})"
    whole = [cell.strip().lstrip("+-").isdecimal() for cell in row]
    notation = names.meaning.numbers.notation
    if len(row) > width and layout.delimiter == "," and all(whole):
        return (
            f"{message}, and all of them are whole numbers: as if {layout.delimiter!r} were the "
            "decimal mark as well as the delimiter, and the numbers cut in two; where one ends can "
            "not be told any more; export with another delimiter, or with quotes around the numbers"
        )
    if len(row) > width and layout.delimiter == notation.decimal:
        message += f"; {layout.delimiter!r} is csv.delimiter and numbers.decimal"
    form = place.section.form
    if len(row) < width and isinstance(form, RowsForm) and form.curve:
        where = f"{place.section.where}.rows.curve.ends_early"
        return (
            f"{message}; if the other lines have all of them, a value of this one is lost, and "
            "which one cannot be told: export again; see csv.delimiter and numbers.decimal, and, "
            f"only if curves of this make end before the last frequency, {where}"
        )
    return f"{message}; see csv.delimiter, csv.quote, csv.skip and numbers.decimal"
