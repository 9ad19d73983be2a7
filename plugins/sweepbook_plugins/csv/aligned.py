"""Tables whose cells stand below their titles, with blanks between: lines cut by where titles are.

A cell may be blank, so that counting cells would move values to other columns. Here each text of a
row belongs to the one title that it stands below; where that cannot be told, the line is a fault.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from sweepbook_plugins.csv.below_titles import Columns, Placed, apart, with_untitled, words
from sweepbook_plugins.csv.forms import Layout, Section
from sweepbook_plugins.csv.grid import begins_number
from sweepbook_plugins.csv.lines import MOST_CELLS, Block
from sweepbook_plugins.csv.names import Names, are_titles, known_titles
from sweepbook_plugins.csv.rows import Row, Rows
from sweepbook_plugins.csv.several_cells import of_titles

"""Stands in no line."""


def cells_of(line: str) -> list[str]:
    """The texts of a line that has two blanks or more between them."""
    return [of.text for of in apart(line)]


def titles_of(line: str, sections: Sequence[Section], names: Names) -> list[str]:
    """The titles that a line holds, with one blank between or with more; none if it is no such."""
    return [of.text for of in _titles(line, sections, names)]


class Cutter:
    """Cuts the lines of a file one after another."""

    def __init__(self, layout: Layout, names: Names) -> None:
        self._layout = layout
        self._names = names
        self._columns: Columns | None = None
        meaning = names.meaning
        self._keys = frozenset((*meaning.field_keys, *meaning.figure_keys))

    def blocks(self, lines: Iterator[Block]) -> Iterator[Block]:
        """The same blocks with their rows cut."""
        for block in lines:
            rows: list[Row] = []
            bad = dict(block.bad)
            for position, line in enumerate(block.lines):
                if position in bad or position in block.comments:
                    rows.append([])
                    continue
                cells, why = self.cut(line)
                rows.append(cells)
                if why:
                    bad[position] = why
            yield replace(block, rows=Rows(rows), bad=bad)

    def cut(self, line: str) -> tuple[list[str], str]:
        """The cells of one line, and what is wrong with it; "" if nothing."""
        texts = apart(line)
        if not texts:
            return [], ""
        if titles := _titles(line, self._layout.sections, self._names):
            self._columns = Columns(titles, self._layout.aligned)
            return [*self._columns.titles], ""
        cells = [of.text for of in texts]
        if len(texts) > MOST_CELLS or not self._columns or self._is_other(line):
            return cells, ""
        try:
            return self._columns.cells(texts), ""
        except ValueError as error:
            if not any(begins_number(of.text) for of in texts):
                return cells, ""
            return [], f"{error}; see csv.aligned and csv.skip"

    def _is_other(self, line: str) -> bool:
        """Whether a line is a heading, begins a test, or begins with a key of the dialect."""
        text, layout = line.strip(), self._layout
        if layout.marks.first.found(text) or layout.marks.last.found(text):
            return True
        if text in layout.headings or any(
            of.heading and self._names.held(of.heading, [text]) for of in layout.sections
        ):
            return True
        told = layout.parted(text)
        return (told[0] if told else cells_of(text)[0]) in self._keys


def _titles(line: str, sections: Sequence[Section], names: Names) -> list[Placed]:
    """The titles in a line, by the cut that makes more of them known; [] if it holds none."""
    within = names.meaning.names_within
    sections = [
        of for of in sections if all(title in line or title in within for title in of.titles)
    ]
    best: list[Placed] = []
    most = 0
    ways = [apart(line), words(line)] if sections else []
    if any("" in of.titles for of in sections if of.form):
        ways += map(with_untitled, ways[:2])
    for texts in ways:
        cells = [of.text for of in texts]
        if len(cells) > MOST_CELLS:
            continue
        cells = of_titles(cells, names)
        fits = (of for of in sections if len(cells) > 1 and are_titles(of, cells, names))
        known = max((known_titles(of, cells, names) for of in fits), default=0)
        if known > most:
            best, most = texts, known
    return best
