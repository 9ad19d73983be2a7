"""Rows that nothing declared takes: kept as they are, and told once a table."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from sweepbook.dialect.raw import OfDialect
from sweepbook_plugins.csv import unit_cells
from sweepbook_plugins.csv.forms import RowsForm, Templates
from sweepbook_plugins.csv.names import WORDS, Names, listed
from sweepbook_plugins.csv.place import Place

_OF_UNITS = "if that is the unit of these figures, declare it in units or units.figures"
Cells = Sequence[tuple[str, str]]
"""Titles and texts."""
Positions = tuple[Sequence[int], Sequence[int], Sequence[int]]


class _First(NamedTuple):
    """The first of such rows.

    Attributes:
        line: its number.
        naming: the cells that name it.
        others: those that say something of it besides.
        wanted: titles of the blank columns in which its forms look for something.
    """

    line: int
    naming: Cells
    others: Cells
    wanted: Sequence[str]


@dataclass
class UnknownRows:
    """What is to be told of such rows of one table.

    Attributes:
        unnamed: what rows are called whose names fit no form, in the order in which they came.
        unfilled: the same of rows of known names that are blank wherever their forms look.
    """

    unnamed: dict[str, None] = field(default_factory=dict)
    unfilled: dict[str, None] = field(default_factory=dict)
    _unnamed: _First | None = None
    _unfilled: _First | None = None
    _units: tuple[int, Cells] | None = None

    def see_units(self, line: int, cells: Cells) -> None:
        """Take a row that holds units alone; the first counts."""
        self._units = self._units or (line, cells)

    def see(self, name: str, line: int, row: Sequence[str], cells: Positions, place: Place) -> None:
        """Take a row.

        Args:
            name: what it is called.
            line: its number.
            row: its cells.
            cells: positions of those that name rows, of others that say something of it alone, and
                of blank ones in which the forms of its name look: none for one that fits no form.
            place: where its table stands.
        """
        naming, others, wanted = (
            [(place.titles[at], row[at].strip()) for at in some] for some in cells
        )
        first = _First(line, naming, others, [of for of, _ in wanted])
        if wanted and not others:
            return  # it says nothing, so that nothing is lost
        if wanted:
            self._unfilled = self._unfilled or first
            self.unfilled[name] = None
        else:
            self._unnamed = self._unnamed or first
            self.unnamed[name] = None

    def told(self, form: RowsForm, place: Place, names: Names) -> Iterator[OfDialect]:
        """What to say of them."""
        where = f"{place.section.where}.rows"
        line, cells = self._units or (0, ())
        if other := [*unit_cells.others(cells, names.meaning)]:
            yield OfDialect(f"line {line}", f"{'; '.join(other)}: {_OF_UNITS}")
        if self._unnamed:
            told = _of_no_name(self._unnamed, listed(self.unnamed), where, form, names)
            yield OfDialect(f"line {self._unnamed.line}", told)
        if self._unfilled:
            told = _of_no_figure(self._unfilled, listed(self.unfilled), where)
            yield OfDialect(f"line {self._unfilled.line}", told)


def _of_no_figure(first: _First, called: str, where: str) -> str:
    held = ", ".join(repr(title) for title, _ in first.others)
    return (
        f"the rows {called} say nothing under {listed(first.wanted)}, where their forms look, but "
        f"under {held}; they are kept in extra; take these columns into {where}.figures, as a "
        f"value or into names, or, if they are texts, into {where}.property; rows that are no "
        f"measurements are named by {where}.other_names"
    )


def _of_no_name(first: _First, called: str, where: str, form: RowsForm, names: Names) -> str:
    declared = [
        of
        for form_name in (
            *(of.name for of in (form.point, form.curve) if of),
            *(of.name for of in form.figures),
        )
        for of in form_name.columns
    ]
    filled = [(title, text) for title, text in first.naming if text]
    strange = [cell for cell in filled if not _is_text_of(cell, declared, names)]
    told = [of for cell in strange if (of := _lacking(cell, declared, names))]
    blank = [title for title, text in first.naming if not text]
    beside, todo = "", f"; see {where}, {WORDS}"
    if told:
        todo = f": {', and '.join(told)}"
    elif not strange and blank:
        beside = f" with a blank cell under {listed(blank)}"
        todo += f"; for rows that have none there on purpose, add a form to {where} without it"
    elif near := next(filter(None, (_near(cell, declared, names) for cell in strange)), ""):
        todo = f"{near}{todo}"
    return (
        f"nothing is known by the name {called}{beside}; the rows are kept in extra{todo}; rows "
        f"that are no measurements are named by {where}.other_names"
    )


def _lacking(cell: tuple[str, str], columns: Sequence[tuple[str, Templates]], names: Names) -> str:
    title, text = cell
    found = (names.lacking(text, of) for own, of in columns if own == title)
    told = next(filter(None, found), "")
    return f"{told} (column {title!r})" if told else ""


def _near(cell: tuple[str, str], columns: Sequence[tuple[str, Templates]], names: Names) -> str:
    title, text = cell
    return next(filter(None, (names.near(text, of) for own, of in columns if own == title)), "")


def _is_text_of(
    cell: tuple[str, str], columns: Sequence[tuple[str, Templates]], names: Names
) -> bool:
    """Whether a cell holds what some form looks for below its title."""
    title, text = cell
    wanted = [templates for of, templates in columns if of == title]
    return not wanted or any(text in names.texts(templates) for templates in wanted)
