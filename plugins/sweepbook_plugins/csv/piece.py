"""One test in the making, where tests stand one after another: its keys, tables and faults."""

from collections.abc import Iterator

from sweepbook.dialect.model import Meaning
from sweepbook.dialect.raw import Cell, Fault, RawTest, Rowless
from sweepbook_plugins.csv.grid import Columns, Table
from sweepbook_plugins.csv.keys import MOST_STRAY, Findings, Keys, TooManyLines
from sweepbook_plugins.csv.row_ends import part_of

MOST_LINES = 5_000
"""Lines of one test that stand in no table."""

_MOST_KEPT = 100_000
"""Rows below no known titles, and comments, of one test."""

_SEE = "csv.test if new tests begin there, csv.comment, csv.skip or csv.sections if not"

_POINTS = "if they are points, what is said of their titles comes first; else "

COMMENTS = "comments"
"""Key under which comment lines go to `extra`."""

LOOSE = "rows without titles"
"""Key for lines that look like rows of a table."""

EMPTY = "titles without rows"
"""Key for lines of titles with nothing below them."""

MOST_SEEN = 300
NO_ROWS = "there are titles but no rows below them"


class Piece:
    """The lines of one test.

    Args:
        meaning: what the dialect says of words.
        names: texts of cells behind a key that name the cell behind them.
        delimiter: between the cells of a line.
    """

    def __init__(
        self, meaning: Meaning, names: frozenset[str] = frozenset(), delimiter: str = ","
    ) -> None:
        self._names = names
        self.findings = Findings()
        self.keys = Keys(meaning, self.findings)
        self.first = self.last = 0
        self.tables: list[tuple[Columns, Table | None]] = []
        self.seen: list[tuple[int, list[str]]] = []
        self.loose = False
        self.missed: list[Fault] = []
        """Lines that have most titles of a table."""
        self.titles: list[tuple[int, list[str]]] = []
        """Number and cells of lines of titles whose values or ends are to come on the next."""
        self._wires, self._delimiter = meaning.wire_keys, delimiter
        self.label_behind = 0
        """Number of the line of the first label, where that stands behind a table."""
        self._label = set(meaning.fields.get("link.label", ()))
        self._verdict = set(meaning.fields.get("stated.overall", ()))
        self._lines = self._comments = self._bad = 0
        self._parts: list[RawTest] = []

    def touch(self, number: int) -> None:
        """Note that a line is of this test."""
        self.first = self.first or number
        self.last = number

    def fault(self, number: int, reason: str) -> None:
        """Note a line that loses the test.

        Raises:
            TooManyLines: there are more of them than anybody reads.
        """
        self.touch(number)
        self._bad += 1
        if self._bad > MOST_STRAY:
            what = f"more than {MOST_STRAY:,} lines of one test are odd like the first of them"
            raise TooManyLines(number, what, "csv.delimiter, csv.quote and csv.test")
        self.findings.fault(Fault(f"line {number}", reason))

    def put(self, key: str, values: list[str], number: int) -> None:
        """Take a line of a key and its values; a second value is called "Key/2".

        Where a cell is one of the texts that name the cell behind them, that is called "Key/Name".
        Of a wire map the cells are one text, as they stand in the line.

        Raises:
            TooManyLines: there are far too many of them.
        """
        if key in self._label and self.tables and not self.has_label:
            self.label_behind = number
        self._lines += 1
        if self._lines > MOST_STRAY:
            what = f"more than {MOST_STRAY:,} lines of one test stand in no table"
            raise TooManyLines(number, what, _SEE)
        if self._lines > MOST_LINES:
            if self._lines == MOST_LINES + 1:
                self.fault(number, f"more than {MOST_LINES:,} lines of one test stand in no table")
            return
        if key in self._wires:
            text = self._delimiter.join(values)
            self.keys.put_wires(key, Cell(text, f"line {number}"))
            return
        if len(values) < 2:
            self.keys.put(key, Cell(values[0] if values else "", f"line {number}"))
            return
        name = ""
        for position, value in enumerate(values, 1):
            behind = values[position : position + 1]
            if value in self._names and not name and behind and behind[0] not in self._names:
                name = value
                continue
            if position == 1 or value:
                called = key if position == 1 else f"{key}/{name or position}"
                self.keys.put(called, Cell(value, f"line {number}"))
            name = ""

    def end_titles(self) -> None:
        """Take titles below which no values came as any line of a key and its values."""
        titles, self.titles = self.titles, []
        for number, cells in titles:
            self.put(cells[0], cells[1:], number)

    def keep(self, key: str, line: str, number: int) -> None:
        """Keep a line that stands below no known titles or heading.

        Raises:
            TooManyLines: there are far too many of them.
        """
        self._lines += 1
        if self._lines > _MOST_KEPT:
            what = f"more than {_MOST_KEPT:,} rows stand below no known line of titles"
            raise TooManyLines(number, what, _SEE, "" if self.tables else _POINTS)
        self.keys.keep(key, line)

    def saw(self, number: int, cells: list[str]) -> None:
        """Remember a line, for the message if no titles are found."""
        if len(self.seen) < MOST_SEEN:
            self.seen.append((number, cells))

    def comment(self, text: str, number: int) -> None:
        """Take a comment line; an empty text is a line to skip.

        Raises:
            TooManyLines: there are far too many of them.
        """
        self._comments += 1
        if self._comments > _MOST_KEPT:
            what = f"more than {_MOST_KEPT:,} lines of one test are comments"
            raise TooManyLines(number, what, "csv.test if new tests begin there")
        if text:
            self.keys.keep(COMMENTS, text)

    def twin(self, columns: Columns) -> tuple[Columns, Table | None] | None:
        """A table of this test with the same titles below the same headings."""
        place = columns.place
        what = place.titles, place.headings, place.section.marks
        for known, table in self.tables:
            of = known.place
            if (of.titles, of.headings, of.section.marks) == what:
                return known, table
        return None

    def begin(self, columns: Columns, table: Table) -> None:
        """Take the rows of a table of which only the titles have come."""
        at = next(at for at, (known, _) in enumerate(self.tables) if known is columns)
        self.tables[at] = (columns, table)

    def label_above(self, shared: RawTest) -> Cell | None:
        """The label that stands above all tests; None where none does."""
        return next(
            (shared.properties[key] for key in self._label if key in shared.properties), None
        )

    def drop(self, columns: Columns) -> None:
        """Forget a table of which only the titles have come, which go on in the next line."""
        self.tables = [one for one in self.tables if one[0] is not columns]

    @property
    def has_label(self) -> bool:
        """Whether a key says which link this is."""
        return not self._label.isdisjoint(self.keys.properties)

    @property
    def lacks_only_curves(self) -> bool:
        """Whether keys say which link this is and what was stated, and nothing looks like points.

        So is a test that failed before a sweep was taken.
        """
        judged = not self._verdict.isdisjoint(self.keys.properties)
        return self.has_label and judged and not (self.tables or self.loose or self.missed)

    @property
    def known(self) -> bool:
        """Whether anything that stands here has a meaning."""
        return bool(self.tables or self.loose) or not self.keys.known.isdisjoint(
            self.keys.properties
        )

    def finish(self) -> RawTest:
        """The test as texts."""
        self.end_titles()
        locator = f"lines {self.first}-{self.last}" if self.first else ""
        whole = RawTest(locator, self.keys.properties)
        parts = []
        for columns, table in self.tables:
            if table is None:
                continue
            part = part_of(columns, table)
            parts.append(part)
            above = "".join(f"{text}/" for text in columns.place.above)
            for key, cell in part.properties.items():
                self.keys.put(key, cell)
            for key, text in part.extra.items():
                self.keys.keep(f"{above}{key}", text)
            whole.curves += part.curves
            whole.figures += part.figures
        self._tell_empty(bool(parts))
        whole.extra = self.keys.extra()
        whole.faults += [*self.findings.faults, *(of for part in parts for of in part.faults)]
        whole.notes += [*self.findings.notes, *(of for part in parts for of in part.notes)]
        whole.notes += self.missed if self.tables else []  # without a table that is told elsewhere
        return whole

    def _tell_empty(self, any_rows: bool) -> None:
        """Tell of titles without rows: a loss if there is no table with rows."""
        for fault in self._empty():
            if any_rows:
                self.findings.note(Rowless(fault.place, fault.message))
            else:
                self.findings.fault(fault)

    def _empty(self) -> Iterator[Fault]:
        for columns, table in self.tables:
            if table is None:
                place = f"line {columns.place.line}" if columns.place.line else ""
                self.keys.keep(EMPTY, " ".join(columns.place.titles))
                yield Fault(place, NO_ROWS)
