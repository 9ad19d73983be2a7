"""Rows with a whole curve each, beside rows with figures and texts about the test."""

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, NamedTuple

from sweepbook import bulk_numbers
from sweepbook.dialect.raw import Fault, Name, RawCurve
from sweepbook.tokens import Tokens, read_ahead
from sweepbook_plugins.csv import axes, front
from sweepbook_plugins.csv.axes import Axis
from sweepbook_plugins.csv.lines import CUT, seems_cut
from sweepbook_plugins.csv.names import listed
from sweepbook_plugins.csv.points import RowTable
from sweepbook_plugins.csv.roles import Texts
from sweepbook_plugins.csv.rows import Row, Rows, padded
from sweepbook_plugins.csv.wide import WideRow

if TYPE_CHECKING:
    from sweepbook_plugins.csv.curve_columns import CurveRowColumns

_BLANKS = b" \t\v\f\r\x1c\x1d\x1e\x1f"
_HALVES = (
    "all values are whole numbers, as if the decimal mark parted values as well, so that where one "
    "ends cannot be told; export with another mark between values"
)


class _Whole(NamedTuple):
    """A curve as it stands in a row.

    Attributes:
        name: what it is of.
        cells: n texts.
        own: its frequencies, where the row names them.
        line: number of the row.
        above: the frequencies of a line above it.
        rank: how many rows of frequencies stood above it.
        blank: whether any of the texts is.
    """

    name: Name
    cells: Sequence[str]
    own: Axis | None
    above: Axis | None
    line: int
    rank: int
    blank: bool


class CurveRowTable(RowTable):
    """The rows of one test, with a curve each."""

    def __init__(self, columns: "CurveRowColumns", key: Texts, line: int) -> None:
        super().__init__(columns, key, line)
        self._of = columns
        self._whole: list[_Whole] = []
        self._axes: list[Axis] = []
        self._shorter: dict[tuple[int, ...], Axis] = {}
        self._holes = 0
        if strays := columns.strays():
            message = (
                f"{listed(strays)} stand{'s' if len(strays) == 1 else ''} among titles that are "
                "frequencies and cannot be read as one; what is below is kept in extra; see "
                f"{columns.place.section.where}.rows.curve.values and numbers.decimal"
            )
            self._findings.note(Fault(f"line {columns.place.line}", message))

    def take(self, row: Row, line: int) -> None:
        """Take a row."""
        columns = self._of
        self.last = line
        if columns.is_axis(row):
            found = axes.of_cells(columns.cells(row), line, columns.curve)
            self._axes.append(found._replace(of_test=True))
            return
        if columns.free:
            self._kept.free.take(row, line)
        values = self._values(row)
        row = padded(row, len(columns.place.titles))
        role = columns.roles.of(columns.roles.naming(row), row)
        decimal = columns.notation.decimal
        kept, blank = stripped(values, decimal) if role.curve else ((), False)
        if role.curve and kept and not (blank and not any(kept)):
            try:
                self._no_untitled(row, line)
                own = columns.axis(row, kept, line)
                above, rank = columns.shared, len(self._axes)
                self._whole.append(_Whole(role.curve, kept, own, above, line, rank, blank))
            except axes.LongRun as run:
                message = self._other_length(role.curve, kept, run.called, run.count)
                self._findings.fault(Fault(f"line {line}", message))
            except Fault as fault:
                self._findings.fault(fault)
            taken = self._take_figures(role, row, line, columns.is_value)
            self._keep_unused(role, row, taken)
        else:
            self._other(role, row, line)

    def _no_untitled(self, row: Row, line: int) -> None:
        """Look for values below blank titles.

        Raises:
            Fault: there is one: a frequency may be lacking above it, or all may have moved to it.
        """
        place = self._of.place
        for at in self._of.untitled:
            if row[at].strip():
                message = (
                    f"cell {at + 1} holds {row[at].strip()!r:.60} where the titles, among or "
                    "behind those of frequencies, have a blank one; mend the titles or the line, "
                    f"or export it again; see {place.section.where}.rows.curve.values"
                )
                raise Fault(f"line {line}", message)

    def _values(self, row: Row) -> Row:
        columns, cells = self._of, self._of.cells(row)
        if columns.curve.separator:
            return axes.pieces(cells[0], columns.curve)
        return without_end(cells) if columns.curve.run or columns.list_at >= 0 else cells

    def take_run(self, rows: Rows, line: int) -> None:
        """Take rows one after another."""
        for number, row in enumerate(rows, line):
            self.take(row, number)

    def ends_open(self) -> None:
        """The file ends within the last row taken: values of it may be lost."""
        if not self._whole or self._whole[-1].line != self.last:
            return
        *others, last = self._whole
        place = f"line {self.last}"
        if last.cells[-1] and seems_cut(last.cells, self._of.notation.decimal):
            self.fault(Fault(place, CUT))
        widths = {len(without_end([*of.cells])) for of in others}
        width = len(without_end([*last.cells]))
        if width not in widths and width < max(widths, default=0):
            message = "the file ends within this row, which has fewer values than every other one"
            self.fault(Fault(place, f"{message}; export it again"))

    def _raw_curves(self) -> list[RawCurve]:
        found = []
        read_ahead((whole.cells for whole in self._whole), self._of.notation.decimal)
        over: list[tuple[Axis, _Whole]] = []
        for whole in self._whole:
            try:
                over.append((self._axis_of(whole), whole))
            except Fault as fault:
                self._findings.fault(fault)
        refused = self._begin_otherwise(over)
        self._findings.faults += refused.values()
        for axis, whole in over:
            if id(axis.texts) in refused:
                continue
            try:
                found.append(self._curve(whole, axis))
            except Fault as fault:
                self._findings.fault(fault)
        if self._holes:
            message = (
                f"{self._holes} curve{'s' if self._holes > 1 else ''} of this test have blank "
                'cells between values, which are no points; add "" to numbers.missing if they are '
                "gaps"
            )
            self._findings.note(Fault(f"line {self.first}", message))
        return found

    def _begin_otherwise(self, over: Sequence[tuple[Axis, _Whole]]) -> dict[int, Fault]:
        """What to say of rows and lines of frequencies that seem to begin further right."""
        columns = self._of
        if not (columns.endless and columns.curve.frequency):
            return {}
        sized = [(axis, len(whole.cells)) for axis, whole in over if whole.own is None]
        where = f"{columns.place.section.where}.rows.curve"
        try:
            return front.refused(sized, columns.meaning.numbers, where)
        except Fault as fault:
            self._findings.fault(fault)
            return {}

    def _curve(self, whole: _Whole, axis: Axis) -> RawCurve:
        """A row as a curve.

        Raises:
            Fault: it has not as many frequencies as values.
        """
        texts, count = whole.cells, len(axis.texts)
        if len(texts) > count and not any(texts[count:]):
            texts = texts[:count]
        if len(texts) > count or self._ends_short(whole, axis):
            message = self._other_length(whole.name, whole.cells, axis.called, count)
            raise Fault(f"line {whole.line}", message)
        at: Sequence[int] = range(len(texts))
        if whole.blank or len(texts) < count:
            texts, axis, at = self._without_blanks(texts, axis)
            if self._of.comma and len(texts) > 1 and _are_halves(texts):
                raise Fault(f"line {whole.line}", _HALVES)
        return RawCurve(
            whole.name, axis.texts, texts, self._place_of(whole.line, at), axis.place_of
        )

    def _ends_short(self, whole: _Whole, axis: Axis) -> bool:
        """Whether a curve ends before its frequencies though none of them is left blank.

        A row that lost a cell further left ends early, too, and may end in a blank cell that
        every other row has behind its values.
        """
        columns, texts, count = self._of, whole.cells, len(axis.texts)
        if whole.own is not None or not columns.endless:
            return len(texts) < count
        if columns.curve.ends_early:
            return False
        width = max(len(columns.place.titles) - columns.start, axis.width, count)
        return len(texts) < width and not any(texts[count - 1 :])

    def _axis_of(self, whole: _Whole) -> Axis:
        """The frequencies of a row: its own, those above, or of the first row also those below.

        Raises:
            Fault: there are none.
        """
        if whole.own is not None:
            return whole.own
        if self._axes:
            return self._axes[max(0, whole.rank - 1)]
        if shared := whole.above or self._of.shared:
            return shared
        columns = self._of
        raise Fault(
            f"line {whole.line}",
            f"the curve '{whole.name}' has no frequencies: no column, row or line above is called "
            f"{columns.curve.frequency!r}; see {columns.place.section.where}.rows.curve.frequency",
        )

    def _without_blanks(
        self, texts: Sequence[str], axis: Axis
    ) -> tuple[list[str], Axis, Sequence[int]]:
        """Values, frequencies and positions without blank cells, which are no points."""
        filled = [at for at, text in enumerate(texts) if text]
        first, last = filled[0], filled[-1]
        if len(filled) < last - first + 1:
            if "" in self._of.meaning.numbers.missing:
                filled = list(range(first, last + 1))
            else:
                self._holes += 1
        key = (id(axis.texts), *filled)
        if key not in self._shorter:
            some = [axis.texts[at] for at in filled]
            where = list(filled)
            self._shorter[key] = Axis(some, lambda at: axis.place_of(where[at]), axis.called)
        return [texts[at] for at in filled], self._shorter[key], filled

    def _place_of(self, line: int, at: Sequence[int]) -> Callable[[int], str]:
        columns = self._of
        if columns.titled:
            titled = columns.titled_at
            return lambda point: columns.place.cell(line, titled[at[point]])
        return lambda point: f"line {line}, value {at[point] + 1}"

    def _other_length(self, name: Name, cells: Sequence[str], called: str, count: int) -> str:
        columns = self._of
        where = f"{columns.place.section.where}.rows.curve"
        message = (
            f"the curve '{name}' has {len(cells)} values where {called} has {count} frequencies; "
            f"the first values read are {', '.join(map(repr, cells[:3]))}"
        )
        if len(cells) == 2 * count and _are_halves(cells):
            message += f"; {_HALVES}"
        if len(cells) <= count and columns.endless and not columns.curve.run:
            message += "; if the other curves have all of them, export again, since a value is lost"
            message += f"; only if curves of this make end before the last, see {where}.ends_early"
        see = "separator" if columns.curve.separator else "values"
        return (
            f"{message}; see {where}.{see}, {where}.{'run' if columns.curve.run else 'frequency'}"
        )


def stripped(cells: Sequence[str], decimal: str) -> tuple[Sequence[str], bool]:
    """Cells without blanks around them, at least one, and whether any is blank.

    They are looked at together: there may be some thousand in each row. Most are numbers, and these
    are read at once: none of them is blank, nor has a blank in it.

    Args:
        cells: the cells.
        decimal: the decimal mark.
    """
    if not cells:
        return (), False
    if isinstance(cells, WideRow) and (quick := _kept(cells, decimal)):
        return quick, False
    raw = "\n".join(cells).encode("utf-8", "surrogatepass")
    read = bulk_numbers.read([raw], decimal, b"\n")
    if read and all(of.text == of.text.strip() for of in read[0].odd):
        kept = Tokens(raw)
        kept.take(decimal, read[0])
        return kept, False
    if not raw.isascii() or raw.translate(None, _BLANKS) != raw:
        raw = "\n".join(cell.strip() for cell in cells).encode("utf-8", "surrogatepass")
    blank = b"\n\n" in raw or raw.startswith(b"\n") or raw.endswith(b"\n") or not raw
    return Tokens(raw), blank


def _kept(cells: WideRow, decimal: str) -> Tokens | None:
    """Cells as they stand there; None where one is blank, or may have blanks around it."""
    raw = cells.raw
    if cells.any_empty or not raw.isascii() or any(map(raw.__contains__, _BLANKS)):
        return None
    return None if cells.delimiter == decimal else Tokens(raw, cells.delimiter.encode(), len(cells))


def without_end(cells: Row) -> Row:
    """Cells without blank ones behind the last that is filled."""
    end = len(cells)
    while end and not cells[end - 1].strip():
        end -= 1
    return cells[:end] if end < len(cells) else cells


def _are_halves(cells: Sequence[str]) -> bool:
    """Whether all texts are whole numbers."""
    return all(cell.strip().lstrip("+-").isdecimal() for cell in cells)
