"""Further tables that are joined to one with a row a test: what they hold, and their lines."""

from collections.abc import Mapping, Sequence
from functools import partial
from typing import NamedTuple

from sweepbook.draft import phrases
from sweepbook.draft.document import FOUND, PARAMETER, UNSETTLED, UNTOLD, Note, Table
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.joins import Pair
from sweepbook.draft.reading import Understood
from sweepbook.draft.trade_words import VERDICT_KEYS
from sweepbook.draft.verdicts import are_verdicts
from sweepbook_plugins.csv.draft import join, tests
from sweepbook_plugins.csv.draft.curve_rows import CurveRowsTable
from sweepbook_plugins.csv.draft.curves import CurvesTable, are_curves, curve_lines
from sweepbook_plugins.csv.draft.figures import figure_tables, states_worst
from sweepbook_plugins.csv.draft.join import Joined, Part
from sweepbook_plugins.csv.draft.layouts import Later, Layout
from sweepbook_plugins.csv.draft.rows import RowsTable

A_TEST = "test-per-row"


class Taken(NamedTuple):
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


def all_joined(
    some: Sequence[Taken], heads: Part, found: Understood, known: Mapping[str, str]
) -> list[Joined]:
    """How each of some tables is joined; those of which nothing is known are left out.

    Args:
        some: the tables.
        heads: the table with a row a test.
        found: what names and numbers are.
        known: what the tests are told by with the curves, by the column of the heads.
    """
    joined = []
    for of in some:
        if rows := of.later(found):
            key = known.get(of.column, of.column)
            lacks = of.part.lacks(of.other_key, heads, of.column)
            also = [
                one._replace(key=known.get(one.other_key, one.other_key), other_key=one.key)
                for one in of.rivals
            ]
            joined.append(Joined(of.part, key, of.other_key, of.layout, rows, lacks, also))
    return joined


def curves_of(points: Part, key: str, evidence: Evidence, where: str) -> Layout | None:
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
        return Layout("curve-per-row", lambda found: whole.lines(evidence, found, f"{where}.rows"))
    if are_curves(points.titles, points.rows, evidence.legend):
        curves = CurvesTable(points.titles, points.rows)
        at = list(points.titles).index(key)
        if at >= curves.frequency:
            return None
        curves.test = at
        curves.into(evidence)
        return Layout("curve-per-column", lambda found: [curve_lines(curves, found, where)])
    table = RowsTable(points.titles, points.rows, legend=evidence.legend)
    if table.roles.frequency is None or not table.can_name():
        return None
    table.tell_tests_by(key)
    table.into(evidence)
    evidence.gaps += table.gaps(points.all_rows)
    return Layout("point-per-row", lambda found: table.lines(evidence, found, f"{where}.rows"))


def taken(
    heads: Part, part: Part, mine: str, evidence: Evidence, *, alone: bool = False
) -> Taken | None:
    """Hand over what a further table holds; None where nothing joins it to the tests.

    Args:
        heads: the table with a row a test.
        part: the further one.
        mine: the column by which the curves are joined to the heads.
        evidence: takes the texts.
        alone: whether no other column of the heads can join it.
    """
    keys = join.shared(heads, part, mine, alone=alone)
    if keys is None:
        return None
    column, key, rivals = keys
    if not part.wide and len(part.texts[key]) == len(part.rows):
        judged = _judged(part)
        join.into(part, evidence, besides=[key, *judged])
        evidence.verdicts += [text for title in judged for text in part.texts[title]]
        return Taken(part, column, key, A_TEST, partial(_a_test, part, key, judged), rivals)
    if part.wide or not _are_figures(part, key):
        curves = curves_of(part, key, evidence, "join.csv")
        if curves is not None:
            return Taken(part, column, key, *curves, rivals)
    at = list(part.titles).index(key)
    titles = [*part.titles[:at], *part.titles[at + 1 :]]
    rows = [[*row[:at], *row[at + 1 :]] for row in part.all_rows]
    tests = [row[at] for row in part.all_rows]
    evidence.singles += [cell for row in rows for cell in row]

    def figures(found: Understood) -> list[Table]:
        made = figure_tables(titles, rows, evidence, found, "join.csv.rows", tests)
        top = rows_of(part, key, several=True)
        if made and made[0].name == top[0].name:
            top[0].lines += made.pop(0).lines
        return [*top, *made] if made else []

    return Taken(part, column, key, "figure-per-row", figures, rivals)


def told(of: Taken) -> Taken:
    """A table that is joined, left to a person where nothing of it is known."""

    def later(found: Understood) -> list[Table]:
        if lines := of.later(found):
            return lines
        figures = Table("[[join.csv.rows.figures]]")
        figures.add("value", UNSETTLED, Note(UNTOLD, "what this table holds", of.part.titles))
        return [*rows_of(of.part, of.other_key, several=True), figures]

    return of._replace(later=later)


def _judged(part: Part) -> dict[str, str]:
    """The column of verdicts of a table whose heading says of what they are, with that; or {}."""
    told = phrases.parameter_in(part.heading)
    verdicts = [
        title
        for title, texts in part.texts.items()
        if phrases.has(title, VERDICT_KEYS) and phrases.parameter_in(title) is None
        if are_verdicts(texts)
    ]
    return {verdicts[0]: told.meaning} if told and len(verdicts) == 1 else {}


def _a_test(part: Part, key: str, judged: Mapping[str, str], found: Understood) -> list[Table]:
    """The lines of a table with a row a test.

    Args:
        part: the table.
        key: its column that tells the test.
        judged: what a column of verdicts is of.
        found: takes the titles of such columns as words for that.
    """
    tables = rows_of(part, key)
    for title, parameter in judged.items():
        found.naming.spell(parameter, title)
        figures = Table("[[join.csv.rows.figures]]")
        how = Note(FOUND, "the heading of the table says of what it is", [part.heading])
        figures.add("verdict", PARAMETER, how)
        tables.append(figures)
    return tables


def _are_figures(part: Part, key: str) -> bool:
    """Whether rows of a table state single figures of curves, rather than hold their points."""
    table = RowsTable(part.titles, part.rows)
    table.tell_tests_by(key)
    return states_worst(part.titles, part.rows) or not table.may_hold_curves()


def rows_of(part: Part, key: str, *, several: bool = False) -> list[Table]:
    """The table that says by which column the tests of a further table are told apart."""
    if not several:
        return [tests.test_lines(part.titles, part.rows, "join.csv.rows", key)]
    table = Table("[join.csv.rows]")
    table.add("test", key, Note(FOUND, "a row is a figure of this test", part.texts[key]))
    return [table]
