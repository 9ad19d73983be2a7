"""Files of one kind of table that are named by what was measured: put together as one table."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from sweepbook.draft import phrases
from sweepbook.draft.document import Table
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.numbers import is_numeric
from sweepbook.source import Source
from sweepbook_plugins.csv.draft.called import tell_tests
from sweepbook_plugins.csv.draft.curve_rows import MOST_ROWS, CurveRowsTable
from sweepbook_plugins.csv.draft.file_names import Told, spelt_in, told_by
from sweepbook_plugins.csv.draft.join import Part
from sweepbook_plugins.csv.draft.layouts import Layout
from sweepbook_plugins.csv.draft.rows import RowsTable
from sweepbook_plugins.csv.draft.shape import Seen
from sweepbook_plugins.csv.draft.wide import Wide

_NAME = "the name of the file"
_LEAST = 2
"""So many parameters, and so many tests in each file, show that names tell the former alone."""


@dataclass(frozen=True)
class NamedFiles:
    """Such files.

    Attributes:
        at: their positions.
        told: what the name of each says.
        parts: their tables.
        part: all rows as one table, whose first column is what the name of the file says.
    """

    at: Sequence[int]
    told: Sequence[Told]
    parts: Sequence[Part]
    part: Part

    def key(self) -> str:
        """The column that tells tests apart in each of them; "" where none does in all."""
        told = {_teller(part) for part in self.parts}
        return told.pop() if len(told) == 1 else ""

    def layout(self, key: str, evidence: Evidence) -> Layout:
        """Hand over the curves.

        Args:
            key: the column that tells the tests; "" where the files are of one.
            evidence: takes the curves.
        """
        if self.part.wide is None:
            table = RowsTable(
                self.part.titles, self.part.rows, alone=bool(key), legend=evidence.legend
            )
            if key:
                table.tell_tests_by(key)
            table.into(evidence)
            evidence.gaps += table.gaps(self.part.rows)
            return Layout(
                "point-per-row", lambda found: _unnamed(table.lines(evidence, found, "csv.rows"))
            )
        whole = self._whole(alone=bool(key))
        if key:
            whole.table.tell_tests_by(key)
        whole.into(evidence)
        return Layout(
            "curve-per-row", lambda found: _unnamed(whole.lines(evidence, found, "csv.rows"))
        )

    def _whole(self, *, alone: bool) -> CurveRowsTable:
        """The rows of whole curves, as many of each file; alone, a column may tell tests."""
        assert self.part.wide is not None
        most = MOST_ROWS // len(self.parts)
        rows: list[list[str]] = []
        wides: list[Wide] = []
        for told, part in zip(self.told, self.parts, strict=True):
            assert part.wide is not None
            some = part.rows[:most]
            rows += [[told.told, *row] for row in some]
            wides += [_shifted(part.wide)] * len(some)
        return CurveRowsTable(
            *(self.part.titles, rows, self.part.wide),
            alone=alone,
            legend=self.part.shape.legend,
            wides=wides,
        )


def find(sources: Sequence[Source], parts: Mapping[int, Part]) -> NamedFiles | None:
    """The files with rows of curves that are named by their parameter alone; None for no such.

    Args:
        sources: all files.
        parts: the tables of those that hold one, by position.
    """
    return _files(_of_all(_named(sources, parts)), parts)


def find_by_test(
    sources: Sequence[Source], parts: Mapping[int, Part]
) -> tuple[NamedFiles, Mapping[str, Sequence[int]]] | None:
    """The files of the fullest test, where names tell it as well, and those of each by its name.

    None where names tell no tests, or columns do.

    Args:
        sources: all files.
        parts: the tables of those that hold one, by position.
    """
    named = _named(sources, parts)
    tests: dict[str, list[int]] = {}
    for at, told in named.items():
        tests.setdefault(told.shared, []).append(at)
    if len(tests) < _LEAST or "" in tests or any(_tells_tests(parts[at]) for at in named):
        return None
    fullest = max(tests.values(), key=len)
    files = _files({at: named[at] for at in fullest}, parts)
    return (files, tests) if files else None


def _files(named: Mapping[int, Told], parts: Mapping[int, Part]) -> NamedFiles | None:
    if len({told.told for told in named.values()}) < max(_LEAST, len(named)):
        return None  # or two files are of one parameter, and something else tells them apart
    return NamedFiles([*named], [*named.values()], [parts[at] for at in named], _one(named, parts))


def _named(sources: Sequence[Source], parts: Mapping[int, Part]) -> dict[int, Told]:
    """What names of files with rows of curves say, of the kind of table that most of them hold."""
    spelt = spelt_in([sources[at] for at in parts], [(of.text, of.shape) for of in parts.values()])
    folders = len({source.folder for source in sources}) > 1
    kinds: dict[tuple[object, ...], dict[int, Told]] = {}
    for at, part in parts.items():
        told = told_by(sources[at], spelt, folders=folders)
        if told and _may_hold_curves(part) and not _tells_parameters(part):
            kind = (part.seen.kind, part.wide is None, part.wide and part.wide.head)
            kinds.setdefault(kind, {})[at] = told
    return max(kinds.values(), key=len, default={})


def _of_all(named: Mapping[int, Told]) -> dict[int, Told]:
    """What names say where they tell no test; {} where what they share differs, as tests do."""
    shared = {told.shared for told in named.values()}
    if len(shared) > 1 and "" not in shared:
        return {}
    return {at: told.of_all() if len(shared) == 1 else told.whole() for at, told in named.items()}


def _one(named: Mapping[int, Told], parts: Mapping[int, Part]) -> Part:
    """The table of all rows."""
    first = parts[next(iter(named))]
    rows = [[told.told, *row] for at, told in named.items() for row in parts[at].rows]
    seen = Seen(
        (_NAME, *first.titles), 0, len(rows), wide=_shifted(first.wide) if first.wide else None
    )
    return Part("", first.text._replace(lines=[], rows=rows), first.shape, seen)


def _teller(part: Part) -> str:
    """The column that tells tests apart by its texts in one file; "" for none."""
    rows, legend = part.rows[:MOST_ROWS], part.shape.legend
    if part.wide:
        table = CurveRowsTable(part.titles, rows, part.wide, legend=legend).table
    else:
        table = RowsTable(part.titles, rows, legend=legend)
    roles = table.roles
    return table.titles[roles.test] if roles.test is not None and roles.test_sure else ""


def _tells_tests(part: Part) -> bool:
    """Whether a column tells tests apart, and not pairs or ends of one."""
    column = _teller(part)
    return column != "" and tell_tests(part.texts[column])


def _shifted(wide: Wide) -> Wide:
    """How curves are written with one more column ahead."""
    return replace(
        wide,
        head=(0, *(at + 1 for at in wide.head)),
        start=wide.start + 1,
        list_at=wide.list_at + 1 if wide.list_at >= 0 else -1,
        run={role: at + 1 for role, at in wide.run.items()},
    )


def _may_hold_curves(part: Part) -> bool:
    """Whether a table has rows of whole curves, or of points that one column or more name."""
    if part.wide:
        return True
    roles = RowsTable(part.titles, part.rows[:MOST_ROWS], legend=part.shape.legend).roles
    return None not in (roles.frequency, roles.value) and not roles.titled


def _tells_parameters(part: Part) -> bool:
    """Whether some texts of a table say what is measured, so that names need not."""
    texts = (text for some in part.texts.values() for text in some if not is_numeric(text))
    return any(phrases.parameter_in(text) for text in texts)


def _unnamed(tables: Sequence[Table]) -> list[Table]:
    """The tables of a dialect without the column of names, which the form of these takes."""
    for table in tables:
        for at, line in enumerate(table.lines):
            if line.key == "name" and isinstance(line.value, dict):
                named = {title: of for title, of in line.value.items() if title != _NAME}
                table.lines[at] = line._replace(value=named)
        table.lines = [line for line in table.lines if line.value != {}]
    return [*tables]
