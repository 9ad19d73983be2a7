"""One row a point: rows that stand together become tests, one after the other, as they come."""

from array import array
from collections.abc import Sequence
from dataclasses import dataclass, field

from sweepbook.dialect.model import Meaning
from sweepbook.dialect.raw import Cell, Fault, Name, RawCurve, RawFigure, RawTest
from sweepbook_plugins.csv_kept import Kept
from sweepbook_plugins.csv_layout import RowsForm
from sweepbook_plugins.csv_lines import CUT, seems_cut
from sweepbook_plugins.csv_roles import Role, Roles, Texts, getter

MOST_ROWS = 1_000_000
"""Rows of one test; a whole certification has about 80,000."""

MOST_FAULTS = 100


@dataclass(slots=True)
class _Curve:
    """Texts of one curve as they come."""

    frequency: list[str] = field(default_factory=list)
    value: list[str] = field(default_factory=list)
    lines: "array[int]" = field(default_factory=lambda: array("Q"))


class Columns:
    """Where the roles of a form stand in the rows of a file."""

    def __init__(self, form: RowsForm, titles: Sequence[str], meaning: Meaning) -> None:
        self.form = form
        self.titles = titles
        self.meaning = meaning
        self.at = {title: position for position, title in enumerate(titles)}
        self.roles = Roles(form, titles, meaning)
        self.frequency = self.at[form.point.frequency]
        self.value = self.at[form.point.value]
        self.test = [self.at[title] for title in form.test]
        of_points = {*self.test, *self.roles.positions, self.frequency, self.value}
        with_role = {self.at[title] for title in form.titles}
        every = range(len(titles))
        self.free = [position for position in every if position not in with_role]
        self.beside = [position for position in every if position in with_role - of_points]
        self.naming = self.roles.naming
        self.blank = meaning.numbers.missing | {""}
        self.key_of = getter(self.test)

    def place(self, line: int, position: int) -> str:
        """Place of a cell, for messages."""
        return f"line {line}, column {self.titles[position]!r}"


class Test:
    """One test in the making: takes its rows one by one."""

    def __init__(self, columns: Columns, key: Texts, line: int) -> None:
        self.key = key
        self.first = self.last = line
        self.faults: list[Fault] = []
        self._columns = columns
        self._curves: dict[Name, _Curve] = {}
        self._naming: Texts | None = None
        self._curve: _Curve | None = None
        self._figures: list[RawFigure] = []
        self._properties: dict[str, Cell] = {}
        self._left: dict[str, list[str]] = {}
        self._notes: list[Fault] = []
        self._free = Kept(columns.free)
        self._beside = Kept(columns.beside)
        self._rows = 0

    def take(self, row: list[str], line: int) -> None:
        """Take one row of the right width."""
        columns = self._columns
        self.last = line
        self._rows += 1
        if self._rows > MOST_ROWS:
            self.fault(Fault(f"line {line}", f"one test has more than {MOST_ROWS:,} rows"))
            return
        if columns.free:
            self._free.take(row, line)
        naming = columns.naming(row)
        if naming != self._naming:
            self._name(naming, row)
        curve, frequency = self._curve, row[columns.frequency]
        if curve is not None and frequency.strip() not in columns.blank:
            curve.frequency.append(frequency)
            curve.value.append(row[columns.value])
            curve.lines.append(line)
            if columns.beside:
                self._beside.take(row, line)
        else:
            self._other(columns.roles.of(naming, row), row, line)

    def _name(self, naming: Texts, row: list[str]) -> None:
        """Turn to the curve that a row names; rows of one curve mostly stand together."""
        self._naming = naming
        point = self._columns.roles.of(naming, row).point
        self._curve = None if point is None else self._curves.setdefault(point, _Curve())

    def fault(self, fault: Fault) -> None:
        """Note what loses the test; of very many the first hundred will do."""
        if len(self.faults) < MOST_FAULTS:
            self.faults.append(fault)

    def _note(self, note: Fault) -> None:
        if len(self._notes) < MOST_FAULTS:
            self._notes.append(note)

    def _other(self, role: Role, row: list[str], line: int) -> None:
        """A row that is no point."""
        columns = self._columns
        for form, name in role.figures:
            cells = {
                of: Cell(row[columns.at[title]], columns.place(line, columns.at[title]))
                for of, title in form.roles.items()
            }
            filled = {of: cell for of, cell in cells.items() if cell.text.strip()}
            if filled.keys() - {"frequency"}:
                taken = {columns.at[title] for title in form.roles.values()}
                self._figures += [RawFigure(name, of, cell) for of, cell in filled.items()]
                self._keep_unused(role, row, taken)
                return
        swept = role.may_be_point and row[columns.frequency].strip() not in columns.blank
        if role.may_be_property and not swept:
            self._property(role, row, line)
        else:
            self._unknown(role, row, line)

    def _property(self, role: Role, row: list[str], line: int) -> None:
        columns, form = self._columns, self._columns.form.properties
        positions = [columns.at[title] for title in form.values] if form else []
        filled = [position for position in positions if row[position].strip()]
        position = (filled or positions)[0]
        self._put(role.key, Cell(row[position].strip(), columns.place(line, position)))
        self._keep_unused(role, row, {position})

    def _put(self, key: str, cell: Cell) -> None:
        known = self._properties.setdefault(key, cell)
        if known.text == cell.text:
            return
        message = f"the key {key!r} comes a second time ({known.text!r}, then {cell.text!r})"
        meaning = self._columns.meaning
        if key in meaning.field_keys or key in meaning.figure_keys:
            self.fault(Fault(cell.place, message))
        else:
            self._left.setdefault(key, []).append(cell.text)
            self._note(Fault(cell.place, f"{message}; both are kept in extra"))

    def _unknown(self, role: Role, row: list[str], line: int) -> None:
        """A row that nothing declared fits: kept, and told once a name."""
        key = role.key or "rows without a name"
        if key not in self._left:
            message = (
                f"nothing is known by the name {key!r}; its rows are kept in extra; see "
                "csv.rows, words.parameters, words.pairs and words.ends"
            )
            self._note(Fault(f"line {line}", message))
        named = {*self._columns.test, *self._columns.roles.positions}
        texts = [text for position, text in enumerate(row) if position not in named]
        self._left.setdefault(key, []).append(" ".join(text for text in texts if text.strip()))

    def _keep_unused(self, role: Role, row: list[str], taken: set[int]) -> None:
        """Keep what a row that is no point holds beside its figures."""
        columns = self._columns
        for position in (*columns.beside, columns.frequency, columns.value):
            if position not in taken and row[position].strip():
                key = f"{role.key}/{columns.titles[position]}"
                self._left.setdefault(key, []).append(row[position])

    def ends_open(self) -> None:
        """The file ends within the last row taken: the last number may have lost digits."""
        columns = self._columns
        if columns.value != len(columns.titles) - 1:
            return
        decimal = columns.meaning.numbers.notation.decimal
        for curve in self._curves.values():
            if curve.lines[-1:] == array("Q", [self.last]) and seems_cut(curve.value, decimal):
                self.fault(Fault(columns.place(self.last, columns.value), CUT))

    def finish(self, shared: RawTest) -> RawTest:
        """The whole test, with what the preamble says of every test of the file."""
        locator = self._take_in_columns()
        properties = self._properties
        for key, cell in shared.properties.items():
            if properties.setdefault(key, cell).text != cell.text:
                self._left.setdefault(f"{key} (whole file)", []).append(cell.text)
        return RawTest(
            locator=locator,
            properties=properties,
            curves=[
                self._raw_curve(name, curve) for name, curve in self._curves.items() if curve.lines
            ],
            figures=self._figures,
            extra={key: "\n".join(texts) for key, texts in self._left.items()},
            faults=[*shared.faults, *self.faults],
            notes=self._notes,
        )

    def _take_in_columns(self) -> str:
        """Make properties of constant columns; return the locator, with a key of no field in it."""
        columns = self._columns
        fields = columns.meaning.field_keys
        locator = f"lines {self.first}-{self.last}"
        for position, text in zip(columns.test, self.key, strict=True):
            title = columns.titles[position]
            if title in fields:
                self._put(title, Cell(text.strip(), columns.place(self.first, position)))
            else:
                locator = f"{title} {text.strip()}, {locator}"
        for kept in (*self._free.columns(), *self._beside.columns()):
            title, place = columns.titles[kept.at], columns.place(kept.line, kept.at)
            if len(kept.texts) == 1:
                self._put(title, Cell(kept.texts[0], place))
                continue
            self._left.setdefault(title, []).append(kept.rows)
            if title in fields:
                message = (
                    f"{kept.texts[0]!r} becomes {kept.texts[1]!r} within one test, and the column "
                    "fills a field; see csv.rows.test"
                )
                self.fault(Fault(place, message))
        return locator

    def _raw_curve(self, name: Name, curve: _Curve) -> RawCurve:
        columns, lines = self._columns, curve.lines
        return RawCurve(
            name,
            curve.frequency,
            curve.value,
            lambda position: columns.place(lines[position], columns.value),
            lambda position: columns.place(lines[position], columns.frequency),
        )
