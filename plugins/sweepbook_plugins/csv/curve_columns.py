"""Where the roles stand in a table whose rows hold a whole curve each."""

from collections.abc import Sequence
from copy import copy

from sweepbook_plugins.csv import axes
from sweepbook_plugins.csv.axes import Axis, Outside, Runs
from sweepbook_plugins.csv.curve_rows import CurveRowTable
from sweepbook_plugins.csv.forms import RowsForm, present
from sweepbook_plugins.csv.names import Names
from sweepbook_plugins.csv.place import Place
from sweepbook_plugins.csv.points import RowColumns
from sweepbook_plugins.csv.roles import Texts
from sweepbook_plugins.csv.rows import Row, padded

MOST_PLACES = 8
"""Lines of titles, of a thousand each mostly, of which the columns are kept for the next file."""


class CurveRowColumns(RowColumns):
    """Where a form of curves in rows has its roles.

    Attributes:
        start: position of the first value.
        titled: the frequency of each column whose title is one, by position.
        titled_at: these positions.
        least: cells that a row has at least.
        endless: whether the values go on to the end of a row, wherever the titles end.
        comma: whether the mark between cells is one between digits, too.
        untitled: positions of blank titles among those of frequencies, and behind them.
    """

    def __init__(self, form: RowsForm, place: Place, names: Names, *, comma: bool) -> None:
        curve = form.curve
        assert curve is not None
        self.comma = comma
        super().__init__(form, place, names)
        self.curve = curve
        self.notation = self.meaning.numbers.notation
        self.titled = axes.in_titles(curve, place, self.notation)
        self.titled_at = list(self.titled)
        titles = place.titles
        filled = [at for at, title in enumerate(titles) if title]
        self.start = filled[-1] + 1
        self._span: slice | None = None
        if self.titled:
            self.start, end = min(self.titled), max(self.titled) + 1
            self._span = slice(self.start, end) if end - self.start == len(self.titled) else None
        elif curve.begins_at:
            self.start = present(curve.begins_at, titles)
        self.endless = not self.titled and not curve.separator
        self.may_end_early = curve.ends_early or self.endless
        listed = curve.frequency != "" and curve.frequency in titles
        self.list_at = titles.index(curve.frequency) if listed else -1
        named = {*self.roles.positions, *self.test, self.list_at}
        if curve.ends_early or self.endless:
            self.least = 1 + max(self.start - self.endless, *named)
        run = curve.run
        if run:
            named |= {titles.index(of) for of in vars(run).values() if of and of in titles}
        named |= {at for at in range(len(titles)) if self.is_value(at)}
        self.free = [at for at in self.free if at not in named]
        self.beside = [at for at in self.beside if at not in named]
        among = [at for at in self.free if self.titled and at > self.start]
        self.untitled = [at for at in among if not titles[at]]
        self._frequencies = [*self.titled.values()]
        self._runs: Runs | None = None
        self.shared: Axis | None = None

    @classmethod
    def below(
        cls, form: RowsForm, place: Place, names: Names, outside: Outside, *, comma: bool
    ) -> "CurveRowColumns":
        """The columns below some titles and headings, laid out once for file after file."""
        below = (place.section.where, place.titles, place.headings, comma)
        known = names.columns.get(below)
        if not isinstance(known, cls):
            known = cls(form, place, names, comma=comma)
            if len(names.columns) >= MOST_PLACES:
                names.columns.clear()
            names.columns[below] = known
        columns = copy(known)
        columns._stand(place, outside)
        return columns

    def _stand(self, place: Place, outside: Outside) -> None:
        """Take a place below such titles, and what stands above it."""
        self.place, curve, at = place, self.curve, self.titled_at
        self._runs = Runs(curve.run, place, outside, self.notation) if curve.run else None
        if self.titled:
            texts = self._frequencies
            self.shared = Axis(texts, lambda of: place.cell(place.line, at[of]), "the titles")
        elif curve.frequency and (line := outside.line(curve.frequency)):
            of_test = curve.frequency in outside.lines and not self.test
            self.shared = axes.of_line(line, self.start, curve, self.notation, of_test=of_test)

    def is_value(self, at: int) -> bool:
        """Whether values of curves stand at a position."""
        if self.titled:
            return at in self.titled
        return at >= self.start if self.endless else at == self.start

    def open(self, key: Texts, line: int) -> "CurveRowTable":
        """A table for one test."""
        return CurveRowTable(self, key, line)

    def fits(self, cells: Sequence[str]) -> bool:
        """Whether a line can be a row: a curve, a row of frequencies, or any other row."""
        row = padded(cells, len(self.place.titles))
        if self.is_axis(row):
            return True
        curve = self.roles.of(self.roles.naming(row), row).curve
        return (curve is not None and len(cells) > 1) or super().fits(cells)

    def is_axis(self, row: Sequence[str]) -> bool:
        """Whether a row holds the frequencies of others."""
        mark = self.curve.frequency
        if not mark or self.list_at >= 0:
            return False
        return any(row[at].strip() == mark for at in (0, *self.roles.positions, *self.test))

    def aside(self, row: Sequence[str], line: int) -> bool:
        """Take a row of frequencies that is of no test, but counts for every one."""
        blank = bool(self.test) and all(
            row[at].strip() in ("", self.curve.frequency) for at in self.test
        )
        if blank and self.is_axis(row):
            self.shared = axes.of_cells(self.cells(row), line, self.curve)
            return True
        return False

    def cells(self, row: Row) -> Row:
        """The cells of a row where values stand."""
        if self._span:
            return row[self._span]
        if self.titled:
            return [row[at] for at in self.titled]
        return [row[self.start]] if self.curve.separator else row[self.start :]

    def axis(self, row: Row, values: Row, line: int) -> Axis | None:
        """The frequencies that a row itself names; None where another one does.

        Raises:
            Fault: they cannot be read.
            LongRun: they are more than the values.
        """
        if self._runs:
            return self._runs.axis(row, len(values), line)
        if self.list_at < 0:
            return None
        found = axes.of_cells([row[self.list_at]], line, self.curve)
        return found._replace(called=f"the list below {self.curve.frequency!r}")

    def strays(self) -> list[str]:
        """Titles that stand among those of frequencies and are none, or behind with a digit."""
        titles, last = self.place.titles, max(self.titled, default=0)
        return [
            titles[at]
            for at in self.free
            if self.titled and at > self.start and titles[at]
            if at < last or any(map(str.isdigit, titles[at]))
        ]
