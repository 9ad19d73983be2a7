"""One column a curve: the rows below a line of titles become curves over one axis."""

from collections.abc import Sequence
from functools import cached_property

from sweepbook.columns import Column
from sweepbook.dialect.parameters import can_be_swept
from sweepbook.dialect.raw import Cell, Fault, Name, RawCurve, RawTest
from sweepbook_plugins.csv.forms import CurvesForm, present
from sweepbook_plugins.csv.grid import MOST_ROWS, begins_number
from sweepbook_plugins.csv.keys import MOST_STRAY, Findings, TooManyLines
from sweepbook_plugins.csv.line_numbers import LineNumbers
from sweepbook_plugins.csv.lines import CUT, seems_cut
from sweepbook_plugins.csv.names import Names, listed
from sweepbook_plugins.csv.place import Place
from sweepbook_plugins.csv.roles import Texts, getter
from sweepbook_plugins.csv.rows import Positions, Rows


class CurveColumns:
    """The columns of a table with one column a curve."""

    least = -1
    endless = False

    def __init__(self, form: CurvesForm, place: Place, names: Names) -> None:
        self.place = place
        self.form = form
        self.meaning = names.meaning
        self.frequency = present(form.frequency, place.titles)
        self.test = [place.titles.index(title) for title in form.test]
        self.run_positions = tuple(self.test)
        self.key_of = getter(self.test)
        self._names = names
        others = names.texts(form.other_columns) if form.other_columns else frozenset()
        self.others = others - {""}
        self._no_numbers = names.meaning.numbers.missing | form.other_rows

    @cached_property
    def named(self) -> dict[int, Name]:
        """Name of each curve by the position of its column.

        A column that `figures` names and that no sweep can be, such as a length repeated in each
        row of a test, is none.
        """
        place, single = self.place, self.meaning.figure_keys if self.test else {}
        found = {}
        for position, title in enumerate(place.titles):
            if position == self.frequency or position in self.test:
                continue
            name = self._names.name(place, (self.form.name,), (title,))
            if name is not None and (title not in single or can_be_swept(name.parameter)):
                found[position] = name
        return found

    @cached_property
    def numbers(self) -> Positions:
        """Positions of the frequencies and of the values of each curve."""
        return tuple(sorted((self.frequency, *self.named)))

    def open(self, key: Texts, line: int) -> "CurveTable":
        """A table for one test."""
        return CurveTable(self, key, line)

    def aside(self, row: Sequence[str], line: int) -> bool:
        """Whether a row is of no test; there are no such rows here."""
        del row, line
        return False

    def fits(self, cells: Sequence[str]) -> bool:
        """Whether a line can be a row: something like a number stands where the frequency does."""
        text = cells[self.frequency] if len(cells) > self.frequency else ""
        return begins_number(text) or (text != "" and text in self._no_numbers)

    def left_over(self, titles: Sequence[str]) -> str:
        """What to say of columns that are no known curves."""
        where = f"{self.place.section.where}.curves.name"
        near = next(filter(None, (self._names.near(of, self.form.name) for of in titles)), "")
        above = ", ".join(map(repr, self.place.texts))
        under = f" under the heading {above}" if above else ""
        return (
            f"no curve is known by the title {listed(titles)}{under}; the column is kept in extra"
            f"{near}; see {where}, words.parameters, words.pairs and words.ends"
        )


class CurveTable:
    """Rows of equal width with their line numbers."""

    def __init__(self, columns: CurveColumns, key: Texts, line: int) -> None:
        self.key = key
        self.first = self.last = line
        self._columns = columns
        self._parts: list[Rows] = []
        self._single: list[list[str]] = []
        self._lines = LineNumbers()
        self._findings = Findings()
        self._open_end = False
        self._odd = 0
        self._aside: dict[str, list[str]] = {}

    def take(self, row: list[str], line: int) -> None:
        """Take a row as wide as the titles.

        Raises:
            TooManyLines: there are far too many, or far too many that are no rows of numbers.
        """
        self.last = line
        form = self._columns.form
        if form.other_rows and (text := row[self._columns.frequency].strip()) in form.other_rows:
            self._aside.setdefault(text, []).append(" ".join(filter(None, map(str.strip, row))))
        elif len(self._lines) < MOST_ROWS:
            if not self._single:
                self._parts.append(Rows(self._single))
            self._single.append(row)
            self._lines.add(line)
            self._count_odd(row[self._columns.frequency], line)
        else:
            raise TooManyLines(line, f"there are more than {MOST_ROWS:,} rows", "csv.test")

    def _count_odd(self, frequency: str, line: int) -> None:
        """Count a row whose frequency is no number, or one below 0."""
        text = frequency.strip()
        if begins_number(text) and not text.startswith("-"):
            return
        self._odd += 1
        if self._odd > MOST_STRAY:
            what = f"more than {MOST_STRAY:,} rows hold no number where a frequency was expected"
            raise TooManyLines(line, what, "csv.test and csv.skip")

    def take_run(self, rows: Rows, line: int) -> None:
        """Take rows one after another of this test."""
        if not self._columns.form.other_rows and len(self._lines) + len(rows) <= MOST_ROWS:
            self._parts.append(rows)
            self._single = []
            self._lines.add(line, len(rows))
            self.last = max(self.last, line + len(rows) - 1)
            return
        for number, row in enumerate(rows, line):
            self.take(row, number)

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
        if not self._lines:
            return part
        decimal = columns.meaning.numbers.notation.decimal
        last = len(columns.place.titles) - 1
        if self._open_end and last in columns.named and seems_cut(self._column(last), decimal):
            place = columns.place.cell(self._lines[len(self._lines) - 1], last)
            part.faults.append(Fault(place, CUT))
        axis = self._column(columns.frequency)
        unknown = []
        for position, title in enumerate(columns.place.titles):
            name = columns.named.get(position)
            if name is not None:
                part.curves.append(self._curve(name, position, axis))
            elif position == columns.frequency:
                part.extra |= {} if columns.named else {title: "\n".join(axis)}
            elif not self._about(part, position, self._column(position)):
                unknown.append(title)
        unknown = list(filter(None, unknown))
        if unknown:
            place = f"line {columns.place.line or self._lines[0]}"
            part.notes.append(Fault(place, columns.left_over(unknown)))
        return part

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
        key = title if title not in part.extra else f"{title} ({len(part.extra) + 1})"
        part.extra[key] = "\n".join(texts)
        if fills and len(distinct) > 1:
            at = next(at for at, text in enumerate(texts) if text.strip() == distinct[1])
            message = f"{distinct[0]!r} becomes {distinct[1]!r} within one test, and the column "
            place = columns.place.cell(self._lines[at], position)
            part.faults.append(Fault(place, f"{message}fills a field; see csv.curves.test"))
        return title in columns.others

    def _column(self, position: int) -> Column:
        """The cells at a position."""
        numbers = self._columns.numbers
        return Column(rows.column(position, numbers) for rows in self._parts)

    def _curve(self, name: Name, position: int, axis: Column) -> RawCurve:
        """A column as a curve over the axis of its table."""
        place, lines, frequency = self._columns.place, self._lines, self._columns.frequency
        return RawCurve(
            name,
            axis,
            self._column(position),
            lambda at: place.cell(lines[at], position),
            lambda at: place.cell(lines[at], frequency),
        )
