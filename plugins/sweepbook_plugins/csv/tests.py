"""Tells one test from the next by a column of their common table, with memory for one test only."""

from collections.abc import Iterator

from sweepbook.dialect.raw import Fault, RawTest
from sweepbook.dialect.reading import broken_off
from sweepbook.dialect.whole_file import with_whole_file
from sweepbook.source import UnreadableSource
from sweepbook_plugins.csv.forms import CurvesForm, Layout
from sweepbook_plugins.csv.grid import Columns, Table, fitted, least_cells, width_fault
from sweepbook_plugins.csv.keys import MOST_FAULTS, MOST_STRAY, TooManyLines
from sweepbook_plugins.csv.lines import Block, EncodingFault
from sweepbook_plugins.csv.names import Names
from sweepbook_plugins.csv.roles import Texts
from sweepbook_plugins.csv.row_ends import part_of
from sweepbook_plugins.csv.rows import Row, Rows

WIDE = "are of another width than the titles"
UNREAD = "cannot be taken apart"
BACK = "begin or go on with a test that stood further up already"
SHORT = 4
"""Rows of a run for which one after the other is quicker."""


def ended_by(error: EncodingFault | UnreadableSource) -> Fault:
    """The fault of a file that cannot be read to its end."""
    if isinstance(error, UnreadableSource):
        return broken_off(error)
    return Fault("", f"the file cannot be read to its end: {str(error).rstrip('.')}")


def _packed(key: Texts) -> str:
    """A key in one text."""
    return "\n".join(key)


class Tests:
    """Walks the rows of a file and gives each test as soon as the next one begins.

    Args:
        columns: the columns of the table.
        layout: what the dialect says of the lines.
        names: its look-ups.
        shared: what counts for every test.
    """

    def __init__(self, columns: Columns, layout: Layout, names: Names, shared: RawTest) -> None:
        self._columns = columns
        self._layout = layout
        self._names = names
        self._shared = shared
        self._current: Table | None = None
        self._pending: list[tuple[Texts, Fault]] = []
        self._closed: dict[str, int] = {}  # small: one a test of the file
        self._came_back: set[Texts] = set()
        self._odd_rows = 0

    def walk(self, lines: Iterator[Block]) -> Iterator[RawTest]:
        """Yield the tests in the order of the file; one that comes back has a fault."""
        try:
            for block in lines:
                yield from self._block(block)
                if block.open_end and self._current is not None:
                    self._current.ends_open()
        except (EncodingFault, UnreadableSource) as error:
            self._pending.append(((), ended_by(error)))
        except TooManyLines as error:
            self._pending.insert(0, ((), error.fault))
        yield from self._close(None)

    def _block(self, block: Block) -> Iterator[RawTest]:
        """Take the rows of a block in runs of one test and one name; one by one if they are odd."""
        for start, end, width in block.rows.stretches(block.start):
            if width != len(self._columns.place.titles):
                yield from self._one_by_one(block, range(start, end))
                continue
            rows, done = block.rows[start:end], start
            for first, behind in rows.runs(self._columns.run_positions):
                if behind - first >= SHORT:
                    yield from self._one_by_one(block, range(done, start + first))
                    yield from self._run(block, rows[first:behind], start + first)
                    done = start + behind
            yield from self._one_by_one(block, range(done, end))

    def _run(self, block: Block, rows: Rows, at: int) -> Iterator[RawTest]:
        """Take rows of one test and one name."""
        key = self._columns.key_of(rows[0])
        if self._current is None or key != self._current.key or self._pending:
            yield from self._one_by_one(block, range(at, at + 1))
            rows, at = rows[1:], at + 1
        if self._current is not None and key == self._current.key:
            self._current.ends.see_run(rows, block.first + at)
            self._current.take_run(rows, block.first + at)
        else:
            yield from self._one_by_one(block, range(at, at + len(rows)))

    def _one_by_one(self, block: Block, positions: range) -> Iterator[RawTest]:
        """One look at the width and the key of each row, then the test takes it."""
        width = len(self._columns.place.titles)
        key_of = self._columns.key_of
        for position in positions:
            torn = position in block.torn
            row = given = block.torn[position] if torn else block.rows[position]
            if len(row) != width:
                usable = self._odd(block, position, row, width)
                if usable is None:
                    continue
                row = usable
            key = key_of(row)
            current = self._current
            if current is None or key != current.key or self._pending:
                if not any(map(str.strip, row)) or self._are_titles(row):
                    continue
                if self._columns.aside(row, block.first + position):
                    continue
                yield from self._close(key)
                current = self._open(key, block.first + position)
            if torn:
                current.fault(Fault(f"line {block.first + position}", block.bad[position]))
                continue
            current.ends.see(given, block.first + position)
            current.take(row, block.first + position)

    def _are_titles(self, row: Row) -> bool:
        """Whether a row is the line of titles, which comes again on each page."""
        titles = self._columns.place.titles
        return self._layout.titles_again and tuple(map(str.strip, row)) == titles

    def _odd(self, block: Block, position: int, row: Row, width: int) -> Row | None:
        """A row of another width than the titles; None where there is nothing to take.

        Raises:
            TooManyLines: there are far too many of them in the file.
        """
        columns, line = self._columns, block.line(position)
        usable = fitted(row, width, least_cells(columns), endless=columns.endless)
        if usable is not None:
            return usable
        number, reason = block.first + position, block.bad.get(position, "")
        if reason:
            self._count(number, UNREAD, "csv.quote and csv.encoding")
        elif not any(map(str.strip, row)):
            return None
        else:
            self._count(number, WIDE, "csv.delimiter and csv.quote")
            reason = width_fault(row, self._columns.place, self._layout, self._names)
        cells = [
            cell.strip(f"{self._layout.quote} ") for cell in line.split(self._layout.delimiter)
        ]
        test = self._columns.test
        key = tuple(cells[at] for at in test) if len(cells) > max(test, default=-1) else ()
        if len(self._pending) < MOST_FAULTS:
            self._pending.append((key, Fault(f"line {number}", reason)))
        return None

    def _count(self, number: int, what: str, see: str) -> None:
        """Count a line that ends in no test, or in one that was given already."""
        self._odd_rows += 1
        if self._odd_rows > MOST_STRAY:
            raise TooManyLines(number, f"more than {MOST_STRAY:,} lines {what}", see)

    def _close(self, key: Texts | None) -> Iterator[RawTest]:
        """Give the current test if a row of another one has come, and settle pending faults.

        A line that could not be read belongs to the test it names; one that names neither the
        current nor the next test may belong to either, so both lose it.
        """
        current = self._current
        pending, self._pending = self._pending, []
        for_next = []
        for named, fault in pending:
            if current is not None and (key is None or named != key or key == current.key):
                current.fault(fault)
            if key is not None and (
                current is None or (key != current.key and named != current.key)
            ):
                for_next.append((key, fault))
        if current is not None and key == current.key:
            return
        self._pending = for_next
        self._current = None
        if current is not None:
            yield from self._finished(current)
        elif key is None and pending:
            yield RawTest("", faults=[fault for _, fault in pending])

    def _finished(self, test: Table) -> Iterator[RawTest]:
        if _packed(test.key) in self._closed:
            if test.key in self._came_back:
                return
            self._came_back.add(test.key)
        else:
            self._closed[_packed(test.key)] = test.first << 32 | test.last
        yield with_whole_file(part_of(self._columns, test), self._shared)

    def _open(self, key: Texts, line: int) -> Table:
        """The current test if it has this key, else a new one."""
        if self._current is not None:
            return self._current
        test = self._columns.open(key, line)
        for _, fault in self._pending:
            test.fault(fault)
        self._pending = []
        if _packed(key) in self._closed:
            self._count(line, BACK, "csv.rows.test and csv.curves.test")
            first, last = divmod(self._closed[_packed(key)], 1 << 32)
            section = self._columns.place.section
            form = "curves" if isinstance(section.form, CurvesForm) else "rows"
            message = (
                f"the test {' / '.join(key)!r} stood in lines {first}-{last} already, and what was "
                "made of those lines lacks these; rows of one test must stand together; sort the "
                f"file by {', '.join(map(repr, section.form.test if section.form else ()))}, or "
                f"see {section.where}.{form}.test"
            )
            test.fault(Fault(f"line {line}", message))
        self._current = test
        return test
