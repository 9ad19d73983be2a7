"""Tables whose cells stand below their titles, with blanks between: lines cut by where titles are.

A cell may be blank, so that counting cells would move values to other columns. Here each text of a
row belongs to the one title that it stands below; where that cannot be told, the line is a fault.
"""

import re
from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

from sweepbook_plugins.csv.forms import Layout, Section
from sweepbook_plugins.csv.grid import begins_number
from sweepbook_plugins.csv.lines import MOST_CELLS, Block
from sweepbook_plugins.csv.names import Names, are_titles, known_titles
from sweepbook_plugins.csv.rows import Row, Rows
from sweepbook_plugins.csv.several_cells import of_titles

_APART = re.compile(r"\S+(?: \S+)*")
"""Texts with two blanks or more between them; a single one is part of a text."""
_WORDS = re.compile(r"\S+")
_TAB = 8
_NO_END = 1 << 30
_NEVER = "\n"
"""Stands in no line."""


class _Text(NamedTuple):
    """A text of a line, and from which to which character it stands."""

    text: str
    start: int
    end: int


class _Column(NamedTuple):
    """A title, and from which to which character the cells below it may stand."""

    title: str
    start: int
    end: int


def cells_of(line: str) -> list[str]:
    """The texts of a line that has two blanks or more between them."""
    return [of.text for of in _texts(_plain(line), _APART)]


def titles_of(line: str, sections: Sequence[Section], names: Names) -> list[str]:
    """The titles that a line holds, with one blank between or with more; none if it is no such."""
    return [of.text for of in _title_texts(_plain(line), sections, names)]


class Cutter:
    """Cuts the lines of a file one after another."""

    def __init__(self, layout: Layout, names: Names) -> None:
        self._layout = layout
        self._names = names
        self._columns: list[_Column] = []
        self._starts: list[int] = []
        self._ends: list[int] = []
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
        plain = _plain(line)
        texts = _texts(plain, _APART)
        if not texts:
            return [], ""
        if titles := _title_texts(plain, self._layout.sections, self._names):
            self._columns = _columns(titles, self._layout.aligned)
            self._starts = [of.start for of in self._columns]
            self._ends = [of.end for of in self._columns]
            return [of.text for of in titles], ""
        cells = [of.text for of in texts]
        if len(texts) > MOST_CELLS or not self._columns or self._is_other(plain):
            return cells, ""
        try:
            return self._below(texts), ""
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
        key, mark, _ = text.partition(layout.separator or _NEVER)
        return (key.strip() if mark else cells_of(text)[0]) in self._keys

    def _below(self, texts: Sequence[_Text]) -> list[str]:
        """The cells of a row, blank ones among them.

        Raises:
            ValueError: a text stands below no title or below two, or two texts below one.
        """
        cells = [""] * len(self._columns)
        for whole in texts:
            pieces = [whole]
            if len(self._above(whole)) > 1:
                pieces = [
                    piece._replace(start=piece.start + whole.start, end=piece.end + whole.start)
                    for piece in _texts(whole.text, _WORDS)
                ]
            for piece in pieces:
                at = self._one_above(piece)
                if cells[at]:
                    raise ValueError(
                        f"{cells[at]!r:.60} and {piece.text!r:.60} both stand below "
                        f"{self._columns[at].title!r}, so which is of that column cannot be told"
                    )
                cells[at] = piece.text
        return cells

    def _one_above(self, text: _Text) -> int:
        found = self._above(text)
        if len(found) == 1:
            return found[0]
        where = f"{text.text!r:.60} at character {text.start + 1} stands"
        if not found:
            raise ValueError(f"{where} below no title")
        shown = " and ".join(repr(self._columns[at].title) for at in found[:2])
        raise ValueError(f"{where} below {shown}")

    def _above(self, text: _Text) -> range:
        """Positions of the columns within which any of a text stands.

        A column without a title takes what stands before all titles; a number that is longer than
        the first of these stands below it all the same, where cells stand at its right edge.
        """
        found = range(bisect_right(self._ends, text.start), bisect_left(self._starts, text.end))
        untitled = len(found) > 1 and not self._columns[found[0]].title
        return found[1:] if untitled and self._layout.aligned != "left" else found


def _columns(titles: Sequence[_Text], aligned: str) -> list[_Column]:
    """The columns of titles that stand at the left or right edge of theirs, or above the cells."""
    if aligned == "below":
        return [_Column(*of) for of in titles]
    if aligned == "left":
        bounds = [0, *(of.start for of in titles[1:]), _NO_END]
    else:
        bounds = [0, *(of.end for of in titles)]
    return [_Column(of.text, *bounds[at : at + 2]) for at, of in enumerate(titles)]


def _title_texts(line: str, sections: Sequence[Section], names: Names) -> list[_Text]:
    """The titles in a line, by the cut that makes more of them known; [] if it holds none."""
    within = names.meaning.names_within
    sections = [
        of for of in sections if all(title in line or title in within for title in of.titles)
    ]
    best: list[_Text] = []
    most = 0
    ways = [_texts(line, way) for way in (_APART, _WORDS)] if sections else []
    if line[:1] == " " and any("" in of.titles for of in sections if of.form):
        blank = _Text("", 0, ways[0][0].start)
        ways += [[blank, *texts] for texts in ways]
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


def _plain(line: str) -> str:
    """A line with blanks for tabulators, and without a mark of a new page before it."""
    return line.lstrip("\f").rstrip().expandtabs(_TAB)


def _texts(line: str, way: re.Pattern[str]) -> list[_Text]:
    return [_Text(of[0], of.start(), of.end()) for of in way.finditer(line)]
