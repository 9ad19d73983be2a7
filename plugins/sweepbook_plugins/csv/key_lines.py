"""Lines in no table: headings, and which key a line has below the headings above it."""

import re
from collections.abc import Sequence
from itertools import zip_longest

from sweepbook.dialect.raw import Cause, Fault
from sweepbook_plugins.csv import messages, near_titles
from sweepbook_plugins.csv.forms import Layout, RowsForm, Section, Templates
from sweepbook_plugins.csv.headings import Frame, Headings, joined
from sweepbook_plugins.csv.line_marks import NUMBER, with_numbers
from sweepbook_plugins.csv.names import Names, are_titles
from sweepbook_plugins.csv.piece import LOOSE, Piece
from sweepbook_plugins.csv.rows import Row, without_blank_cells

_AS_NUMBERS = "0123456789.,+-' "


class KeyLines:
    """Takes the lines of one test that stand in no table, and knows which headings are open.

    Args:
        layout: what the dialect says of the lines.
        names: its look-ups.
        headings: its headings.
        piece: the test.

    Attributes:
        sections: whose tables may stand here; none where rows might be taken for those of a heading
            further up.
        titles: those that a line of titles of each must hold.
    """

    def __init__(self, layout: Layout, names: Names, headings: Headings, piece: Piece) -> None:
        self._layout = layout
        self._names = names
        self._headings = headings
        self._piece = piece
        self._known = piece.keys.known
        self._counted = [(re.compile(with_numbers(of)), of) for of in self._known if NUMBER in of]
        self._titles = layout.titles | layout.upper_titles
        self._cells_are_keys = layout.delimiter in layout.separators
        self._marks = marks_of_points(layout.sections)
        self._signature = {without_blank_cells(text, layout.delimiter) for text in layout.signature}
        self._stack: tuple[Frame, ...] = ()
        self._doubt = ""
        self._look()
        self._told: set[str] = set()
        self._above: tuple[int, list[str]] = (0, [])

    def heading(self, line: str, cells: Row) -> bool:
        """Take a line if it is a declared heading."""
        stack = self._headings.open(line, cells, self._stack)
        if stack is self._stack:
            return False
        self._stack, self._doubt = stack, ""
        self._look()
        return True

    def _look(self) -> None:
        """Look which tables may stand here; none below a heading that is in doubt."""
        here = self._stack[-1].sections if self._stack else ()
        self._in_doubt = bool(self._doubt) and any(frame.names for frame in self._stack)
        self.sections: tuple[Section, ...] = ()
        if not self._in_doubt:
            self.sections = (*here, *self._headings.anywhere)
        self.titles = [tuple(of.titles) for of in self.sections]

    def marked(self, cell: str) -> Section | None:
        """The section whose rows begin with a cell."""
        return next((of for of in self.sections if cell in of.marks), None)

    def names(self) -> tuple[tuple[Templates, str], ...]:
        """Templates and text of each open heading that says what the rows below it are of."""
        file = self._headings.file
        above = [(file.templates, file.text)] if file and file.names_curves else []
        return (*above, *((frame.templates, frame.text) for frame in self._stack if frame.names))

    def is_known(self, line: str, cells: list[str]) -> bool:
        """Whether a line has a key that fills a field or names a figure."""
        return self._key(self._split(line, cells)[0]) in self._known

    def take(self, line: str, row: list[str], cells: list[str], number: int) -> None:
        """Take a line that is no heading and stands in no table.

        Args:
            line: the line.
            row: its cells.
            cells: the same, stripped, without blank ones at the end.
            number: its number.
        """
        text, mark = line.strip(), self._layout.marks.first
        self._piece.saw(number, cells)
        if self._values(row, cells, number):
            return
        if text in self._signature:
            return
        cells = self._split(line, cells)
        key, alone = self._key(cells[0]), len(cells) == 1
        marked = mark.found(text, joined(row, self._layout.delimiter)) if mark.key else ""
        if key in self._known:
            self._piece.put(key, cells[1:], number)
        elif marked and (alone or mark.end):
            if value := mark.value(marked):
                self._piece.put(mark.key, [value], number)
        elif self._in_doubt and self._is_of_a_table(cells):
            self._left_over(line, cells, number, self._doubt)
        elif not alone and self._begins_a_row(cells):
            self._left_over(line, cells, number, self._doubt or LOOSE)
        else:
            if self._headings.like(row, cells):
                self._doubt = text
                self._look()
            if missed := near_titles.almost_titles(cells, self._layout, self._names):
                self._piece.missed.append(Cause(f"line {number}", missed))
            self._piece.put(key, cells[1:], number)
            self._above = number, cells

    def _values(self, row: list[str], cells: list[str], number: int) -> bool:
        """Take a line of titles, or that of their values below it."""
        piece, layout = self._piece, self._layout
        titles = piece.titles[-1][1] if piece.titles else []
        if titles and titles[0] in layout.titles and len(cells) <= len(titles) <= len(row):
            piece.titles = []
            for key, value in zip_longest(titles, cells, fillvalue=""):
                piece.put(self._key(key), [value], number)
            return True
        upper = layout.upper_titles
        if titles and not (cells[0] in upper and titles[0] in upper):
            piece.end_titles()
        if cells[0] not in self._titles or len(cells) < 2:
            return False
        piece.titles.append((number, cells))
        return True

    def _key(self, text: str) -> str:
        """The key of a line: below a table one that is known without its heading is taken so."""
        text = self._uncounted(text)
        key = self._below_headings(text) if self._stack else text
        file = self._headings.file
        if file is None:
            return key
        whole = f"{file.text}/{key}"
        return whole if whole in self._known else key

    def _uncounted(self, text: str) -> str:
        """A key as the dialect has it, where only numbers in it differ from test to test."""
        fits = (key for line, key in self._counted if line.fullmatch(text))
        return text if text in self._known else next(fits, text)

    def _below_headings(self, text: str) -> str:
        key = "".join(f"{frame.key}/" for frame in self._stack) + text
        of_table = any(of.form for of in self._stack[-1].sections)
        return text if of_table and key not in self._known and text in self._known else key

    def _split(self, line: str, cells: list[str]) -> list[str]:
        """Key and values of a line."""
        layout = self._layout
        if not layout.separators or (self._cells_are_keys and len(cells) > 1):
            return cells
        if told := layout.parted(line):
            return [*told]
        return cells if layout.aligned or self._cells_are_keys else [line.strip()]

    def _begins_a_row(self, cells: list[str]) -> bool:
        """Whether a line begins with a number, or with the mark of points without titles."""
        return not cells[0].strip(_AS_NUMBERS) or cells[0] in self._marks

    def _is_of_a_table(self, cells: list[str]) -> bool:
        """Whether a line looks like a row, or is the titles of any section."""
        return len(cells) > 1 and (
            self._begins_a_row(cells)
            or any(are_titles(of, cells, self._names) for of in self._layout.sections)
        )

    def _left_over(self, line: str, cells: list[str], number: int, key: str) -> None:
        """Keep a line below no known titles or heading; if it looks like a row, tell it once."""
        if self._begins_a_row(cells) and key not in self._told:
            self._told.add(key)
            titles = self._titles_above(number) if key == LOOSE else ""
            message = messages.loose(key, self._headings.templates, self._names, titles)
            self._piece.findings.note(Fault(f"line {number}", message))
            self._piece.loose = True
        self._piece.keep(key, line, number)

    def _titles_above(self, number: int) -> str:
        """What to say of the line right above one, where it has all but known titles."""
        above, cells = self._above
        told = any(of.place == f"line {above}" for of in self._piece.missed[-1:])
        if told or above != number - 1:
            return ""
        return near_titles.other_titles(cells, above, self.sections, self._names)


def marks_of_points(sections: Sequence[Section]) -> frozenset[str]:
    """What rows begin with, of points at least, where the dialect names the columns."""
    forms = [of.form for of in sections if of.columns and isinstance(of.form, RowsForm)]
    firsts = {of.columns[0] for of in sections if of.columns}
    marked = (form.point for form in forms if form.kind in firsts)
    kinds = (kind for point in marked if point for kind in point.kinds)
    return frozenset(kinds).union(*(of.marks for of in sections))
