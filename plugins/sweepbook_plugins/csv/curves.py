"""The columns of a table with one column a curve: its curves, and their frequencies."""

from collections.abc import Sequence
from functools import cached_property

from sweepbook.dialect.parameters import can_be_swept
from sweepbook.dialect.raw import Name
from sweepbook_plugins.csv.axis_columns import AxisColumns
from sweepbook_plugins.csv.curve_table import CurveTable
from sweepbook_plugins.csv.forms import CurvesForm
from sweepbook_plugins.csv.grid import begins_number
from sweepbook_plugins.csv.names import Names, listed
from sweepbook_plugins.csv.place import Place
from sweepbook_plugins.csv.roles import Texts, getter
from sweepbook_plugins.csv.rows import Positions


class CurveColumns:
    """The columns of a table with one column a curve."""

    least = -1
    endless = False
    may_end_early = False

    def __init__(self, form: CurvesForm, place: Place, names: Names) -> None:
        self.place = place
        self.form = form
        self.meaning = names.meaning
        self.axes = AxisColumns(form, place, names)
        self.frequency = self.axes.positions[0]
        self.test = [place.titles.index(title) for title in form.test]
        self.run_positions = tuple(self.test)
        self.key_of = getter(self.test)
        self._names = names
        others = names.texts(form.other_columns) if form.other_columns else frozenset()
        self.others = others - {""}
        self._no_numbers = names.meaning.numbers.missing | form.no_points

    @cached_property
    def named(self) -> dict[int, Name]:
        """Name of each curve by the position of its column.

        A column that `figures` names and that no sweep can be, such as a length repeated in each
        row of a test, is none.
        """
        place, single = self.place, self.meaning.figure_keys if self.test else {}
        found = {}
        for position, title in enumerate(place.titles):
            if position in self.axes.positions or position in self.test:
                continue
            name = self._names.name(place, (self.form.name,), (title,))
            if name is not None and (title not in single or can_be_swept(name.parameter)):
                found[position] = name
        return found

    @cached_property
    def told_elsewhere(self) -> frozenset[str]:
        """Titles of columns below which rows that state something may hold anything."""
        return self.meaning.field_keys.union(self.form.test)

    @cached_property
    def numbers(self) -> Positions:
        """Positions of the frequencies and of the values of each curve."""
        return tuple(sorted((*self.axes.positions, *self.named)))

    def open(self, key: Texts, line: int) -> "CurveTable":
        """A table for one test."""
        return CurveTable(self, key, line)

    def aside(self, row: Sequence[str], line: int) -> bool:
        """Whether a row is of no test; there are no such rows here."""
        del row, line
        return False

    def fits(self, cells: Sequence[str]) -> bool:
        """Whether a line can be a row: something like a number stands where a frequency does."""
        text = cells[self.frequency] if len(cells) > self.frequency else ""
        known = text in self._no_numbers if text else text in self.form.role_of
        return known or self.is_point(cells)

    def is_point(self, row: Sequence[str]) -> bool:
        """Whether something like a number stands where a frequency does."""
        return any(begins_number(row[at].strip()) for at in self.axes.positions if at < len(row))

    def left_over(self, titles: Sequence[str]) -> str:
        """What to say of columns that are no known curves."""
        where = f"{self.place.section.where}.curves.name"
        names = self._names
        near = next((of for of in titles if names.lacking(of, self.form.name)), None)
        near = near or next((of for of in titles if names.near(of, self.form.name)), titles[0])
        above = ", ".join(map(repr, self.place.above))
        under = f" under the heading {above}" if above else ""
        return (
            f"no curve is known by the title {listed(titles)}{under}; the column is kept in extra"
            f"{names.todo(near, self.form.name, where)}"
        )
