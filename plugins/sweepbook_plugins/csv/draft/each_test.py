"""A draft for tests that have a file of curves each, and beside it files with what else is known.

Folders or names tell which belong together, as no column does. A test may have no curves.
"""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from sweepbook.draft.document import FOUND, Note
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.fields import MUST, guess
from sweepbook.draft.joins import label_by_name
from sweepbook.draft.meaning import tables as core_tables
from sweepbook.draft.reading import understand
from sweepbook.source import Source
from sweepbook_plugins.csv.draft import beside_curves, keys, layouts, tests
from sweepbook_plugins.csv.draft.beside_curves import joins
from sweepbook_plugins.csv.draft.called import hold_curves
from sweepbook_plugins.csv.draft.curve_rows import CurveRowsTable
from sweepbook_plugins.csv.draft.curves import CurvesTable, are_curves
from sweepbook_plugins.csv.draft.file_lines import of_file
from sweepbook_plugins.csv.draft.rows import RowsTable
from sweepbook_plugins.csv.draft.sections import Looked
from sweepbook_plugins.csv.draft.shape import Seen
from sweepbook_plugins.csv.draft.spread import Drafted
from sweepbook_plugins.csv.draft.table_words import take_words
from sweepbook_plugins.csv.draft.told_apart import forms_of

if TYPE_CHECKING:
    from sweepbook.limits.library import Library

_LOOKED_AT = 2
"""So many files of curves show whether each holds one test."""
_LEAST = 2
"""Members that every record has, of which the files beside the curves fill so many."""


def draft(
    sources: Sequence[Source],
    looked: Sequence[Looked],
    bare: Sequence[tuple[Source, Looked]],
    limits: "Library",
) -> Drafted | None:
    """The tables of files that belong together so; None for others.

    Args:
        sources: the files with tables.
        looked: the same, looked at.
        bare: files without, which may say what is known of each test.
        limits: where names of limits are looked up.
    """
    every = list(zip(sources, looked, strict=True))
    curves = [one for one in every if hold_curves(one[1])]
    others = [*(one for one in every if one not in curves), *bare]
    if not curves or not others or any(map(_is_of_all, (one for _, one in others))):
        return None
    forms = forms_of([source for source, _ in curves], [source for source, _ in others])
    mine = [one for _, one in curves]
    if forms is None or any(map(_holds_several, mine[:_LOOKED_AT])):
        return None
    taken = [source for some in forms.beside.values() for source in some]
    tabled = [source for source, (_, shape) in others if shape.tables]
    alone = len(forms.tests) == 1 and bool(tabled)  # whose columns may as well tell several tests
    if alone or any(source not in taken for source in tabled):
        return None
    evidence = Evidence(tests=len(forms.tests), legend=mine[0][1].legend)
    evidence.delimiter = mine[0][0].delimiter
    take_words([*mine, *(one for _, one in others)], evidence)
    made = layouts.of_curves(mine, evidence)
    keys.hand_over([shape for _, shape in mine], evidence)
    beside = [
        beside_curves.hand_over(form, [one for one in others if one[0] in some], evidence)
        for form, some in forms.beside.items()
    ]
    if len({one.path for one in guess(evidence.properties, None)} & {*MUST}) < _LEAST:
        return None
    found = understand(evidence)
    lines = made.later(found)
    how = Note(FOUND, f"{forms.told_by} tell the tests, each with these files", forms.tests)
    tables = [of.tables(evidence, found) for of in beside]
    lines += joins(forms, beside, tables, (forms.curves, how))
    core = core_tables(evidence, found, limits)
    label_by_name(core, forms.tests)
    top = of_file(mine, made.name)
    return Drafted([*top, *lines, *core], taken)


def _is_of_all(looked: Looked) -> bool:
    """Whether a file holds a table with a row a test, which columns join."""
    text, shape = looked
    return any(tests.are_tests(of.titles, layouts.rows_of(text, of)) for of in shape.tables)


def _holds_several(looked: Looked) -> bool:
    """Whether a file holds the curves of several tests."""
    shape = looked[1]
    return bool(shape.first_line) or any(_tells_tests(looked, seen) for seen in shape.tables)


def _tells_tests(looked: Looked, seen: Seen) -> bool:
    """Whether a column of a table tells tests apart."""
    text, shape = looked
    rows = layouts.rows_of(text, seen)
    if seen.wide:
        return CurveRowsTable(
            seen.titles, rows, seen.wide, legend=shape.legend
        ).table.roles.test_sure
    if are_curves(seen.titles, rows, shape.legend):
        test = CurvesTable(seen.titles, rows).test
        return test is not None and len({row[test] for row in rows}) > 1
    return RowsTable(seen.titles, rows, legend=shape.legend).roles.test_sure
