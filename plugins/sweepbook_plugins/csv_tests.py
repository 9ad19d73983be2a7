"""Tells one test from the next in a file with one row a point, with memory for one test only."""

from collections.abc import Iterator

from sweepbook.dialect.raw import Fault, RawTest
from sweepbook.source import UnreadableSource
from sweepbook_plugins.csv_layout import Layout
from sweepbook_plugins.csv_lines import Block, EncodingFault
from sweepbook_plugins.csv_points import MOST_FAULTS, Columns, Test
from sweepbook_plugins.csv_roles import Texts


def broken_off(error: EncodingFault | UnreadableSource) -> Fault:
    """The fault of a file that cannot be read to its end."""
    message = error.message if isinstance(error, UnreadableSource) else str(error)
    return Fault("", f"the file cannot be read further: {message.rstrip('.')}")


class Tests:
    """Walks the rows of a file and gives each test as soon as the next one begins."""

    def __init__(self, columns: Columns, layout: Layout, shared: RawTest) -> None:
        self._columns = columns
        self._layout = layout
        self._shared = shared
        self._current: Test | None = None
        self._pending: list[tuple[Texts, Fault]] = []
        self._closed: dict[Texts, str] = {}
        self._came_back: set[Texts] = set()

    def walk(self, lines: Iterator[Block]) -> Iterator[RawTest]:
        """Yield the tests in the order of the file; one that comes back has a fault."""
        try:
            for block in lines:
                yield from self._block(block)
                if block.open_end and self._current is not None:
                    self._current.ends_open()
        except (EncodingFault, UnreadableSource) as error:
            self._pending.append(((), broken_off(error)))
        yield from self._close(None)

    def _block(self, block: Block) -> Iterator[RawTest]:
        """The hot loop: one look at the width and the key of each row, then the test takes it."""
        width = len(self._columns.titles)
        key_of = self._columns.key_of
        for position, row in enumerate(block.rows):
            if len(row) != width:
                usable = self._odd(block, position, row, width)
                if usable is None:
                    continue
                row = usable
            key = key_of(row)
            current = self._current
            if current is None or key != current.key or self._pending:
                yield from self._close(key)
                current = self._open(key, block.first + position)
            current.take(row, block.first + position)

    def _odd(self, block: Block, position: int, row: list[str], width: int) -> list[str] | None:
        """A row of another width than the titles; None where there is nothing to take."""
        if len(row) > width and not any(map(str.strip, row[width:])):
            return row[:width]
        line = block.lines[position]
        reason = block.bad.get(position, "")
        if not reason:
            if not row or not line.strip():
                return None
            reason = (
                f"the line has {len(row)} cells where the titles have {width}; "
                "see csv.delimiter, csv.quote, csv.skip and numbers.decimal"
            )
        cells = [
            cell.strip(f"{self._layout.quote} ") for cell in line.split(self._layout.delimiter)
        ]
        test = self._columns.test
        key = tuple(cells[at] for at in test) if len(cells) > max(test, default=-1) else ()
        if len(self._pending) < MOST_FAULTS:
            self._pending.append((key, Fault(f"line {block.first + position}", reason)))
        return None

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

    def _finished(self, test: Test) -> Iterator[RawTest]:
        if test.key in self._closed:
            if test.key in self._came_back:
                return
            self._came_back.add(test.key)
        else:
            self._closed[test.key] = f"lines {test.first}-{test.last}"
        yield test.finish(self._shared)

    def _open(self, key: Texts, line: int) -> Test:
        """The current test if it has this key, else a new one."""
        if self._current is not None:
            return self._current
        test = Test(self._columns, key, line)
        test.faults += [fault for _, fault in self._pending]
        self._pending = []
        if key in self._closed:
            message = (
                f"the test {' / '.join(key)!r} stood in {self._closed[key]} already, and what was "
                "made of those lines lacks these; rows of one test must stand together; sort the "
                "file, or see csv.rows.test"
            )
            test.faults.append(Fault(f"line {line}", message))
        self._current = test
        return test
