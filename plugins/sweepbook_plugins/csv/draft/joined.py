"""A draft for tests that are spread over several tables, each with a column that tells the test."""

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.draft.document import FOUND, UNTOLD, Note, Table
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.joined_names import left_out, shared_start
from sweepbook.draft.meaning import tables as core_tables
from sweepbook.draft.reading import Understood, understand
from sweepbook.draft.rival_keys import Pair
from sweepbook.source import Source
from sweepbook_plugins.csv.draft import join, tests
from sweepbook_plugins.csv.draft.curve_rows import CurveRowsTable
from sweepbook_plugins.csv.draft.curves import CurvesTable, are_curves, curve_lines
from sweepbook_plugins.csv.draft.figures import figure_tables, states_worst
from sweepbook_plugins.csv.draft.join import Joined, Part
from sweepbook_plugins.csv.draft.kinds import words_in
from sweepbook_plugins.csv.draft.rows import RowsTable
from sweepbook_plugins.csv.draft.shape import Shape
from sweepbook_plugins.csv.draft.text import Text

if TYPE_CHECKING:
    from sweepbook.limits.library import Library

_A_TEST = "test-per-row"
_LEFT = (
    "no column of these files holds the texts by which the tests of the others are told apart, or "
    "they hold tables like one that is looked at; nothing here is of them"
)

Looked = tuple[Text, Shape]
Later = Callable[[Understood], list[Table]]
"""What makes the lines of a table once it is known what names and numbers are."""


class Drafted(NamedTuple):
    """Such a draft: the file with the curves, its layout, the tables behind `csv`, and notes."""

    own: Looked
    layout: str
    tables: list[Table]
    notes: list[Note]


class _Curves(NamedTuple):
    """How curves are written: the layout of the dialect, and what makes its lines."""

    layout: str
    later: Later


class _Taken(NamedTuple):
    """A table that is joined, before its lines are made.

    Attributes:
        part: the table.
        column: of the table with a row a test, which holds the same texts.
        other_key: its own column with them.
        layout: of the dialect.
        later: makes the lines of its rows, [] where nothing of it is known.
        rivals: pairs of columns that fit as well.
    """

    part: Part
    column: str
    other_key: str
    layout: str
    later: Later
    rivals: Sequence[Pair] = ()


def draft(sources: Sequence[Source], looked: Sequence[Looked], limits: "Library") -> Drafted | None:
    """The draft where the curves of all tests are in one table, the rest in others; else None.

    Args:
        sources: the files.
        looked: the same, looked at.
        limits: where names of limits are looked up.
    """
    parts = _parts(sources, looked)
    for heads in parts:
        if heads.wide or not tests.are_tests(heads.titles, heads.rows):
            continue
        others = _one_of_a_kind(heads, parts)
        if heads.heading and len(others) + 1 < len(parts):
            continue
        for points in sorted(others, key=lambda part: -len(part.rows)):
            further = [part for part in others if part is not points]
            if (made := _drafted(heads, points, further, looked, limits)) is not None:
                drafted, used = made
                names = [source.name for source in sources if source.file_name not in used]
                notes = [Note(UNTOLD, left_out(_LEFT, names))] if names else []
                return drafted._replace(notes=notes)
    return None


def _parts(sources: Sequence[Source], looked: Sequence[Looked]) -> list[Part]:
    """Files with a table each, or the tables of one file below a heading each; else none."""
    if len(looked) > 1:
        return [
            Part(source.file_name, *one, one[1].tables[0])
            for source, one in zip(sources, looked, strict=True)
            if len(one[1].tables) == 1
        ]
    text, shape = looked[0]
    headings = [seen.heading for seen in shape.tables]
    if len({*headings} - {""}) < len(headings):
        return []
    return [
        Part(sources[0].file_name, text, shape, seen, seen.heading, behind)
        for seen, behind in zip(shape.tables, [*headings[1:], ""], strict=True)
    ]


def _one_of_a_kind(heads: Part, parts: Sequence[Part]) -> list[Part]:
    """The tables besides the heads; of those with one line of titles the one named most alike."""
    kinds: dict[tuple[str, ...], list[Part]] = {}
    for part in parts:
        kinds.setdefault(tuple(part.texts), []).append(part)
    del kinds[tuple(heads.texts)]
    return [
        max(some, key=lambda part: len(shared_start([part.name, heads.name])))
        for some in kinds.values()
    ]


def _drafted(
    heads: Part, points: Part, further: Sequence[Part], looked: Sequence[Looked],
    limits: "Library",
) -> tuple[Drafted, set[str]] | None:  # fmt: skip
    """The draft and the names of the files it is of; None where heads and curves do not join."""
    keys = join.shared(heads, points)
    if keys is None:
        return None
    mine, others, rivals = keys
    evidence = Evidence(legend=looked[0][1].legend, delimiter=looked[0][0].delimiter)
    evidence.singles += words_in(looked)
    own = _curves(points, others, evidence, "csv")
    if own is None:
        return None
    for _, key, value in (keyed for _, shape in looked for keyed in shape.keys):
        evidence.put(key, value)
        evidence.lines.add(key)
    join.into(heads, evidence, besides=mine if mine == others else "")
    taken = [of for part in further if (of := _taken(heads, part, mine, evidence))]
    if points.heading and len(taken) < len(further):
        return None
    found = understand(evidence)
    tables = own.later(found)
    joined = [Joined(heads, others, mine, _A_TEST, _rows(heads, mine), rivals=rivals)]
    known = {mine: others}
    for of in taken:
        if rows := of.later(found):
            key = known.get(of.column, of.column)
            lacks = of.part.lacks(of.other_key, heads.texts[of.column])
            also = [
                one._replace(key=known.get(one.other_key, one.other_key), other_key=one.key)
                for one in of.rivals
            ]
            joined.append(Joined(of.part, key, of.other_key, of.layout, rows, lacks, also))
    if points.heading:
        points.shape.noise.append(points.heading)
    tables += [*join.lines(points, joined), *core_tables(evidence, found, limits)]
    used = {points.name, *(of.part.name for of in joined)}
    return Drafted((points.text, points.shape), own.layout, tables, []), used


def _curves(points: Part, key: str, evidence: Evidence, where: str) -> _Curves | None:
    """Hand over the curves of a table; None where it holds none.

    Args:
        points: the table.
        key: its column that tells the test.
        evidence: takes the curves.
        where: the layout's table in the dialect, e.g. "csv".
    """
    if points.wide:
        whole = CurveRowsTable(points.titles, points.rows, points.wide, legend=evidence.legend)
        whole.table.tell_tests_by(key)
        whole.into(evidence)
        return _Curves("curve-per-row", lambda found: whole.lines(evidence, found, f"{where}.rows"))
    if are_curves(points.titles, points.rows, evidence.legend):
        curves = CurvesTable(points.titles, points.rows)
        at = list(points.titles).index(key)
        if at >= curves.frequency:
            return None
        curves.test = at
        curves.into(evidence)
        return _Curves("curve-per-column", lambda found: [curve_lines(curves, found, where)])
    table = RowsTable(points.titles, points.rows, legend=evidence.legend)
    if table.roles.frequency is None or not table.can_name():
        return None
    table.tell_tests_by(key)
    table.into(evidence)
    return _Curves("point-per-row", lambda found: table.lines(evidence, found, f"{where}.rows"))


def _taken(heads: Part, part: Part, mine: str, evidence: Evidence) -> _Taken | None:
    """Hand over what a further table holds; None where nothing joins it to the tests.

    Args:
        heads: the table with a row a test.
        part: the further one.
        mine: the column by which the curves are joined to the heads.
        evidence: takes the texts.
    """
    keys = join.shared(heads, part, mine)
    if keys is None:
        return None
    column, key, rivals = keys
    if not part.wide and len(part.texts[key]) == len(part.rows):
        join.into(part, evidence, besides=key)
        return _Taken(part, column, key, _A_TEST, lambda _: _rows(part, key), rivals)
    if part.wide or not _are_figures(part, key):
        curves = _curves(part, key, evidence, "join.csv")
        if curves is not None:
            return _Taken(part, column, key, *curves, rivals)
    at = list(part.titles).index(key)
    titles = [*part.titles[:at], *part.titles[at + 1 :]]
    rows = [[*row[:at], *row[at + 1 :]] for row in part.rows]
    evidence.singles += [cell for row in rows for cell in row]

    def figures(found: Understood) -> list[Table]:
        made = figure_tables(titles, rows, evidence, found, "join.csv.rows")
        top = _rows(part, key, several=True)
        if made and made[0].name == top[0].name:
            top[0].lines += made.pop(0).lines
        return [*top, *made] if made else []

    return _Taken(part, column, key, "figure-per-row", figures, rivals)


def _are_figures(part: Part, key: str) -> bool:
    """Whether rows of a table state single figures of curves, rather than hold their points."""
    table = RowsTable(part.titles, part.rows)
    table.tell_tests_by(key)
    return states_worst(part.titles, part.rows) or not table.may_hold_curves()


def _rows(part: Part, key: str, *, several: bool = False) -> list[Table]:
    """The table that says by which column the tests of a further table are told apart."""
    if not several:
        return [tests.test_lines(part.titles, part.rows, "join.csv.rows", key)]
    table = Table("[join.csv.rows]")
    table.add("test", key, Note(FOUND, "a row is a figure of this test", part.texts[key]))
    return [table]
