"""Walks the lines of a file: tests one after another, each with its keys, headings and tables."""

from collections.abc import Iterator
from itertools import chain

from sweepbook.dialect.model import Dialect
from sweepbook.dialect.raw import Fault, NotUnderstood, RawTest, Unswept
from sweepbook.dialect.whole_file import with_whole_file
from sweepbook.source import UnreadableSource
from sweepbook_plugins.csv import messages
from sweepbook_plugins.csv.axes import Outside
from sweepbook_plugins.csv.headings import Headings, joined
from sweepbook_plugins.csv.keys import TooManyLines
from sweepbook_plugins.csv.layout import layout_of
from sweepbook_plugins.csv.line_marks import Mark
from sweepbook_plugins.csv.lines import Block, EncodingFault
from sweepbook_plugins.csv.names import names_of
from sweepbook_plugins.csv.piece import COMMENTS, NO_ROWS, Piece
from sweepbook_plugins.csv.reader import Reader
from sweepbook_plugins.csv.rows import DIGITS, Row, filled, without_blank_cells
from sweepbook_plugins.csv.tests import Tests, ended_by

_MOST_BLANK = 1_100_000
"""Blank lines one after another: somewhat more than the 1,048,576 rows of a spreadsheet."""


class Walker:
    """Takes the lines one by one and gives each test as soon as the next one begins."""

    def __init__(self, dialect: Dialect) -> None:
        self._layout = layout_of(dialect)
        self._names = names_of(dialect)
        self._marks = self._layout.marks
        self._shared = RawTest("")
        self._headings = Headings(self._layout, self._names, dialect.around)
        self._reader = Reader(self._layout, self._names, self._headings)
        self._outside: Outside | None = None
        self._at_head = True
        self._begun = False
        self._handed_over = False
        self._given = self._label_behind = 0
        self._blank = 0

    def walk(self, lines: Iterator[Block]) -> Iterator[RawTest | Fault]:
        """Yield the tests in the order of the file, and notes about the file as a whole."""
        try:
            for block in lines:
                yield from self._block(block, lines)
                if self._handed_over:
                    return
        except (EncodingFault, UnreadableSource) as error:
            self._reader.piece.findings.fault(ended_by(error))
        except TooManyLines as error:
            self._reader.piece.findings.faults.insert(0, error.fault)
        yield from self._end()

    def _block(self, block: Block, lines: Iterator[Block]) -> Iterator[RawTest | Fault]:
        """The hot loop: a line as wide as the titles, with a digit in its frequency, is a row."""
        reader, rows, position = self._reader, block.rows, 0
        count = len(rows)
        while position < count:
            row = rows.row(position)
            if (
                len(row) == reader.width
                and row[reader.axis][:1] in DIGITS
                and (not reader.marks or row[0] in reader.marks)
            ):
                position = reader.take_run(rows, position, block.first)
                self._blank = 0
                continue
            yield from self._line(block, position, row)
            position += 1
            reader = self._reader
            if reader.by_column:
                self._handed_over = True
                block.start = position - (0 if reader.by_column.place.line else 1)
                yield from self._by_column(chain([block], lines))
                return
        if block.open_end:
            reader.ends_open(block.first + count - 1)

    def _line(self, block: Block, position: int, row: Row) -> Iterator[RawTest | Fault]:
        """A line that is no plain row."""
        number = block.first + position
        if position in block.comments:
            self._reader.piece.comment(block.comments[position], number)
            return
        cells = filled(row)
        bad = block.bad.get(position)
        if not cells and bad is None:
            self._blank += 1
            if self._blank > _MOST_BLANK:
                what = f"more than {_MOST_BLANK:,} lines without anything in them follow"
                raise TooManyLines(number, what, "csv.delimiter")
            if self._blank == self._marks.blank_lines:
                yield from self._close()
            return
        line = without_blank_cells(block.line(position), self._layout.delimiter)
        marks = self._marks
        if marks.first.key and self._begins(line, cells, marks.first):
            yield from self._close()
            self._begun = True
        reader = self._reader
        reader.piece.touch(number)
        if bad is not None:
            reader.piece.fault(number, bad)
        elif marks.last.key and self._begins(line, cells, marks.last):
            yield from self._close()
        else:
            reader.read(line, row, cells, number, after_blank=self._blank > 0)
        self._blank = 0

    def _begins(self, line: str, cells: Row, mark: Mark) -> bool:
        """Whether a line begins with a mark, as it stands or as a line of cells."""
        return bool(mark.found(line.strip(), joined(cells, self._layout.delimiter)))

    def _by_column(self, lines: Iterator[Block]) -> Iterator[RawTest | Fault]:
        """The tests of a table in which a column tells them apart; it goes to the file's end."""
        columns, piece = self._reader.by_column, self._reader.piece
        assert columns is not None
        shared = piece.finish()
        yield from shared.notes
        any_test = False
        for test in Tests(columns, self._layout, self._names, shared).walk(lines):
            any_test = True
            yield test
        if not any_test:
            yield RawTest("", faults=[Fault("", NO_ROWS)])

    def _close(self) -> Iterator[RawTest | Fault]:
        """Give the test that ends here, if the lines since the last one are any."""
        piece = self._reader.piece
        if not piece.first and not piece.findings.faults:
            return
        outside = self._outside
        if self._is_head(piece):
            outside = self._outside = self._reader.outside
        self._reader = Reader(self._layout, self._names, self._headings, outside)
        if self._is_head(piece):
            self._shared = piece.finish()
            yield from self._shared.notes
        elif self._marks.any and not piece.known and not piece.findings.faults:
            yield Fault(f"lines {piece.first}-{piece.last}", messages.no_test(piece))
        else:
            self._given += 1
            shifted = self._shifted(piece)
            test = with_whole_file(self._finished(piece), self._shared)
            test.faults[:0] = shifted
            yield test
        self._at_head = False

    def _shifted(self, piece: Piece) -> list[Fault]:
        """What is wrong with a test that has the label of the next one, and the last one's own."""
        above = piece.label_above(self._shared)
        self._label_behind = self._label_behind or piece.label_behind
        takes = piece.label_behind or not piece.has_label
        if above is None or not (self._label_behind and takes):
            return []
        return [messages.label_of_the_next(above, self._label_behind)]

    def _is_head(self, piece: Piece) -> bool:
        """Whether these lines stand before the first test and count for every test."""
        if not self._at_head or piece.tables:
            return False
        if self._marks.first.key:
            return not self._begun
        return bool(self._marks.blank_lines) and not piece.has_label

    def _finished(self, piece: Piece) -> RawTest:
        """The test; one without any table has lost it where there must be one.

        A whole file need not have one: that test may have failed before a sweep was taken.
        """
        unread = not piece.first  # the file ended before anything stood in it
        lost = not piece.tables and (piece.loose or not self._marks.any)
        if lost and self._layout.has_tables and not unread:
            reason = messages.not_found(self._layout, piece.seen, self._names)
            if piece.lacks_only_curves and not piece.findings.faults:
                told = Unswept(f"lines {piece.first}-{piece.last}", messages.unswept(reason))
                piece.findings.note(told)
            else:
                piece.findings.faults.insert(0, NotUnderstood("", reason))
        return piece.finish()

    def _end(self) -> Iterator[RawTest | Fault]:
        """What stands at the end of the file."""
        self._at_head = False
        piece = self._reader.piece
        if self._marks.first.key and not self._begun:
            message = messages.no_first_line(self._marks.first.key)
            piece.findings.faults.insert(0, Fault("", message))
        yield from self._close()
        if comments := self._reader.piece.keys.left.get(COMMENTS, []):
            yield Fault("", messages.behind_the_last(comments))
        if not self._given:
            reason = messages.not_found(self._layout, piece.seen, self._names)
            yield RawTest("", faults=[NotUnderstood("", reason)])
