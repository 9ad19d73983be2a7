"""A table with a whole curve in each row: its curves, and the dialect's lines for it."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby, pairwise

from sweepbook.dialect.parameters import can_be_swept
from sweepbook.draft import phrases
from sweepbook.draft.document import ASSUMED, FOUND, Line, Note, Table, one_of
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.legend import NOTHING, Legend
from sweepbook.draft.numbers import is_frequency, is_numeric
from sweepbook.draft.reading import Understood
from sweepbook.draft.trade_words import LIMIT, MARGIN, VERDICT_KEYS
from sweepbook_plugins.csv.draft.figures import figure_tables
from sweepbook_plugins.csv.draft.rows import RowsTable
from sweepbook_plugins.csv.draft.text import Cells
from sweepbook_plugins.csv.draft.wide import Wide

AXIS, VALUE = "frequency", "value"
MOST_ROWS = 4_000
_POINTS = 24
_MOST_KINDS = 6
_BESIDE = (*LIMIT, *MARGIN)


class CurveRowsTable:
    """Such a table, looked at as if each point had a row of its own.

    Args:
        titles: of its columns.
        rows: its rows.
        wide: how curves are written.
        around: texts of headings above it, by slot.
        alone: whether the file holds no other kind of table.
        legend: what the file explains of pairs and ends.
        starts: positions of the rows with which each file begins, where several are put together.
        wides: how the curve of each row is written, where not all are as `wide` has it.
    """

    def __init__(
        self,
        titles: Sequence[str],
        rows: Sequence[Cells],
        wide: Wide,
        around: dict[str, str] | None = None,
        *,
        alone: bool = True,
        legend: Legend = NOTHING,
        starts: Sequence[int] = (0,),
        wides: Sequence[Wide] = (),
    ) -> None:
        self._wide = wide
        self._titles = titles
        self._head = [titles[at] for at in wide.head]
        self._kind = -1
        self._kinds: list[str] = []
        self._others: list[str] = []
        self._beside: dict[str, None] = {}
        self._rows: list[Cells] = []
        self._single: list[tuple[Cells, int]] = []
        self._files: list[int] = []
        self._find_kind([self._beside_curve(row) for row in rows[:MOST_ROWS]])
        points: list[Cells] = []
        begins: list[int] = []
        for file, (start, stop) in enumerate(pairwise((*starts, len(rows)))):
            begins.append(len(points))
            span = slice(start, min(stop, MOST_ROWS))
            for own, some in _alike(rows[span], wides[span], wide):
                points += self._points(some, own)
            self._files += [file] * (len(self._rows) - len(self._files))
        self.table = RowsTable(
            [AXIS, VALUE, *self._head],
            points,
            around or {},
            alone=alone,
            legend=legend,
            starts=[0, *(at for at in dict.fromkeys(begins) if 0 < at < len(points))],
        )
        self._set_kind()

    def _points(self, rows: Sequence[Cells], wide: Wide) -> Iterable[Cells]:
        """A row for some points of each curve: frequency, value, and what stands beside."""
        for row, frequencies, values in wide.points(rows):
            beside = self._beside_curve(row)
            if self._kind >= 0 and beside[self._kind] not in self._kinds:
                continue
            if others := [text for text in beside if _is_beside(text)]:
                self._beside |= dict.fromkeys(others)
                continue
            self._rows.append(beside)
            alone = wide.only(row)
            if alone is not None:
                self._single.append((beside, alone))
            step = max(1, (len(values) - 1) / (_POINTS - 1))
            some = sorted({round(step * n) for n in range(_POINTS)} & set(range(len(values))))
            for at in some:
                yield [frequencies[at], values[at], *beside]
            if not some:
                yield ["", "" if alone is None else row[alone], *beside]

    def _beside_curve(self, row: Cells) -> Cells:
        """What stands in a row beside its curve; blank where the row is short."""
        return [row[at] if at < len(row) else "" for at in self._wide.head]

    def _find_kind(self, head: Sequence[Cells]) -> None:
        """The column that tells rows of limits and margins from those of measurements."""
        for at, _ in enumerate(self._head):
            words = list(dict.fromkeys(row[at] for row in head if row[at]))
            others = [word for word in words if phrases.has(word, _BESIDE)]
            named = any(phrases.parameter_in(word) for word in words)
            if 1 < len(words) <= _MOST_KINDS and 0 < len(others) < len(words) and not named:
                self._kind, self._others = at, others
                self._kinds = [word for word in words if word not in others]
                return

    def _set_kind(self) -> None:
        if self._kind < 0:
            return
        roles, at = self.table.roles, self._kind + 2
        roles.kind = at
        roles.names = [one for one in roles.names if one != at]
        roles.free = [one for one in roles.free if one != at]
        self.table.kinds = self._kinds

    @property
    def names_of_columns(self) -> int:
        """How many columns name a row."""
        return self.table.names_of_columns

    def says_parameter(self, found: Understood) -> bool:
        """Whether a column says what is measured."""
        return self.table.says_parameter(found)

    def into(self, evidence: Evidence) -> None:
        """Hand over curves of the first test, and the keys of all."""
        self.table.into(evidence)
        evidence.axis_names = [name for name in evidence.axis_names if name != AXIS]
        evidence.axis_names += filter(None, (*self._wide.unit, *self._heads_of_units()))

    def _heads_of_units(self) -> list[str]:
        """Texts of columns for the unit of frequency."""
        texts = []
        for at, title in enumerate(self._head):
            if is_frequency(title) and not any(is_numeric(row[at]) for row in self._rows):
                texts += [title, *dict.fromkeys(row[at] for row in self._rows[:_POINTS])]
        return texts

    def lines(
        self, evidence: Evidence, found: Understood, where: str, *, told: bool = False
    ) -> list[Table]:
        """The tables of the dialect for this one.

        Args:
            evidence: takes the keys of property rows and the texts of verdicts.
            found: what names are made of.
            where: name of the table, e.g. "csv.rows".
            told: whether a heading says what is measured.
        """
        made = []
        for table in self.table.lines(evidence, found, where, told=told):
            if table.name == f"[{where}.point]":
                made.append(self._curve(table, where))
            elif any((line.key, line.value) == (VALUE, VALUE) for line in table.lines):
                made += self._single_figures(table, found)
            elif not table.name.endswith("property]"):
                made.append(table)
            if table.name == f"[{where}]" and self._others:
                note = Note(ASSUMED, "these rows are no measurements; they go to extra")
                table.add("other_kinds", one_of(self._others), note)
            if table.name == f"[{where}]" and self._beside:
                note = Note(FOUND, "no measurements, by their names", list(self._beside))
                others = dict.fromkeys(found.naming.parse(of).template for of in self._beside)
                table.add("other_names", one_of(list(others)), note)
        return [*made, *self._figures(evidence, found, where)]

    def _curve(self, point: Table, where: str) -> Table:
        """The lines of a table of points, turned into those of curves."""
        wide, table = self._wide, Table(f"[{where}.curve]")
        for line in point.lines:
            if line.key not in ("frequency", "value"):
                table.add(line.key, line.value, *line.notes)
        if wide.values:
            seen = list(wide.axis) if "{" in wide.values else []
            table.add("values", wide.values, Note(FOUND, "", seen))
        if wide.separator:
            table.add("separator", wide.separator)
        if wide.mark:
            text = "what the frequencies are called: a column, a row among the others, or a line"
            table.add("frequency", wide.mark, Note(FOUND, text))
        if wide.run:
            titles = {role: self._titles[at] for role, at in wide.run.items()}
            table.add("run", titles, Note(FOUND, "by the titles of columns of even steps"))
        if wide.early:
            note = Note(ASSUMED, "some rows are shorter: curves that end before the others")
            table.add("ends_early", True, note)
        return table

    def _single_figures(self, drafted: Table, found: Understood) -> list[Table]:
        """A table for each column in which a row has its only value, which is not of a sweep.

        What may be swept needs none: a row with one value of that is a curve of one point.
        """
        subject = self.table.roles.subject
        if subject is None:
            return []
        columns: dict[str, list[str]] = {}
        for row, at in self._single:
            parameter = found.naming.parse(row[subject - 2]).parameter
            title = self._titles[at] if at < len(self._titles) else ""
            if parameter and not can_be_swept(parameter[1]) and title:
                columns.setdefault(title, []).append(parameter[0])
        tables = []
        for title, words in columns.items():
            table = Table(drafted.name)
            for line in drafted.lines:
                if line.key in ("kind", "name"):
                    table.add(line.key, line.value, *line.notes)
            table.add(VALUE, title, Note(FOUND, "the only value of rows without a sweep", words))
            tables.append(table)
        return tables

    def _figures(self, evidence: Evidence, found: Understood, where: str) -> list[Table]:
        """What is stated of each curve in columns beside it: margins, verdicts."""
        roles = self.table.roles
        names = [at - 2 for at in roles.names]
        stated = [at - 2 for at in roles.free if at > 1 and self._is_stated(at - 2)]
        if not any(phrases.has(self._head[at], (*MARGIN, *VERDICT_KEYS)) for at in stated):
            return []
        chosen = [*names, *stated]
        titles = [self._head[at] for at in chosen]
        rows = [[row[at] for at in chosen] for row in self._rows]
        tables = figure_tables(titles, rows, evidence, found, where)
        for table in tables:
            table.lines = [self._with_unit(line) for line in table.lines]
        return tables

    def _with_unit(self, line: Line) -> Line:
        """The line that names rows with the column of their unit; any other as it is."""
        if line.key != "name" or not isinstance(line.value, dict):
            return line
        return line._replace(value=self.table.with_unit(line.value))

    def _is_stated(self, at: int) -> bool:
        """Whether a column may say something of each curve: it changes within a test."""
        words = (*MARGIN, *VERDICT_KEYS, *LIMIT)
        title, test = self._head[at], self.table.roles.test
        if not (phrases.has(title, words) or is_frequency(title)):
            return False
        held: dict[tuple[int, str], set[str]] = {}
        for file, row in zip(self._files, self._rows, strict=True):
            held.setdefault((file, "" if test is None else row[test - 2]), set()).add(row[at])
        return any(len(texts) > 1 for texts in held.values())


def _alike(
    rows: Sequence[Cells], wides: Sequence[Wide], wide: Wide
) -> Iterator[tuple[Wide, Sequence[Cells]]]:
    """Rows one after another whose curves are written alike, with how they are."""
    if not wides:
        yield wide, rows
    for _, some in groupby(zip(wides, rows, strict=True) if wides else (), lambda one: id(one[0])):
        told = [*some]
        yield told[0][0], [row for _, row in told]


def _is_beside(text: str) -> bool:
    """Whether a text names the limit, or the margin, of what a row would be a curve of."""
    return phrases.has(text, _BESIDE) and phrases.parameter_in(text) is not None
