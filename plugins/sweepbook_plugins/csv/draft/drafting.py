"""A draft of a dialect for text tables nobody has described yet."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from sweepbook.draft.document import FOUND, UNTOLD, Note, Table
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.joins import left_out
from sweepbook.draft.meaning import tables as core_tables
from sweepbook.draft.naming import settle
from sweepbook.draft.reading import Understood, understand
from sweepbook.source import Source
from sweepbook_plugins.csv.draft import (
    announced,
    by_folder,
    by_name,
    by_parameter,
    each_test,
    heads_in_words,
    joined,
    keys,
    lacking,
    layouts,
    one_file,
    sections,
    spread,
    tests,
)
from sweepbook_plugins.csv.draft.called import hold_curves
from sweepbook_plugins.csv.draft.curves import are_curves, axis_of
from sweepbook_plugins.csv.draft.figures import figure_tables
from sweepbook_plugins.csv.draft.file_lines import of_file
from sweepbook_plugins.csv.draft.layouts import Layout
from sweepbook_plugins.csv.draft.legend import legend_of
from sweepbook_plugins.csv.draft.looked_at import look
from sweepbook_plugins.csv.draft.markup import is_markup
from sweepbook_plugins.csv.draft.sections import Looked
from sweepbook_plugins.csv.draft.shape import Seen
from sweepbook_plugins.csv.draft.table_words import take_words
from sweepbook_plugins.csv.draft.tests import are_tests
from sweepbook_plugins.csv.draft.text import Cells, Text, read_all

if TYPE_CHECKING:
    from sweepbook.limits.library import Library

_LOOKED_AT = 40
_NOT_JOINED = (
    "what these files hold, whose tables are others than those of the first: no column was found "
    "that tells their tests as a table with a row a test does; see join"
)


def draft(sources: Sequence[Source], limits: "Library") -> list[Table] | None:
    """The tables of a draft for files of one make; None where they are no text tables.

    Args:
        sources: the files.
        limits: where names of limits are looked up.

    Raises:
        UnreadableSource: a file cannot be opened.
    """
    looked: list[Looked] = []
    bare: list[tuple[Source, Looked]] = []
    texts: list[tuple[Source, Text]] = []
    marked_up: list[Source] = []
    for source, text in zip(sources, read_all(sources), strict=False):
        if text is None:
            return None
        if is_markup(text):
            marked_up.append(source)
        else:
            texts.append((source, text))
    seen = look([text for _, text in texts]) if texts else []
    for (source, _), one in zip(texts, seen, strict=True):
        if one[1].tables:
            looked.append(one)
        else:
            bare.append((source, one))
    if not looked:
        return None
    told = legend_of([*looked, *(one for _, one in bare)])
    for _, shape in looked:
        shape.legend = told
    left = [source for source, _ in bare]
    ordered = _longest_first([one for one, _ in texts if one not in left], looked)
    ways = (spread.draft, each_test.draft, by_folder.draft)
    several = next((of for way in ways if (of := way(*ordered, bare, limits)) is not None), None)
    if several is not None:
        tables = several.tables
        left = [source for source in left if source not in several.bare]
    else:
        alike = lacking.of_one_make(bare, looked)
        known = [source for source, _ in alike]
        rest = [one for one in bare if one[0] not in known]
        alike += lacking.tests_in_words(rest, looked)
        known = [source for source, _ in alike]
        left = [source for source in left if source not in known]
        tables = _drafted(
            [*ordered[0], *(source for source, _ in alike)],
            [
                *lacking.with_all_tables(heads_in_words.with_heads(ordered[1])),
                *(one for _, one in alike),
            ],
            limits,
        )
    if left := [*left, *marked_up]:
        said = (
            "no table was found in these files (draft those of another format by themselves, and "
            "put both together by [join]), and nothing here is of them"
        )
        tables[0].notes.append(Note(UNTOLD, left_out(said, [source.name for source in left])))
    return tables


def _longest_first(
    sources: Sequence[Source], looked: Sequence[Looked]
) -> tuple[list[Source], list[Looked]]:
    """Files of unlike tables, those ahead that hold curves, and of these those with most rows."""
    titles = {tuple(seen.titles for seen in shape.tables) for _, shape in looked}
    rows = [max(seen.stop - seen.start for seen in shape.tables) for _, shape in looked]
    order = list(range(len(looked)))
    if len(titles) > 1:
        order.sort(key=lambda at: (not hold_curves(looked[at]), -rows[at]))
    return [sources[at] for at in order], [looked[at] for at in order]


def _drafted(sources: Sequence[Source], looked: Sequence[Looked], limits: "Library") -> list[Table]:
    """The tables for files that each hold one at least."""
    drafted = _of_several_tables(sources, looked, limits)
    if drafted is not None:
        top = of_file(drafted.files, drafted.layout, besides=drafted.skip)
        top[0].notes += drafted.notes
        return [*top, *drafted.tables]
    count = sum(len(shape.starts) or 1 for _, shape in looked)
    evidence = Evidence(tests=count, legend=looked[0][1].legend, delimiter=looked[0][0].delimiter)
    take_words(looked, evidence)
    for text, _ in looked:
        evidence.axis_names += text.units
    keys.hand_over([shape for _, shape in looked], evidence)
    text, shape = looked[0]
    kinds = list({(seen.titles, seen.heading): seen for seen in shape.tables}.values())
    layout = _of_one_table(looked, kinds, evidence)
    if layout is None:
        top = of_file(looked, "sections")
        tables, notes = sections.draft(looked, evidence, limits)
        top[0].notes += notes
    else:
        halves, found = layout
        top = of_file(looked, halves[0].name)
        tables = [*halves[1:], *core_tables(evidence, found, limits)]
    if others := _others(sources, looked):
        top[0].notes.append(Note(UNTOLD, left_out(_NOT_JOINED, others)))
    return [*top, *tables]


def _of_several_tables(
    sources: Sequence[Source], looked: Sequence[Looked], limits: "Library"
) -> joined.Drafted | None:
    """The draft of tables for all tests that go together; None where none do."""
    drafted = (
        one_file.draft(looked, limits)
        or by_parameter.draft(sources, looked, limits)
        or by_name.draft(sources, looked, limits)
        or joined.draft(sources, looked, limits)
    )
    if drafted is None and (again := announced.looked_again(looked)) is not None:
        drafted = one_file.draft(again, limits) or joined.draft(sources, again, limits)
    return drafted


def _others(sources: Sequence[Source], looked: Sequence[Looked]) -> list[str]:
    """Names of files with other tables than the first, which is the one that is drafted."""
    kinds = [{seen.kind for seen in shape.tables} for _, shape in looked]
    return [
        source.name
        for source, some in zip(sources, kinds, strict=True)
        if some and some.isdisjoint(kinds[0])
    ]


def _of_one_table(
    looked: Sequence[Looked], kinds: Sequence[Seen], evidence: Evidence
) -> tuple[list[Table], Understood] | None:
    """The layout where the files hold one kind of table; None where they have sections."""
    text, shape = looked[0]
    if len({seen.titles for seen in kinds}) > 1 or any(of.given or of.named for of in kinds):
        return None
    first, rows = kinds[0], layouts.rows_by_file(looked, kinds[0].titles)[0]
    if first.wide:
        if len(kinds) > 1 or shape.first_line:
            return None
        return _understood(layouts.in_rows(looked, first, first.wide, evidence), evidence)
    if are_curves(first.titles, layouts.rows_of(text, first), shape.legend):
        return _understood(layouts.in_columns(text, first, evidence), evidence)
    if are_tests(first.titles, rows):
        return _tests(first, rows, evidence)
    if told := tests.told_by(first.titles, rows):
        return _figures(first, rows, told, evidence)
    if not shape.first_line and (len(kinds) == 1 or layouts.rows_table(looked, first).can_name()):
        points = layouts.in_points(looked, first, evidence)
        if points is None and axis_of(first.titles, rows) is not None:
            points = layouts.in_columns(text, first, evidence)
        return None if points is None else _understood(points, evidence)
    return None


def _understood(layout: Layout, evidence: Evidence) -> tuple[list[Table], Understood]:
    found = understand(evidence)
    return [Table(layout.name), *layout.later(found)], found


def _tests(seen: Seen, rows: Sequence[Cells], evidence: Evidence) -> tuple[list[Table], Understood]:
    tests.into(seen.titles, rows, evidence)
    lines = tests.test_lines(seen.titles, rows, "csv.rows")
    return [Table("test-per-row"), lines], understand(evidence)


def _figures(
    seen: Seen, rows: Sequence[Cells], told: str, evidence: Evidence
) -> tuple[list[Table], Understood]:
    """Several rows a test, without a sweep: one a pair, with figures in columns."""
    tests.shared_into(seen.titles, rows, told, evidence)
    evidence.singles += [cell for row in rows for cell in row]
    found = understand(evidence)
    found.naming.pairing = settle([cell for row in rows[:_LOOKED_AT] for cell in row]).pairing
    lines = Table("[csv.rows]")
    samples = [row[list(seen.titles).index(told)] for row in rows]
    how = Note(FOUND, "its text changes from test to test and never comes back", samples)
    lines.add("test", told, how)
    figures = figure_tables(seen.titles, rows, evidence, found, "csv.rows")
    return [Table("test-per-row"), lines, *figures], found
