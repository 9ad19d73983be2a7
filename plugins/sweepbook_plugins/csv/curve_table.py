"""Rows below titles that are curves: points of all of them, or what is stated of each."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from sweepbook.columns import Column
from sweepbook.dialect.raw import Cell, Fault, Name, RawCurve, RawFigure, RawTest
from sweepbook_plugins.csv.axis_columns import may_be_axis
from sweepbook_plugins.csv.grid import MOST_ROWS
from sweepbook_plugins.csv.kept import becomes
from sweepbook_plugins.csv.keys import MOST_STRAY, Findings, TooManyLines
from sweepbook_plugins.csv.line_numbers import LineNumbers
from sweepbook_plugins.csv.lines import CUT, seems_cut
from sweepbook_plugins.csv.place import Place
from sweepbook_plugins.csv.roles import Texts
from sweepbook_plugins.csv.row_ends import RowEnds
from sweepbook_plugins.csv.rows import DIGITS, Row, Rows

if TYPE_CHECKING:
    from sweepbook_plugins.csv.curves import CurveColumns


@dataclass(frozen=True, slots=True)
class _Axis:
    """Frequencies of some curves.

    Attributes:
        position: of their column.
        texts: n of them.
        rows: positions of the rows that have one; None where all have.
    """

    position: int
    texts: Sequence[str]
    rows: Sequence[int] | None


@dataclass(frozen=True, slots=True)
class _Cells:
    """Places of the cells of a curve.

    Attributes:
        place: of its table.
        lines: numbers of the rows of the table.
        rows: positions of the rows that are points of the curve.
        position: of the cell in each.
    """

    place: Place
    lines: LineNumbers
    rows: Sequence[int]
    position: int

    def __call__(self, point: int) -> str:
        """The place of one point, for messages."""
        return self.place.cell(self.lines[self.rows[point]], self.position)


class CurveTable:
    """Rows of equal width with their line numbers."""

    def __init__(self, columns: "CurveColumns", key: Texts, line: int) -> None:
        self.key = key
        self.first = self.last = line
        self.ends = RowEnds(columns.place)
        self._columns = columns
        self._parts: list[Rows] = []
        self._single: list[Row] = []
        self._lines = LineNumbers()
        self._findings = Findings()
        self._open_end = False
        self._odd = 0
        self._aside: dict[str, list[str]] = {}
        self._stated: list[RawFigure] = []

    def take(self, row: Row, line: int) -> None:
        """Take a row as wide as the titles.

        Raises:
            TooManyLines: there are far too many, or far too many that are no rows of numbers.
        """
        self.last = line
        columns, text = self._columns, row[self._columns.frequency].strip()
        if text in columns.form.no_points and not columns.is_point(row):
            self._no_point(text, row, line)
        elif len(self._lines) < MOST_ROWS:
            if not self._single:
                self._parts.append(Rows(self._single))
            self._single.append([*row])
            self._lines.add(line)
            self._count_odd(row, line)
        else:
            raise TooManyLines(line, f"there are more than {MOST_ROWS:,} rows", "csv.test")

    def _no_point(self, text: str, row: Row, line: int) -> None:
        """A row that states something of each curve, or one that is kept as it is."""
        columns = self._columns
        role = columns.form.role_of.get(text)
        if role is None:
            self._aside.setdefault(text, []).append(" ".join(filter(None, map(str.strip, row))))
            return
        for position, cell in enumerate(map(str.strip, row)):
            title = columns.place.titles[position]
            name = columns.named.get(position)
            if name is not None and cell:
                place = columns.place.cell(line, position)
                self._stated.append(RawFigure(name, role, Cell(cell, place)))
            elif cell and cell != text and title not in columns.told_elsewhere:
                self._aside.setdefault(f"{text}/{title}", []).append(cell)

    def _count_odd(self, row: Row, line: int) -> None:
        """Count a row whose frequency is no number, or one below 0."""
        if self._columns.is_point(row) and row[self._columns.frequency].lstrip()[:1] != "-":
            return
        self._odd += 1
        if self._odd > MOST_STRAY:
            what = f"more than {MOST_STRAY:,} rows hold no number where a frequency was expected"
            raise TooManyLines(line, what, "csv.test and csv.skip")

    def take_run(self, rows: Rows, line: int) -> None:
        """Take rows one after another of this test."""
        columns, start = self._columns, 0
        width, axis = len(columns.place.titles), columns.frequency
        while start < len(rows):
            end = start
            if not columns.form.no_points:
                end = len(rows)
            elif rows[start][axis][:1] in DIGITS:
                end = rows.run_end(start, width, axis, ())
            if end == start or len(self._lines) + end - start > MOST_ROWS:
                self.take(rows[start], line + start)
                start += 1
                continue
            self._parts.append(rows[start:end])
            self._single = []
            self._lines.add(line + start, end - start)
            self.last = max(self.last, line + end - 1)
            start = end

    def fault(self, fault: Fault) -> None:
        """Note what loses the test."""
        self._findings.fault(fault)

    def ends_open(self) -> None:
        """The file ends within the last row taken: its last number may have lost digits."""
        self._open_end = True

    def part(self) -> RawTest:
        """The curves, and what the other columns hold."""
        columns, part = self._columns, RawTest(self._locator(), faults=self._findings.faults)
        part.extra |= {key: "\n".join(rows) for key, rows in self._aside.items()}
        part.figures += self._stated
        if not self._lines:
            return part
        self._look_for_a_cut(part)
        axes = {at: self._axis(at) for at in columns.axes.positions}
        unknown: list[int] = []
        rising: list[int] = []
        used = set[int]()
        for position in range(columns.place.first, len(columns.place.titles)):
            name = columns.named.get(position)
            if name is not None:
                at = columns.axes.of(position, name)
                used.add(at)
                doubtful = None
                if rising:
                    between = columns.axes.by_place(position, name)
                    doubtful = next((of for of in rising if of in between), None)
                if doubtful is None:
                    self._take_curve(part, name, position, axes.get(at))
                else:
                    part.faults.append(self._doubt(position, axes[at], doubtful))
            elif position not in axes and not self._about(part, position, self._column(position)):
                unknown.append(position)
                rising += [position] if self._may_be_axis(position) else []
        for at in sorted(axes.keys() - used):
            self._keep(part, columns.place.titles[at], axes[at].texts)
        titles = [columns.place.titles[at] for at in unknown]
        if titles:
            place = f"line {columns.place.line or self._lines[0]}"
            part.notes.append(Fault(place, columns.left_over(titles)))
        return part

    def _may_be_axis(self, position: int) -> bool:
        """Whether a column that nothing names may hold frequencies of other curves."""
        columns = self._columns
        known = frozenset[str]() if columns.axes.several else self._frequencies
        texts = list(filter(None, map(str.strip, self._column(position))))
        title, notation = columns.place.titles[position], columns.meaning.numbers.notation
        return may_be_axis(title, texts, known, notation)

    @cached_property
    def _frequencies(self) -> frozenset[str]:
        """The texts of the first column of frequencies."""
        return frozenset(map(str.strip, self._column(self._columns.frequency)))

    def _doubt(self, position: int, axis: _Axis, doubtful: int) -> Fault:
        """The fault of a curve whose frequencies may stand in a column that nothing names."""
        place, where = self._columns.place, f"{self._columns.place.section.where}.curves"
        return Fault(
            place.cell(place.line or self._lines[0], position),
            f"whether the frequencies of this curve stand under {place.titles[axis.position]!r} "
            f"or under {place.titles[doubtful]!r}, which nothing names and which rises too, "
            f"cannot be told; name the second in {where}.frequency, or in {where}.other_columns",
        )

    def _look_for_a_cut(self, part: RawTest) -> None:
        """Look at the last number of a file that ends within its last row."""
        columns = self._columns
        last = len(columns.place.titles) - 1
        if not self._open_end or last not in columns.named:
            return
        texts = self._column(last)
        ended = not columns.axes.alone and not texts[len(texts) - 1].strip()
        if not ended and seems_cut(texts, columns.meaning.numbers.notation.decimal):
            place = columns.place.cell(self._lines[len(self._lines) - 1], last)
            part.faults.append(Fault(place, CUT))

    def _locator(self) -> str:
        """Where the rows stand, with the cells that tell the test apart and fill no field."""
        columns, locator = self._columns, f"lines {self.first}-{self.last}"
        for position, text in zip(columns.test, self.key, strict=True):
            title = columns.place.titles[position]
            if title not in columns.meaning.field_keys:
                locator = f"{title} {text.strip()}, {locator}"
        return locator

    def _about(self, part: RawTest, position: int, texts: Sequence[str]) -> bool:
        """Take a column that is no curve; False where a user should hear of it."""
        columns = self._columns
        title = columns.place.titles[position]
        distinct = list(dict.fromkeys(text.strip() for text in texts if text.strip()))
        fills = title in columns.meaning.field_keys and title not in columns.others
        if position in columns.test and not fills:
            return True
        if len(distinct) == 1 and (fills or columns.test):
            place = columns.place.cell(self._lines[0], position)
            part.properties[title] = Cell(distinct[0], place)
            return True
        if not title and not distinct:
            return True
        self._keep(part, title, texts)
        if fills and len(distinct) > 1:
            at = next(at for at, text in enumerate(texts) if text.strip() == distinct[1])
            place = columns.place.cell(self._lines[at], position)
            message = becomes(distinct, title, columns.place, "curves")
            part.faults.append(Fault(place, message))
        return title in columns.others

    def _keep(self, part: RawTest, title: str, texts: Sequence[str]) -> None:
        key = title if title not in part.extra else f"{title} ({len(part.extra) + 1})"
        part.extra[key] = "\n".join(texts)

    def _column(self, position: int) -> Column:
        """The cells at a position."""
        numbers = self._columns.numbers
        return Column(rows.column(position, numbers) for rows in self._parts)

    def _axis(self, position: int) -> _Axis:
        """The frequencies in a column; of several columns one may end before others do."""
        texts = self._column(position)
        if self._columns.axes.alone:
            return _Axis(position, texts, None)
        rows = [at for at, text in enumerate(texts) if text.strip()]
        if len(rows) == len(texts):
            return _Axis(position, texts, None)
        return _Axis(position, texts.some(rows), rows)

    def _take_curve(self, part: RawTest, name: Name, position: int, axis: _Axis | None) -> None:
        """Take a column as a curve over its frequencies."""
        place, lines, texts = self._columns.place, self._lines, self._column(position)
        where = f"{place.section.where}.curves.frequency"
        if axis is None:
            message = (
                f"no column of frequencies stands to the left of the curve '{name}', or is named "
                f"like it; see {where}"
            )
            part.faults.append(Fault(place.cell(place.line or lines[0], position), message))
            return
        at = axis.rows
        if at is None:
            at = range(len(texts))
        else:
            without = set(range(len(texts))).difference(at)
            stray = next((row for row in sorted(without) if texts[row].strip()), None)
            if stray is not None:
                message = (
                    f"{texts[stray].strip()!r:.60} stands beside a blank cell of the column of "
                    f"frequencies {place.titles[axis.position]!r}, cell {axis.position + 1} of the "
                    f"line; see {where}"
                )
                part.faults.append(Fault(place.cell(lines[stray], position), message))
                return
        if not at:
            message = f"the curve '{name}' has no point here: all its cells are blank"
            part.notes.append(Fault(place.cell(place.line or lines[0], position), message))
            return
        values = texts if axis.rows is None else texts.some(at)
        of_value, of_axis = (
            _Cells(place, lines, at, position),
            _Cells(place, lines, at, axis.position),
        )
        part.curves.append(RawCurve(name, axis.texts, values, of_value, of_axis))
