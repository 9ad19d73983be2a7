"""Rows that say what they hold: points of curves, single figures, and texts about the test."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from sweepbook.columns import Column, holds_any
from sweepbook.dialect.raw import Cell, Fault, Name, RawCurve, RawFigure, RawTest
from sweepbook.dialect.stating import states
from sweepbook_plugins.csv.forms import RowsForm, present
from sweepbook_plugins.csv.grid import MOST_ROWS
from sweepbook_plugins.csv.kept import RowsKept
from sweepbook_plugins.csv.keys import Findings, Keys, TooManyLines
from sweepbook_plugins.csv.line_numbers import LineNumbers
from sweepbook_plugins.csv.lines import CUT, seems_cut
from sweepbook_plugins.csv.names import Names
from sweepbook_plugins.csv.place import Place
from sweepbook_plugins.csv.pointless import Pointless, is_loss_alone, take_back
from sweepbook_plugins.csv.roles import Role, Roles, Texts, getter
from sweepbook_plugins.csv.row_ends import RowEnds
from sweepbook_plugins.csv.rows import Row, Rows, padded
from sweepbook_plugins.csv.unit_cells import are_units
from sweepbook_plugins.csv.unknown_rows import UnknownRows

MOST_OTHERS = 100_000
"""Rows of one test that are no points, before the reading of the file ends."""


@dataclass(slots=True)
class _Curve:
    """Texts of one curve as they come, and the position of its values in a row."""

    at: int
    frequency: Column = field(default_factory=Column)
    value: Column = field(default_factory=Column)
    lines: LineNumbers = field(default_factory=LineNumbers)


class RowColumns:
    """Where the roles of a form stand in the rows of a table.

    `about_tests` says that nothing names a row: its cells are fields and figures of its test.
    """

    least = -1
    endless = False
    may_end_early = False

    def __init__(self, form: RowsForm, place: Place, names: Names) -> None:
        self.form = form
        self.place = place
        self.names = names
        self.meaning = names.meaning
        self.at = {title: position for position, title in enumerate(place.titles)}
        self.roles = Roles.below(form, place, names)
        point = form.point
        self.frequency = present(point.frequency, place.titles) if point else -1
        self.values = [at for at, _ in self.roles.columns_of(point.value)] if point else []
        self.test = [self.at[title] for title in form.test]
        of_points = {*self.test, *self.roles.positions, self.frequency, *self.values}
        with_role = {at for titles in form.named for at, _ in self.roles.columns_of(titles)}
        every = range(place.first, len(place.titles))
        self.free = [position for position in every if position not in with_role]
        self.beside = [position for position in every if position in with_role - of_points]
        self.blank = self.meaning.numbers.missing | {""}
        self.key_of = getter(self.test)
        self.others = form.other_columns
        self.about_tests = not (self.roles.positions or form.point or form.curve)
        self.run_positions = (*self.test, *self.roles.positions)
        self.numbers = tuple(sorted({self.frequency, *self.values} - {-1}))
        self.known_keys = self.meaning.known_keys

    def open(self, key: Texts, line: int) -> "RowTable":
        """A table for one test."""
        return RowTable(self, key, line)

    def aside(self, row: Sequence[str], line: int) -> bool:
        """Whether a row is of no test; there are no such rows here."""
        del row, line
        return False

    def fits(self, cells: Sequence[str]) -> bool:
        """Whether a line can be a row: any with a name, or where rows may be about the test."""
        if self.form.properties is not None:
            return len(cells) <= len(self.place.titles)
        row = padded(cells, len(self.place.titles))
        role = self.roles.of(self.roles.naming(row), row)
        return bool(role.points or role.figures or role.aside) and len(cells) > 1


class RowTable:
    """The rows of one test, taken one by one."""

    def __init__(self, columns: RowColumns, key: Texts, line: int) -> None:
        self.key = key
        self.first = self.last = line
        self.ends = RowEnds(columns.place)
        self._columns = columns
        self._findings = Findings()
        self._keys = Keys(columns.meaning, self._findings)
        self._curves: dict[Name, _Curve] = {}
        self._naming: Texts | None = None
        self._current: list[_Curve] = []
        self._figures: list[RawFigure] = []
        self._pointless: list[Pointless] = []
        self._unknown = UnknownRows()
        self._kept = RowsKept(columns)
        self._rows = self._others = 0

    def take(self, row: Row, line: int) -> None:
        """Take a row as wide as the titles."""
        columns = self._columns
        self.last = line
        self._rows += 1
        if self._rows > MOST_ROWS:
            self.fault(Fault(f"line {line}", f"one test has more than {MOST_ROWS:,} rows"))
            return
        if columns.free:
            self._kept.free.take(row, line)
        naming = columns.roles.naming(row)
        if naming != self._naming:
            self._name(naming, row)
        frequency = row[columns.frequency]
        if self._current and frequency.strip() not in columns.blank:
            alone = len(self._current) == 1
            for curve in self._current:
                value = row[curve.at]
                if alone or value.strip():
                    curve.frequency.append(frequency)
                    curve.value.append(value)
                    curve.lines.add(line)
            if columns.beside:
                self._kept.beside.take(row, line)
        else:
            self._other(columns.roles.of(naming, row), row, line)

    def take_run(self, rows: Rows, line: int) -> None:
        """Take rows one after another of this test and of one name: points of a curve, mostly."""
        columns, count = self._columns, len(rows)
        if not count:
            return
        if (naming := columns.roles.naming(rows[0])) != self._naming:
            self._name(naming, rows[0])
        one = self._current[0] if len(self._current) == 1 else None
        if one is None or self._rows + count > MOST_ROWS or self._any_blank(rows):
            for number, row in enumerate(rows, line):
                self.take(row, number)
            return
        self._rows += count
        self.last = max(self.last, line + count - 1)
        one.frequency.extend(rows.column(columns.frequency, columns.numbers))
        one.value.extend(rows.column(one.at, columns.numbers))
        one.lines.add(line, count)
        if columns.free:
            self._kept.free.take_run(rows, line)
        if columns.beside:
            self._kept.beside.take_run(rows, line)

    def _any_blank(self, rows: Rows) -> bool:
        """Whether a row has no frequency."""
        columns = self._columns
        frequencies = rows.column(columns.frequency, columns.numbers)
        return holds_any(frequencies, columns.blank, columns.meaning.numbers.notation.decimal)

    def _name(self, naming: Texts, row: Row) -> None:
        """Turn to the curves that a row names; rows of one curve mostly stand together."""
        self._naming = naming
        points = self._columns.roles.of(naming, row).points
        self._current = [self._curves.setdefault(name, _Curve(at)) for at, name in points]

    def fault(self, fault: Fault) -> None:
        """Note what loses the test."""
        self._findings.fault(fault)

    def _other(self, role: Role, row: Row, line: int) -> None:
        """A row that is no point.

        Raises:
            TooManyLines: there are far too many of them.
        """
        columns = self._columns
        self._others += 1
        if self._others > MOST_OTHERS:
            what = f"more than {MOST_OTHERS:,} rows of one test are no points of a known curve"
            raise TooManyLines(line, what, f"{columns.place.section.where}.rows")
        swept = role.may_be_point and row[columns.frequency].strip() not in columns.blank
        alone = role.may_be_point and is_loss_alone(role, columns.frequency)
        if swept and alone:  # a point of a name that is misspelt
            self._no_role(role, row, line, swept=True)
            return
        before = len(self._figures)
        if taken := self._take_figures(role, row, line):
            if alone and role.points:
                count, said = len(self._figures) - before, row[columns.frequency].strip()
                self._pointless.append(Pointless(role, line, said, before, count))
            self._keep_unused(role, row, taken)
            return
        if role.may_be_property and not swept:
            self._property(role, row, line)
        else:
            self._no_role(role, row, line)

    def _take_figures(
        self, role: Role, row: Row, line: int, besides: Callable[[int], bool] | None = None
    ) -> set[int]:
        """Take what each form of single figures finds in a row; the positions that are theirs.

        A cell that two forms declare is of the first that finds it; a frequency may be of both.
        Positions of which `besides` is true hold something else.
        """
        mine: set[int] = set()
        taken: set[int] = set()
        told: set[tuple[Name, str]] = set()
        blank = self._columns.blank
        for entries in role.figures:
            filled = [of for of in entries if row[of.position].strip() and of.position not in taken]
            if besides is not None:
                filled = [of for of in filled if not besides(of.position)]
            said = {of.role for of in filled if row[of.position].strip() not in blank}
            said = said or {of.role for of in filled}
            if not states(said, {of.role for of in entries}):
                continue
            mine |= {entry.position for entry in entries}
            for of, at, name in filled:
                if of.endswith("frequency"):
                    if (name, of) in told:
                        continue
                    told.add((name, of))
                else:
                    taken.add(at)
                cell = Cell(row[at], self._columns.place.cell(line, at))
                self._figures.append(RawFigure(name, of, cell))
        return mine

    def _property(self, role: Role, row: Row, line: int) -> None:
        columns, form = self._columns, self._columns.form.properties
        positions = [columns.at[title] for title in form.values] if form else []
        filled = [position for position in positions if row[position].strip()]
        position = (filled or positions)[0]
        self._keys.put(role.key, Cell(row[position].strip(), columns.place.cell(line, position)))
        self._keep_unused(role, row, {position})

    def _no_role(self, role: Role, row: Row, line: int, *, swept: bool = False) -> None:
        """A row that nothing declared fits: kept, and told once a table."""
        columns = self._columns
        if columns.about_tests:
            return
        key = role.key or "rows without a name"
        mark = range(columns.place.first)
        named = {*mark, *columns.test, *columns.roles.positions}
        others = [position for position in range(len(row)) if position not in named]
        says = [at for at, text in enumerate(row) if text.strip() not in columns.blank]
        cells = [(columns.place.titles[at], row[at].strip()) for at in says]
        if not role.key and are_units(cells):
            self._unknown.see_units(line, cells)
        elif not role.aside:
            wanted = [] if swept else [of.position for some in role.figures for of in some]
            blank = [at for at in dict.fromkeys(wanted) if at not in says]
            titles, known = columns.place.titles, columns.known_keys
            besides = [at for at in others if at in says and titles[at] not in known]
            some = columns.roles.positions, besides, blank
            self._unknown.see(key, line, row, some, columns.place)
        texts = [row[position] for position in others]
        self._keys.keep(key, " ".join(text for text in texts if text.strip()))

    def _keep_unused(self, role: Role, row: Row, taken: set[int]) -> None:
        """Keep what a row that is no point holds beside its figures."""
        columns = self._columns
        at_points = [columns.frequency, *columns.values] if columns.form.point else []
        for position in (*columns.beside, *at_points):
            if position not in taken and row[position].strip():
                self._keys.keep(f"{role.key}/{columns.place.titles[position]}", row[position])

    def ends_open(self) -> None:
        """The file ends within the last row taken: the last number may have lost digits."""
        columns, last = self._columns, len(self._columns.place.titles) - 1
        decimal = columns.meaning.numbers.notation.decimal
        for curve in self._curves.values():
            lines = curve.lines
            ended = curve.at == last and lines and lines[len(lines) - 1] == self.last
            if ended and seems_cut(curve.value, decimal):
                self.fault(Fault(columns.place.cell(self.last, last), CUT))

    def part(self) -> RawTest:
        """Everything that the rows hold."""
        locator = self._kept.into(self._keys, self._findings, self.key, (self.first, self.last))
        curves = self._raw_curves()
        named = {curve.name for curve in curves}
        place, keys, findings = self._columns.place, self._keys, self._findings
        where = place.section.where
        take_back(self._pointless, self._figures, named.__contains__, keys, findings, where)
        for told in self._unknown.told(self._columns.form, place, self._columns.names):
            self._findings.note(told)
        return RawTest(
            locator=locator,
            properties=self._keys.properties,
            curves=curves,
            figures=self._figures,
            extra=self._keys.extra(),
            faults=self._findings.faults,
            notes=self._findings.notes,
        )

    def _raw_curves(self) -> list[RawCurve]:
        """The curves of the test."""
        return [self._raw(name, curve) for name, curve in self._curves.items() if curve.lines]

    def _raw(self, name: Name, curve: _Curve) -> RawCurve:
        place, lines, axis = self._columns.place, curve.lines, self._columns.frequency
        return RawCurve(
            name,
            curve.frequency,
            curve.value,
            lambda position: place.cell(lines[position], curve.at),
            lambda position: place.cell(lines[position], axis),
        )
