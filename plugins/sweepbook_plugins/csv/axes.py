"""The frequencies of curves that stand in a row each: in titles, a row, a cell, or as a run."""

from collections.abc import Callable, Container, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import NamedTuple

from sweepbook.dialect import runs
from sweepbook.dialect.raw import Cell, Fault
from sweepbook.numerals import Notation, first_fault
from sweepbook.tokens import split
from sweepbook_plugins.csv.forms import CurveForm, Run
from sweepbook_plugins.csv.place import Place

MOST_POINTS = 1_000_000

_MOST_RUNS = 16
"""Runs that are kept, for rows that say the same."""


class Axis(NamedTuple):
    """Frequencies.

    Attributes:
        texts: n of them; "" where a column has none.
        place_of: place of the one at a position, for messages.
        called: what they are, for messages.
        width: cells that they stand in, blank ones at the end among them; 0 where no row has them.
        of_test: whether they stand in a row or line of their test, for its curves alone.
    """

    texts: Sequence[str]
    place_of: Callable[[int], str]
    called: str
    width: int = 0
    of_test: bool = False


class LongRun(ValueError):
    """A run has more frequencies than its row has values.

    Attributes:
        called: the run, for messages.
        count: how many frequencies it has.
    """

    def __init__(self, called: str, count: int) -> None:
        super().__init__(f"{called} has {count} frequencies")
        self.called = called
        self.count = count


class Line(NamedTuple):
    """A line of frequencies above the titles.

    Attributes:
        cells: its cells, stripped.
        number: its number.
        width: how many cells it has, blank ones at the end among them.
        start: position of the first frequency; 0 where no dialect says it.
    """

    cells: Sequence[str]
    number: int
    width: int
    start: int = 0


@dataclass
class Outside:
    """What the lines above a table say of frequencies.

    Attributes:
        lines: lines of frequencies, by the text that they begin with.
        keys: texts by key.
        before: what stands above the first test, and counts for every one.
    """

    lines: dict[str, Line] = field(default_factory=dict)
    keys: Mapping[str, Cell] = field(default_factory=dict)
    before: "Outside | None" = None

    def line(self, mark: str) -> Line | None:
        """The line that begins so."""
        return self.lines.get(mark) or (self.before.line(mark) if self.before else None)

    def key(self, key: str) -> Cell | None:
        """The text of a key."""
        return self.keys.get(key) or (self.before.key(key) if self.before else None)


def in_titles(form: CurveForm, place: Place, notation: Notation) -> dict[int, str]:
    """The frequency of each column whose title is one, by position."""
    found = {}
    plain = _plain(place.titles, notation) if form.frequency_titles[:1] == (("", ""),) else ()
    for at, title in enumerate(place.titles):
        if at in plain:
            found[at] = title
        elif (text := frequency_of(title, form, notation)) is not None:
            found[at] = text
    return found


def frequency_of(title: str, form: CurveForm, notation: Notation) -> str | None:
    """The frequency that a title holds; None where it is no title of values."""
    for before, after in form.frequency_titles:
        text = title[len(before) : len(title) - len(after)].strip()
        framed = title.startswith(before) and title.endswith(after)
        if framed and _is_number(text, notation):
            return text
    return None


def of_line(
    line: Line, start: int, form: CurveForm, notation: Notation, *, of_test: bool = False
) -> Axis:
    """The frequencies of a line above the titles.

    They stand where the dialect says that they begin; else over the columns of the values, or right
    behind what the line begins with.

    Args:
        line: the line.
        start: position of the first value in a row.
        form: how curves are written.
        notation: how numbers are written.
        of_test: whether it stands among the lines of the test.
    """
    texts = [piece for cell in line.cells[line.start or 1 :] for piece in pieces(cell, form)]
    while texts and not texts[-1]:
        texts.pop()
    place_of, called = _numbered(f"line {line.number}"), f"the line {line.number}"
    if line.start:
        return Axis(texts, place_of, called, line.width - line.start)
    first = next((at for at, text in enumerate(texts) if _is_number(text, notation)), 0)
    if not form.separator and first + 1 >= start:
        first = start - 1
    return Axis(texts[first:], place_of, called, line.width - 1 - first, of_test)


def of_cells(cells: Sequence[str], line: int, form: CurveForm) -> Axis:
    """The frequencies of a row of them, or of a cell with a list.

    Args:
        cells: the cells where the values of a curve stand.
        line: number of the line.
        form: how curves are written.
    """
    texts = [piece for cell in cells for piece in pieces(cell, form)]
    while texts and not texts[-1] and not form.frequency_titles:
        texts.pop()
    called = f"the row of frequencies in line {line}"
    return Axis(texts, _numbered(f"line {line}"), called, len(cells))


def pieces(cell: str, form: CurveForm) -> Sequence[str]:
    """What stands in a cell: one text, or a list."""
    return split(cell, form.separator) if form.separator else [cell.strip()]


class Runs:
    """Frequencies in even steps.

    Args:
        run: titles of columns or keys.
        place: where the table stands.
        outside: the keys above it.
        notation: how numbers are written.
    """

    def __init__(self, run: Run, place: Place, outside: Outside, notation: Notation) -> None:
        self._run = run
        self._place = place
        self._outside = outside
        self._notation = notation
        self._known: dict[tuple[str, ...], list[str]] = {}

    def axis(self, row: Sequence[str], values: int, line: int) -> Axis:
        """The frequencies of a row; rows that say the same have the same list.

        Args:
            row: its cells.
            values: how many values it has.
            line: number of the line.

        Raises:
            Fault: what should be a number is none.
            LongRun: it has more frequencies than there are values; it is not expanded.
        """
        run = self._run
        said = (run.start, run.step, run.count or run.stop)
        key = tuple(self._text(of, row, line) if of else str(values) for of in said)
        called = f"the run of {' and '.join(repr(of) for of in said if of)}"
        if key not in self._known:
            try:
                start, step, count = self._numbers(*key)
            except ValueError as error:
                place = f"{self._place.section.where}.rows.curve.run"
                raise Fault(f"line {line}", f"{error}; see {place}") from error
            if count > values:
                raise LongRun(called, count)
            if len(self._known) == _MOST_RUNS:
                self._known.clear()
            self._known[key] = list(runs.texts(start, step, count, self._notation.decimal))
        return Axis(self._known[key], _numbered(f"line {line}"), called)

    def _numbers(self, first: str, each: str, end: str) -> tuple[Decimal, Decimal, int]:
        """Start, step and count of a run."""
        start = runs.number(first, "start", self._notation)
        step = runs.rising(runs.number(each, "step", self._notation))
        if not self._run.stop:
            return start, step, runs.count(end)
        stop = runs.number(end, "stop", self._notation)
        count = runs.count_to(start, step, stop)
        if count > MOST_POINTS:
            raise ValueError(f"the run has more than {MOST_POINTS:,} frequencies")
        return start, step, count

    def _text(self, of: str, row: Sequence[str], line: int) -> str:
        """The text of a column or key."""
        if of in self._place.titles:
            return row[self._place.titles.index(of)].strip()
        cell = self._outside.key(of)
        if cell is None:
            where = f"{self._place.section.where}.rows.curve.run"
            message = f"no column and no key above the table is called {of!r}; see {where}"
            raise Fault(f"line {line}", message)
        return cell.text


def _plain(titles: Sequence[str], notation: Notation) -> Container[int]:
    """Positions of titles that are certainly numbers: there may be some thousand of them."""
    from sweepbook import bulk_numbers

    lines = "\n".join(title or "?" for title in titles).encode("utf-8", "surrogatepass")
    read = bulk_numbers.read([lines], notation.decimal, b"\n")
    if read is None:
        return ()
    odd = (at for of in read[0].odd for at in range(of.first, of.last + 1))
    return set(range(len(titles))).difference(odd)


def _is_number(text: str, notation: Notation) -> bool:
    return text != "" and first_fault([text], notation) == 1


def _numbered(place: str) -> Callable[[int], str]:
    return lambda at: f"{place}, frequency {at + 1}"
