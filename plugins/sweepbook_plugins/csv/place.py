"""Where a table stands in its file, and what stands above it."""

from dataclasses import dataclass
from functools import cached_property

from sweepbook.dialect.file_form import shown
from sweepbook_plugins.csv.forms import Section, Templates
from sweepbook_plugins.csv.line_marks import ANY_NUMBER, NUMBER


@dataclass(frozen=True)
class Place:
    """Where a table stands.

    Attributes:
        titles: titles of its columns.
        line: number of the line of titles; 0 where the dialect names the columns.
        headings: templates and text of each heading above that names something.
        section: what the dialect says of it.
    """

    titles: tuple[str, ...]
    line: int
    headings: tuple[tuple[Templates, str], ...]
    section: Section

    @property
    def first(self) -> int:
        """Position of the first column that says something: the one behind a mark."""
        return 1 if self.section.marks else 0

    @property
    def templates(self) -> tuple[Templates, ...]:
        """Templates of the headings above."""
        return tuple(templates for templates, _ in self.headings)

    @property
    def texts(self) -> tuple[str, ...]:
        """Texts of the headings above."""
        return tuple(text for _, text in self.headings)

    @cached_property
    def filled(self) -> int:
        """How many titles there are up to the last that is not blank."""
        return max((at for at, title in enumerate(self.titles, 1) if title), default=0)

    @property
    def above(self) -> tuple[str, ...]:
        """The same, for people."""
        return tuple(shown(text).replace(ANY_NUMBER, NUMBER) for text in self.texts)

    def cell(self, line: int, position: int) -> str:
        """Place of a cell, for messages."""
        return f"line {line}, column {self.titles[position]!r}"
