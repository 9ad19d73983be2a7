"""Rows whose names nothing declared fits: kept as they are, and told once a table."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from sweepbook.dialect.raw import OfDialect
from sweepbook_plugins.csv.forms import RowsForm, Templates
from sweepbook_plugins.csv.names import Names, listed
from sweepbook_plugins.csv.place import Place


@dataclass
class UnknownRows:
    """What is to be told of such rows of one table.

    Attributes:
        names: what they are called, in the order in which they came.
        line: number of the first.
        blank: titles of the columns that name rows and are blank in it.
    filled: title and text of those that are not.
    """

    names: dict[str, None] = field(default_factory=dict)
    line: int = 0
    blank: tuple[str, ...] = ()
    filled: tuple[tuple[str, str], ...] = ()

    def see(
        self, name: str, line: int, row: Sequence[str], naming: Sequence[int], place: Place
    ) -> None:
        """Take a row that is called so; cells at `naming` name rows."""
        if not self.names:
            self.line = line
            cells = [(place.titles[at], row[at].strip()) for at in naming]
            self.blank = tuple(title for title, text in cells if not text)
            self.filled = tuple((title, text) for title, text in cells if text)
        self.names[name] = None

    def told(self, form: RowsForm, place: Place, names: Names) -> OfDialect | None:
        """What to say of them; None where there are none."""
        if not self.names:
            return None
        first = next(iter(self.names)).partition(" ")[0]
        named = [of.name for of in (form.point, form.curve) if of]
        templates = [of for name in named for _, of in name.columns]
        near = next(filter(None, (names.near(first, of) for of in templates)), "")
        where = f"{place.section.where}.rows"
        blank, todo = "", ""
        declared = [
            of for name in (*named, *(of.name for of in form.figures)) for of in name.columns
        ]
        if self.blank and all(_is_text_of(cell, declared, names) for cell in self.filled):
            blank = f" with a blank cell under {listed(self.blank)}"
            todo = f"; for rows that have none there on purpose, add a form to {where} without it"
        return OfDialect(
            f"line {self.line}",
            f"nothing is known by the name {listed(self.names)}{blank}; the rows are kept in extra"
            f"{near}; see {where}, words.parameters, words.pairs and words.ends; rows that are no "
            f"measurements are named by {where}.other_names{todo}",
        )


def _is_text_of(
    cell: tuple[str, str], columns: Sequence[tuple[str, Templates]], names: Names
) -> bool:
    """Whether a cell holds what some form looks for below its title."""
    title, text = cell
    wanted = [templates for of, templates in columns if of == title]
    return not wanted or any(text in names.texts(templates) for templates in wanted)
