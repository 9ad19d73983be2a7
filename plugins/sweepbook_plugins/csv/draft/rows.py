"""A table whose rows say what they hold: its curves and keys, and the dialect's lines for it."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from sweepbook.draft import ends_beside
from sweepbook.draft.absent_words import says
from sweepbook.draft.document import (
    ASSUMED,
    FOUND,
    NAMELESS,
    PARAMETER,
    UNSETTLED,
    UNTOLD,
    Note,
    Table,
    one_of,
)
from sweepbook.draft.evidence import Evidence, SeenCurve, thin
from sweepbook.draft.legend import NOTHING, Legend
from sweepbook.draft.numbers import is_numeric
from sweepbook.draft.reading import Understood
from sweepbook_plugins.csv.draft.apart import keep_apart
from sweepbook_plugins.csv.draft.curves import TITLE
from sweepbook_plugins.csv.draft.roles import Roles, roles_of
from sweepbook_plugins.csv.draft.rows_besides import tables_besides
from sweepbook_plugins.csv.draft.text import Cells

UNIT = "{unit}"
_LEAST_POINTS = 3
_FEW_WORDS = 6
_SHOWN = 60
_MOST_GAPS = 12
"""Different texts in a column of values that may all say that there is none."""


@dataclass
class RowsTable:
    """A table of points, and rows besides.

    Attributes:
        titles: of its columns.
        rows: its rows.
        around: texts of headings above it, by slot.
        alone: whether the file holds no other kind of table.
        legend: what the file explains of pairs and ends.
        starts: positions of the rows with which each file begins, where several are put together.
        roles: what its columns are.
        others: rows that are no points.
        kinds: texts of the column `kind` on rows of points.
    """

    titles: Sequence[str]
    rows: Sequence[Cells]
    around: dict[str, str] = field(default_factory=dict)
    alone: bool = True
    legend: Legend = NOTHING
    starts: Sequence[int] = (0,)
    roles: Roles = field(init=False)
    others: list[Cells] = field(default_factory=list)
    kinds: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.roles = roles_of(
            self.titles, self.rows, self.legend, alone=self.alone, starts=self.starts
        )

    def into(self, evidence: Evidence) -> None:
        """Hand over curves of the first test, and the keys of all; nothing without rows."""
        roles = self.roles
        first, _ = next(self._keyed(), ((), ()))
        for name, rows in self._groups().items():
            points = [row for row in rows if self._is_point(row)]
            if not self._are_points(rows):
                self.others += rows
                continue
            if name[: len(first)] == first:
                evidence.curves += self._curves(points)
            if roles.kind is not None and points[0][roles.kind] not in self.kinds:
                self.kinds.append(points[0][roles.kind])
        if roles.frequency is not None:
            evidence.axis_names.append(self.titles[roles.frequency])
        self._properties(evidence)

    def gaps(self, rows: Sequence[Cells]) -> list[str]:
        """Texts that stand where values of points do, in these rows or others below such titles."""
        at, value = self.roles.frequency, self.roles.value
        if at is None or value is None:
            return []
        texts = (row[value] for row in rows if row[value] and is_numeric(row[at]))
        return [text for text in dict.fromkeys(texts) if not is_numeric(text)][:_MOST_GAPS]

    def may_hold_curves(self) -> bool:
        """Whether some rows are points one after another, or no column says what a row is of."""
        return not self.can_name() or any(map(self._are_points, self._groups().values()))

    def _groups(self) -> dict[tuple[str, ...], list[Cells]]:
        """Rows by test and name."""
        groups: dict[tuple[str, ...], list[Cells]] = {}
        for key, row in self._keyed():
            names = tuple(row[at] for at in self.roles.names)
            groups.setdefault((*key, *names), []).append(row)
        return groups

    def _are_points(self, rows: Sequence[Cells]) -> bool:
        count = sum(map(self._is_point, rows))
        return count >= _LEAST_POINTS and (self.roles.kind is not None or count == len(rows))

    def take_units(self, found: Understood) -> None:
        """Keep the units that stand beside figures, those that come most often first."""
        if self.roles.unit is not None:
            for text, _ in Counter(row[self.roles.unit] for row in self.rows).most_common():
                found.naming.take_unit(text)

    def tell_tests_by(self, title: str) -> None:
        """Take a column that is known to tell tests apart."""
        roles, at = self.roles, list(self.titles).index(title)
        roles.names = [one for one in roles.names if one != at]
        roles.free = [one for one in roles.free if one != at]
        if roles.test is not None and roles.test != at:
            roles.free.append(roles.test)
        roles.test, roles.test_sure = at, True

    def tell_kinds_by(self, title: str) -> None:
        """Take a column whose only word marks rows of points."""
        roles, at = self.roles, list(self.titles).index(title)
        roles.names = [one for one in roles.names if one != at]
        roles.free = [one for one in roles.free if one != at]
        roles.kind = at

    @property
    def names_of_columns(self) -> int:
        """How many columns name a row."""
        return len(self.roles.names)

    def can_name(self) -> bool:
        """Whether a column holds words, so that it may say what a row is of."""
        return bool(self.roles.titled) or self._wordy() is not None

    def says_parameter(self, found: Understood) -> bool:
        """Whether a column says what is measured."""
        return any(PARAMETER in str(of) for of in self.named(found, None).values())

    def lines(
        self, evidence: Evidence, found: Understood, where: str, *, told: bool = False
    ) -> list[Table]:
        """The tables of the dialect for this one; its property rows go into the evidence.

        Args:
            evidence: takes the keys of property rows and the texts of verdicts.
            found: what names are made of.
            where: name of the table, e.g. "csv.rows".
            told: whether a heading says what is measured.
        """
        roles = self.roles
        self.take_units(found)
        top = Table(f"[{where}]")
        if roles.test is not None:
            back = "never comes back in a file" if len(self.starts) > 1 else "never comes back"
            how = Note(FOUND, f"its text changes from test to test and {back}")
            if not roles.test_sure:
                how = Note(ASSUMED, "the examples hold one test; this column reads as its name")
            how = how._replace(samples=self._texts(roles.test))
            top.add("test", self.titles[roles.test], how)
        if roles.kind is not None:
            top.add("kind", self.titles[roles.kind])
        naming = [*roles.names, *([] if roles.test is None else [roles.test])]
        keep_apart(top, self.titles, [self.titles[at] for at in naming], evidence)
        tables = [top]
        if roles.frequency is not None and roles.value is not None:
            point = Table(f"[{where}.point]")
            self._tell_kind(point)
            named, notes = self.named(found, None), []
            told = told or bool(roles.titled)
            if not told and not self.says_parameter(found) and (at := self._wordy()) is not None:
                named[self.titles[at]] = PARAMETER
                notes = [Note(UNTOLD, NAMELESS, [row[at] for row in self.rows[:_SHOWN]])]
            if named:
                point.add("name", named, *(notes or [Note(FOUND, "", self._names())]))
            samples = Note(FOUND, "", self._texts(roles.frequency))
            point.add("frequency", self.titles[roles.frequency], samples)
            others = [self.titles[at] for at in roles.rivals]
            text = "by its title and by how much it varies; other columns hold numbers too"
            notes = [Note(FOUND, "", self._texts(roles.value))]
            notes += [Note(ASSUMED, text, others)] if others else []
            held = [of for of in found.templates.get(TITLE, []) if "{" in of]
            value = one_of(held) if roles.titled and held else self.titles[roles.value]
            point.add("value", value, *notes)
            if untold := self._untold():
                text = "what these columns say of a row, whose words are known for nothing"
                point.notes.append(Note(UNTOLD, f"{text}; see name", untold))
            tables.append(point)
        return tables + tables_besides(self, evidence, found, where)

    def _tell_kind(self, point: Table) -> None:
        """Add the texts that mark rows of points, where a column tells rows apart."""
        if self.kinds:
            point.add("kind", one_of(self.kinds))
        elif self.roles.kind is not None:
            why = "which rows are points, since too few have one name here"
            point.add("kind", UNSETTLED, Note(UNTOLD, why, self._texts(self.roles.kind)))

    def _untold(self) -> list[str]:
        """The columns of few words that change within a test and name nothing."""
        found = []
        for at in self.roles.free:
            words = {row[at] for row in self.rows if says(row[at]) and not is_numeric(row[at])}
            tests = {(key, row[at]) for key, row in self._keyed() if row[at]}
            if 1 < len(words) <= _FEW_WORDS and len(tests) > len({test for test, _ in tests}):
                found.append(self.titles[at])
        return found

    def _texts(self, at: int) -> list[str]:
        """The first texts of a column."""
        return list(dict.fromkeys(row[at] for row in self.rows if row[at]))[:_SHOWN]

    def _names(self) -> list[str]:
        """What the first rows say in the columns that name them."""
        names = (" ".join(row[at] for at in self.roles.names if row[at]) for row in self.rows)
        return list(dict.fromkeys(names))[:_SHOWN]

    def _wordy(self) -> int | None:
        """The column that most likely says what is measured."""
        roles = self.roles
        words = [at for at in roles.free if not any(is_numeric(row[at]) for row in self.rows)]
        offers = [roles.subject, *words, *roles.names]
        return next((at for at in offers if at is not None), None)

    def _keyed(self) -> Iterator[tuple[tuple[str, ...], Cells]]:
        """The rows, each with what tells its test: its file, and the text of the column `test`."""
        at = self.roles.test
        for file, (start, stop) in enumerate(pairwise((*self.starts, len(self.rows)))):
            for row in self.rows[start:stop]:
                yield (str(file), *(() if at is None else (row[at],))), row

    def _is_point(self, row: Cells) -> bool:
        at, value = self.roles.frequency, self.roles.value
        return at is not None and value is not None and is_numeric(row[at]) and bool(row[value])

    def _curves(self, points: Sequence[Cells]) -> list[SeenCurve]:
        """The curves of some rows: one, or one for each title that names what is measured."""
        roles = self.roles
        assert roles.frequency is not None and roles.value is not None
        texts = {self.titles[at]: points[0][at] for at in roles.names}
        axis = thin([row[roles.frequency] for row in points])
        return [
            SeenCurve(
                self.around | texts | ({TITLE: self.titles[at]} if roles.titled else {}),
                axis,
                thin([row[at] for row in points]),
            )
            for at in roles.titled or [roles.value]
        ]

    def _properties(self, evidence: Evidence) -> None:
        """Columns that hold one text all through a test; and the column that tells tests apart."""
        at_test = self.roles.test
        for at in (*(() if at_test is None else (at_test,)), *self.roles.free):
            by_test: dict[tuple[str, ...], set[str]] = {}
            for key, row in self._keyed():
                if row[at]:
                    by_test.setdefault(key, set()).add(row[at])
            if by_test and all(len(texts) == 1 for texts in by_test.values()):
                for texts in by_test.values():
                    evidence.put(self.titles[at], next(iter(texts)))
                if all(row[at] for row in self.rows):
                    evidence.in_all.add(self.titles[at])

    def named(self, found: Understood, subject: Sequence[str] | None) -> dict[str, object]:
        """The columns that name a row, with their templates."""
        named: dict[str, object] = {}
        for at in self.roles.names:
            templates = [
                template for template in found.templates.get(self.titles[at], []) if "{" in template
            ]
            if subject is not None and at == self.roles.subject:
                templates = list(subject)
            if templates:
                lacking = {"", *found.numbers.missing}
                if any(row[at] in lacking for row in self.rows):
                    templates = ends_beside.with_blank(templates)
                named[self.titles[at]] = one_of(templates)
        return self.with_unit(named)

    def with_unit(self, named: dict[str, object]) -> dict[str, object]:
        """Columns that name a row, and that of its unit, so that no other unit is read as it."""
        at = self.roles.unit
        return named | {self.titles[at]: UNIT} if at is not None and named else named
