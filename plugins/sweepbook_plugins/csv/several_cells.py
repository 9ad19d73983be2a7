"""Columns of which each cell holds several texts: as many columns, below titles of their own."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from sweepbook_plugins.csv.forms import Section
from sweepbook_plugins.csv.lines import Block
from sweepbook_plugins.csv.names import Names, are_titles
from sweepbook_plugins.csv.rows import Row, Rows


def of_titles(cells: Sequence[str], names: Names) -> list[str]:
    """Titles, with those of several texts in the place of the one above their cells."""
    several = names.meaning.several
    return [name for cell in cells for name in (several[cell].names if cell in several else [cell])]


class Splitter:
    """Takes the rows of a file one after another."""

    def __init__(self, sections: Sequence[Section], names: Names) -> None:
        self._sections = sections
        self._names = names
        self._titles: list[str] = []
        """The open line of titles, if any of its cells stand above several texts."""

    def blocks(self, lines: Iterator[Block]) -> Iterator[Block]:
        """The same blocks with their rows as wide as there are texts."""
        for block in lines:
            rows: list[Row] = []
            bad, torn = dict(block.bad), dict(block.torn)
            for position, row in enumerate(block.rows):
                cells, why = self._row(row)
                if why:
                    bad[position], torn[position] = why, cells
                rows.append([] if why else cells)
            yield replace(block, rows=Rows(rows), bad=bad, torn=torn)

    def _row(self, row: Row) -> tuple[Row, str]:
        """A row, its cells taken apart, and what is wrong with them; "" if nothing."""
        cells = [*map(str.strip, row)]
        above = of_titles(cells, self._names)
        if any(are_titles(section, above, self._names) for section in self._sections):
            self._titles = cells if above != cells else []
            return above, ""
        if not self._titles or len(row) != len(self._titles):
            return row, ""
        found: list[str] = []
        why = ""
        for title, cell in zip(self._titles, row, strict=True):
            several = self._names.meaning.several.get(title)
            if several is None:
                found.append(cell)
                continue
            try:
                found += several.texts(cell, self._names.meaning.numbers.is_missing)
            except ValueError as error:
                why = why or f"column {title!r}: {error}"
                found += [""] * len(several.names)
        return found, why
