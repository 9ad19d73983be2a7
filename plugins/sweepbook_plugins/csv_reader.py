"""What a line means where it stands: heading, line of titles, row, or a key with its values."""

from collections.abc import Sequence

from sweepbook.dialect.raw import Fault
from sweepbook_plugins import csv_messages
from sweepbook_plugins.csv_curves import CurveColumns
from sweepbook_plugins.csv_forms import CurvesForm, Layout, Section
from sweepbook_plugins.csv_headings import Frame, Headings, joined
from sweepbook_plugins.csv_names import Names, are_titles, known_titles
from sweepbook_plugins.csv_piece import LOOSE, Piece
from sweepbook_plugins.csv_points import RowColumns
from sweepbook_plugins.csv_tables import (
    DIGITS,
    Columns,
    Place,
    Table,
    begins_number,
    fitted,
    width_fault,
)

_AS_NUMBERS = "0123456789.,+-' "


class Reader:
    """Takes the lines of one test.

    Attributes:
        piece: what they make.
        width: cells of a plain row; -1 where no table is open.
        axis: position of the frequency in a row.
        by_column: columns of a table that holds several tests, once its titles have come.
    """

    def __init__(self, layout: Layout, names: Names, headings: Headings) -> None:
        self.piece = Piece(names.meaning)
        self.width = -1
        self.axis = 0
        self.by_column: Columns | None = None
        self._layout = layout
        self._names = names
        self._headings = headings
        self._told: set[str] = set()
        self._doubt = ""
        self._stack: tuple[Frame, ...] = ()
        self._columns: Columns | None = None
        self._table: Table | None = None

    def take_run(self, rows: Sequence[list[str]], start: int, first: int) -> int:
        """Take a plain row of the open table, and those behind it that are of the same name.

        Args:
            rows: rows of a block.
            start: position of the first.
            first: number of the line of the row at 0.

        Returns:
            the position behind the last row taken.
        """
        assert self._columns is not None
        table = self._table or self._begin(first + start)
        run_of, width, axis = self._columns.run_of, self.width, self.axis
        name, end = run_of(rows[start]), start + 1
        while end < len(rows):
            row = rows[end]
            if len(row) != width or row[axis][:1] not in DIGITS or run_of(row) != name:
                break
            end += 1
        table.take_run(rows[start:end], first + start)
        self.piece.last = first + end - 1
        return end

    def ends_open(self, number: int) -> None:
        """The file ends within the line of this number."""
        if self._table is not None and self._table.last == number:
            self._table.ends_open()

    def read(
        self, line: str, row: list[str], cells: list[str], number: int, *, after_blank: bool
    ) -> None:
        """Take any other line.

        Args:
            line: the line.
            row: its cells.
            cells: the same, stripped, without blank ones at the end.
            number: its number.
            after_blank: whether a blank line stands before it.
        """
        stack = self._headings.open(line, cells, self._stack)
        if stack is not self._stack:
            self._stack, self._doubt = stack, ""
            self._leave()
        elif section := self._section_of(cells):
            self._open(section, tuple(cell.strip() for cell in row), number)
        elif not self._row(line, row, cells, number, after_blank=after_blank):
            self._leave()
            if not self._row_without_titles(line, row, cells, number):
                self._key_and_values(line, row, cells, number)

    def _candidates(self) -> tuple[Section, ...]:
        """The sections whose tables may stand here; none below a heading that is in doubt."""
        if self._in_doubt():
            return ()
        here = self._stack[-1].sections if self._stack else ()
        return (*here, *self._headings.anywhere)

    def _section_of(self, cells: Sequence[str]) -> Section | None:
        """The section of which these cells are the titles; the one that knows most of them."""
        if len(cells) < 2:
            return None
        found = [of for of in self._candidates() if are_titles(of, cells, self._names)]
        if len(found) < 2:
            return found[0] if found else None
        return max(found, key=lambda of: known_titles(of, cells, self._names))

    def _open(self, section: Section, titles: tuple[str, ...], number: int) -> None:
        """Open the table below a line of titles."""
        named = [frame for frame in self._stack if frame.names]
        headings = tuple((frame.templates, frame.text) for frame in named)
        place = Place(titles, number, headings, section)
        columns: Columns
        if isinstance(section.form, CurvesForm):
            columns = CurveColumns(section.form, place, self._names)
        else:
            assert section.form is not None
            columns = RowColumns(section.form, place, self._names)
        if columns.test:
            self.by_column = columns
            return
        twin = self.piece.twin(columns)
        if twin and not number:
            self._columns, self._table = twin
        elif twin:
            message = csv_messages.repeated(twin[0].place, several=self._layout.marks.any)
            self.piece.fault(number, message)
        if not twin or number:
            self._columns, self._table = columns, None
            self.piece.tables.append((columns, None))
        self.width, self.axis = len(titles), columns.frequency
        if columns.frequency < 0:
            self.width = -1

    def _begin(self, number: int) -> Table:
        """The table for the rows below the titles, begun with the first of them."""
        assert self._columns is not None
        self._table = self._columns.open((), number)
        self.piece.tables[-1] = (self._columns, self._table)
        return self._table

    def _leave(self) -> None:
        """Leave the open table."""
        self._columns = self._table = None
        self.width = -1

    def _row(
        self, line: str, row: list[str], cells: list[str], number: int, *, after_blank: bool
    ) -> bool:
        """Take a line as a row of the open table; False where it ends the table."""
        columns = self._columns
        if columns is None:
            return False
        titles = columns.place.titles
        least = max((at for at, title in enumerate(titles, 1) if title), default=0)
        if not columns.fits(cells):
            known = self._key(self._split(line, cells)[0]) in self.piece.keys.known
            if known or after_blank or self._headings.like(row, cells):
                return False
            if 1 < len(cells) < least:
                self.piece.findings.note(Fault(f"line {number}", csv_messages.no_row(cells[0])))
                return False
        usable = fitted(row, len(titles), least)
        if usable is not None:
            (self._table or self._begin(number)).take(usable, number)
        else:
            self.piece.fault(number, width_fault(row, columns.place, self._layout, self._names))
        return True

    def _row_without_titles(self, line: str, row: list[str], cells: list[str], number: int) -> bool:
        """Take a line as the first row of a table whose titles the dialect names."""
        for section in self._candidates():
            usable = fitted(row, len(section.columns)) if section.columns else None
            if usable is None:
                continue
            if isinstance(section.form, CurvesForm):
                at = section.columns.index(section.form.frequency)
                if not begins_number(usable[at].strip()):
                    continue
            self._open(section, section.columns, 0)
            if self.by_column is None:
                self._row(line, row, cells, number, after_blank=False)
            return True
        return False

    def _prefix(self) -> str:
        """What stands before a key: the headings above it."""
        return "".join(f"{frame.text}/" for frame in self._stack)

    def _key(self, text: str) -> str:
        """The key of a line: below a table one that is known without its heading is taken so."""
        key, known = f"{self._prefix()}{text}", self.piece.keys.known
        of_table = bool(self._stack) and any(of.form for of in self._stack[-1].sections)
        return text if of_table and key not in known and text in known else key

    def _split(self, line: str, cells: list[str]) -> list[str]:
        """Key and values of a line."""
        if self._layout.separator is None:
            return cells
        key, found, value = line.partition(self._layout.separator)
        return [key.strip(), value.strip()] if found else [key.strip()]

    def _key_and_values(self, line: str, row: list[str], cells: list[str], number: int) -> None:
        text, mark = line.strip(), self._layout.marks.first
        self.piece.saw(number, cells)
        if text in self._layout.signature:
            return
        cells = self._split(line, cells)
        key, alone = self._key(cells[0]), len(cells) == 1
        if key in self.piece.keys.known:
            self.piece.put(key, cells[1:], number)
        elif (marked := mark.found(text, joined(row, self._layout.delimiter))) and (
            alone or mark.end
        ):
            if value := mark.value(marked):
                self.piece.put(mark.key, [value], number)
        elif self._in_doubt() and self._is_of_a_table(cells):
            self._left_over(line, cells, number, self._doubt)
        elif not alone and not cells[0].strip(_AS_NUMBERS):
            self._left_over(line, cells, number, self._doubt or LOOSE)
        else:
            if self._headings.like(row, cells):
                self._doubt = text
            self.piece.put(key, cells[1:], number)

    def _in_doubt(self) -> bool:
        """Whether rows here might be taken for those of a heading further up."""
        return bool(self._doubt) and any(frame.names for frame in self._stack)

    def _is_of_a_table(self, cells: list[str]) -> bool:
        """Whether a line looks like a row, or is the titles of any section."""
        return len(cells) > 1 and (
            not cells[0].strip(_AS_NUMBERS)
            or any(are_titles(of, cells, self._names) for of in self._layout.sections)
        )

    def _left_over(self, line: str, cells: list[str], number: int, key: str) -> None:
        """Keep a line below no known titles or heading; if it looks like a row, tell it once."""
        if not cells[0].strip(_AS_NUMBERS) and key not in self._told:
            self._told.add(key)
            message = csv_messages.loose(key, self._headings.templates, self._names)
            self.piece.findings.note(Fault(f"line {number}", message))
            self.piece.loose = True
        self.piece.keep(key, line, number)
