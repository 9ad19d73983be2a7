"""The lines of one test: headings, lines of titles, rows, and keys with their values."""

from collections.abc import Sequence

from sweepbook.dialect.raw import Fault
from sweepbook_plugins.csv import messages, near_titles
from sweepbook_plugins.csv.axes import Line, Outside
from sweepbook_plugins.csv.curve_columns import CurveRowColumns
from sweepbook_plugins.csv.curves import CurveColumns
from sweepbook_plugins.csv.forms import CurvesForm, Layout, RowsForm, Section
from sweepbook_plugins.csv.grid import (
    Columns,
    Table,
    begins_number,
    fitted,
    least_cells,
    width_fault,
)
from sweepbook_plugins.csv.headings import Headings, joined
from sweepbook_plugins.csv.key_lines import KeyLines
from sweepbook_plugins.csv.names import Names, are_titles, known_titles, of_lines
from sweepbook_plugins.csv.piece import Piece
from sweepbook_plugins.csv.place import Place
from sweepbook_plugins.csv.points import RowColumns
from sweepbook_plugins.csv.rows import DIGITS, Row, Rows
from sweepbook_plugins.csv.unit_cells import are_units


class Reader:
    """Takes the lines of one test.

    Attributes:
        piece: what they make.
        width: cells of a plain row; -1 where no table is open.
        axis: position of the frequency in a row.
        marks: first cells of the rows of the open table, where these tell them.
        by_column: columns of a table that holds several tests, once its titles have come.
        outside: what lines in no table say of frequencies.
    """

    def __init__(
        self, layout: Layout, names: Names, headings: Headings, before: Outside | None = None
    ) -> None:
        between = " " if layout.aligned else layout.delimiter
        self.piece = Piece(names.meaning, layout.names, between)
        self.width = -1
        self.axis = 0
        self.marks: frozenset[str] = frozenset()
        self.by_column: Columns | None = None
        self._layout = layout
        self._names = names
        self._headings = headings
        self._keys = KeyLines(layout, names, headings, self.piece)
        self._columns: Columns | None = None
        self._table: Table | None = None
        self.outside = Outside(keys=self.piece.keys.properties, before=before)
        self._marks = frequency_marks(layout)
        self._every_mark = frozenset[str]().union(*(of.marks for of in layout.sections))
        self._any_marked = bool(self._every_mark)

    def take_run(self, rows: Rows, start: int, first: int) -> int:
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
        alike = (*([0] if self.marks else []), *self._columns.run_positions)
        end = rows.run_end(start, self.width, self.axis, alike)
        run = rows[start:end]
        table.ends.see_run(run, first + start)
        table.take_run(run, first + start)
        self.piece.last = first + end - 1
        return end

    def ends_open(self, number: int) -> None:
        """The file ends within the line of this number."""
        if self._table is not None and self._table.last == number:
            self._table.ends_open()

    def read(self, line: str, row: Row, cells: Row, number: int, *, after_blank: bool) -> None:
        """Take any other line.

        Args:
            line: the line.
            row: its cells.
            cells: the same, stripped, without blank ones at the end.
            number: its number.
            after_blank: whether a blank line stands before it.
        """
        if self._table is None and self._columns is not None and self._go_on(row, number):
            return
        upper = self._upper() if self.piece.titles else []
        titles = () if self._lacks_titles(line, upper) else of_lines(upper, row)
        if self._keys.heading(line, cells):
            self._leave()
        elif titles and (section := self._section_of(titles)):
            self.piece.titles = [] if upper else self.piece.titles
            self._open(section, titles, number)
        elif self._any_marked and (section := self._keys.marked(cells[0])):
            self._take_marked(section, row, cells, number)
        elif self._headings.begins(cells):
            self._leave()
            self._keys.take(line, [*row], [*cells], number)
        elif self._columns is None or not self._row(
            line, row, cells, number, after_blank=after_blank
        ):
            self._leave()
            if self._marks and self._is_axis(line, row, cells, number):
                return
            if not self._row_without_titles(line, row, cells, number):
                self._keys.take(line, [*row], [*cells], number)

    def _take_marked(self, section: Section, row: Row, cells: Row, number: int) -> None:
        """Take a row that its first cell tells, into its table or under the keys of its columns."""
        titles = section.columns
        if section.form is not None:
            if self._columns is None or self._columns.place.section is not section:
                self._open(section, titles, 0)
            self._take_row(row, number)
            return
        self._leave()
        if section.frequencies:
            start = titles.index(section.frequencies)
            self.outside.lines[cells[0]] = Line([*cells], number, len(row), start)
            titles, row = titles[:start], row[:start]
        usable = fitted(row, len(titles), len(titles))
        if usable is None:
            place = Place(titles, 0, self._keys.names(), section)
            self.piece.fault(number, width_fault(row, place, self._layout, self._names))
            return
        for title, cell in zip(titles[1:], usable[1:], strict=True):
            self.piece.put(title, [cell.strip()], number)

    def _is_axis(self, line: str, row: Row, cells: Row, number: int) -> bool:
        """Take a line that holds the frequencies of tables below it."""
        told = self._layout.parted(line)
        if told and told[0] in self._marks:
            cells = [told[0], *map(str.strip, told[1].split(self._layout.delimiter))]
        if cells[0] not in self._marks or len(cells) < 2:
            return False
        self.outside.lines[cells[0]] = Line([*cells], number, max(len(row), len(cells)))
        return True

    def _upper(self) -> list[list[str]]:
        """The lines above, where titles begin that go on in this one; empty where none do."""
        if not self.piece.titles:
            return []
        lines = [cells for _, cells in self.piece.titles]
        return lines if all(cells[0] in self._layout.upper_titles for cells in lines) else []

    def _go_on(self, row: Row, number: int) -> bool:
        """Take a line as the end of the titles right above it, which are those of a table too."""
        columns = self._columns
        assert columns is not None
        above = columns.place
        if above.line != number - 1 or above.titles[0] not in self._layout.upper_titles:
            return False
        titles = of_lines([above.titles], row)
        section = self._section_of(titles)
        if section is None or isinstance(columns, CurveRowColumns):
            return False
        self.piece.drop(columns)
        self._open(section, titles, number)
        return True

    def _lacks_titles(self, line: str, upper: list[list[str]]) -> bool:
        """Whether a line cannot be the titles of any section, for it lacks some of each."""
        quote = self._layout.quote
        if upper or (quote and quote in line):
            return False
        for titles in self._keys.titles:  # no generators here: each key line comes this way
            for text in titles:
                if text[:1] not in line or text not in line:  # one character is the quicker look
                    break
            else:
                return False
        return True

    def _section_of(self, cells: Sequence[str]) -> Section | None:
        """The section of which these cells are the titles; the one that knows most of them."""
        if len(cells) < 2 or sum(map(bool, cells)) < 2:
            return None
        found = [of for of in self._keys.sections if are_titles(of, cells, self._names)]
        if cells[0] in self._layout.upper_titles and not self._upper():
            # the title of the axis alone may be that of both lines, with a blank cell below
            found = [of for of in found if known_titles(of, cells, self._names) > 1]
        if len(found) < 2:
            return found[0] if found else None
        return max(found, key=lambda of: known_titles(of, cells, self._names))

    def _open(self, section: Section, titles: tuple[str, ...], number: int) -> None:
        """Open the table below a line of titles."""
        place = Place(titles, number, self._keys.names(), section)
        columns: Columns
        form = section.form
        assert form is not None
        if isinstance(form, CurvesForm):
            columns = CurveColumns(form, place, self._names)
        elif form.curve:
            comma = self._layout.delimiter == ","
            columns = CurveRowColumns.below(form, place, self._names, self.outside, comma=comma)
        else:
            columns = RowColumns(form, place, self._names)
        if columns.test:
            self.by_column = columns
            return
        twin = self.piece.twin(columns)
        again = bool(twin) and self._layout.titles_again
        if twin and (again or not number):
            self._columns, self._table = twin
            if isinstance(columns, CurveRowColumns) and isinstance(twin[0], CurveRowColumns):
                twin[0].shared = columns.shared  # a line of frequencies may have come in between
        elif twin:
            message = messages.repeated(twin[0].place, self._layout)
            self.piece.fault(number, message)
        if not twin or (number and not again):
            self._columns, self._table = columns, None
            self.piece.tables.append((columns, None))
        self.width, self.axis = len(titles), columns.frequency
        self.marks = section.marks
        if columns.frequency < 0 or (not self.marks and self._may_be_marked(columns.frequency)):
            self.width = -1

    def _may_be_marked(self, axis: int) -> bool:
        """Whether the first cell of a row may be a mark, where a number stands on the axis."""
        return self._any_marked and (axis > 0 or any(of[:1] in DIGITS for of in self._every_mark))

    def _begin(self, number: int) -> Table:
        """The table for the rows below the titles, begun with the first of them."""
        assert self._columns is not None
        self._table = self._columns.open((), number)
        self.piece.begin(self._columns, self._table)
        return self._table

    def _leave(self) -> None:
        """Leave the open table."""
        self._columns = self._table = None
        self.width, self.marks = -1, frozenset()

    def _row(self, line: str, row: Row, cells: Row, number: int, *, after_blank: bool) -> bool:
        """Take a line as a row of the open table; False where it ends the table."""
        columns = self._columns
        assert columns is not None
        if columns.place.section.marks:
            return False
        if not columns.fits(cells):
            known = self._keys.is_known(line, [*cells]) or cells[0] in self._layout.upper_titles
            if known or after_blank or self._headings.like(row, cells):
                return False
            if 1 < len(cells) < least_cells(columns):
                self.piece.findings.note(Fault(f"line {number}", messages.no_row(cells[0])))
                return False
            if self._is_words(cells) and not _names_units(columns, cells):
                if near_titles.almost_titles(cells, self._layout, self._names):
                    return False
                text = joined(cells, self._layout.delimiter)
                why = near_titles.in_another_unit(cells, self._layout)
                why = why or messages.no_heading(text, self._headings, self._names)
                self.piece.fault(number, why)
                return True
        self._take_row(row, number)
        return True

    def _take_row(self, row: Row, number: int) -> None:
        """Take a row into the open table; one of another width is a fault."""
        columns = self._columns
        assert columns is not None
        width = len(columns.place.titles)
        usable = fitted(row, width, least_cells(columns), endless=columns.endless)
        if usable is not None:
            table = self._table or self._begin(number)
            table.ends.see(row, number)
            table.take(usable, number)
        else:
            self.piece.fault(number, width_fault(row, columns.place, self._layout, self._names))

    def _is_words(self, cells: Sequence[str]) -> bool:
        """Whether no cell of a line holds a number, or stands for one."""
        numbers = self._names.meaning.numbers
        return not any(begins_number(of) or numbers.is_missing(of) for of in cells)

    def _row_without_titles(self, line: str, row: Row, cells: Row, number: int) -> bool:
        """Take a line as the first row of a table whose titles the dialect names."""
        for section in self._keys.sections:
            if not section.columns or section.marks:
                continue
            curve = section.form.curve if isinstance(section.form, RowsForm) else None
            endless = curve is not None and not curve.separator and not curve.frequency_titles
            wide = endless and len(cells) > len(section.columns)
            width = len(section.columns)
            usable = fitted(row, width, width, endless=wide)
            if usable is None:
                continue
            if isinstance(section.form, CurvesForm):
                axes = self._names.held(section.form.frequency, section.columns)
                said = zip(section.columns, usable, strict=True)
                if not any(begins_number(text.strip()) for of, text in said if of in axes):
                    continue
            self._open(section, section.columns, 0)
            if self.by_column is None:
                self._row(line, row, cells, number, after_blank=False)
            return True
        return False


def frequency_marks(layout: Layout) -> frozenset[str]:
    """What rows and lines of frequencies begin with, or hold."""
    forms = (of.form.curve for of in layout.sections if isinstance(of.form, RowsForm))
    return frozenset(curve.frequency for curve in forms if curve and curve.frequency)


def _names_units(columns: Columns, cells: Row) -> bool:
    """Whether a line among rows that say what they hold has no name, and units in other cells."""
    filled = [("", cell.strip()) for cell in cells if cell.strip()]
    return isinstance(columns, RowColumns) and not cells[0].strip() and are_units(filled)
