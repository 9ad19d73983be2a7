"""Headings: which lines are some, what they say, and which tables may stand below them."""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from sweepbook.dialect.file_form import Told
from sweepbook_plugins.csv.forms import Layout, Section, Templates
from sweepbook_plugins.csv.line_marks import ANY_NUMBER, NUMBER
from sweepbook_plugins.csv.names import Names

_WHOLE_NUMBER = re.compile(r"(?<![0-9.,])[0-9]+(?![0-9.,])")


@dataclass(frozen=True)
class Frame:
    """A heading that is open.

    Attributes:
        text: the heading as the dialect spells it, with any number in place of {number}.
        sections: what may stand below it; none for a heading without a table of its own.
        templates: templates that it is one of; empty where it names nothing.
    """

    text: str
    sections: tuple[Section, ...] = ()
    templates: Templates = ()

    @property
    def key(self) -> str:
        """What it is called in the keys of the lines below it."""
        return self.text.replace(ANY_NUMBER, NUMBER)

    @property
    def names(self) -> bool:
        """Whether it says what the rows below are of."""
        return any("{" in of for of in self.templates)


class Headings:
    """Looks up lines that are headings.

    Attributes:
        file: what the name of the file says, which is a heading of all its lines; None for nothing.
    """

    def __init__(self, layout: Layout, names: Names, file: Told | None = None) -> None:
        self.file = file
        self._layout = layout
        self._found: dict[str, dict[str, list[Section]]] = {}
        for text in layout.headings:
            self._found[self._plain(text)] = {text: []}
        for section in layout.sections:
            for text in names.texts(section.heading) - {""} if section.heading else ():
                spelled = self._found.setdefault(self._plain(text), {}).setdefault(text, [])
                spelled.append(section)
        self._most_cells = max((of.count(layout.delimiter) for of in self._found), default=-1) + 1
        self.anywhere = tuple(section for section in layout.sections if not section.heading)
        self.templates = tuple(of for section in layout.sections for of in section.heading)
        self._begin = tuple(
            begin for of in self.templates if "{" in of and (begin := of.partition("{")[0])
        )
        self._first_cells = tuple(of for of in self._begin if layout.delimiter in of)
        self._named = any("{" in of for of in self.templates)
        self._counted = any(NUMBER in of for of in self.templates)

    def _plain(self, text: str) -> str:
        """The text without blanks around its cells and blank cells at its end."""
        return joined(text.split(self._layout.delimiter), self._layout.delimiter)

    def like(self, row: Sequence[str], cells: Sequence[str]) -> bool:
        """Whether a line that is none may be meant for a heading: alone, or beginning like one.

        Args:
            row: its cells; a key without a value has two.
            cells: the same, stripped, without blank ones at the end.
        """
        alone = self._named and len(cells) == 1 and len(row) != 2
        return alone or joined(cells, self._layout.delimiter).startswith(self._begin)

    def begins(self, cells: Sequence[str]) -> bool:
        """Whether a line that is none has the first cells of one, so that it is no row either."""
        first = self._first_cells
        return bool(first) and joined(cells, self._layout.delimiter).startswith(first)

    def open(self, line: str, cells: Sequence[str], stack: tuple[Frame, ...]) -> tuple[Frame, ...]:
        """The open headings after this line; the same ones where it is no heading.

        Args:
            line: the line.
            cells: its cells, stripped, without blank ones at the end.
            stack: the headings that are open.
        """
        if len(cells) > self._most_cells:
            return stack
        plain = joined(cells, self._layout.delimiter)
        found = self._found.get(line.strip()) or self._found.get(plain)
        if not found and self._counted:
            texts = (f"{plain[: of.start()]}{ANY_NUMBER}{plain[of.end() :]}"
                     for of in _WHOLE_NUMBER.finditer(plain))  # fmt: skip
            found = next(filter(None, map(self._found.get, texts)), None)
        if not found:
            return stack
        text, sections = next(iter(found.items()))
        for depth in range(len(stack), 0, -1):
            outer = {of for section in stack[depth - 1].sections for of in section.heading}
            inside = [section for section in sections if section.within in outer]
            if inside:
                return (*stack[:depth], _frame(text, inside))
        apart = [section for section in sections if not section.within]
        return (_frame(text, apart or sections),)


def _frame(text: str, sections: Sequence[Section]) -> Frame:
    templates = tuple(dict.fromkeys(of for section in sections for of in section.heading))
    return Frame(text, tuple(sections), templates)


def joined(cells: Sequence[str], delimiter: str) -> str:
    """Stripped cells as a line, blank ones at its end left out."""
    return delimiter.join(cell.strip() for cell in cells).rstrip(f"{delimiter} ")
