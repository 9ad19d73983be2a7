"""A draft for files with several kinds of tables below headings."""

import re
from bisect import bisect_right
from collections.abc import Sequence
from typing import TYPE_CHECKING

from sweepbook.draft.document import (
    ASSUMED,
    FOUND,
    NAMELESS,
    PARAMETER,
    UNTOLD,
    Note,
    Table,
    one_of,
)
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.meaning import tables as core_tables
from sweepbook.draft.parsed import PLACEHOLDER
from sweepbook.draft.reading import Understood, understand
from sweepbook_plugins.csv.draft import keyed, marked, single_values, spellings
from sweepbook_plugins.csv.draft.curve_rows import CurveRowsTable
from sweepbook_plugins.csv.draft.curves import CurvesTable
from sweepbook_plugins.csv.draft.figures import figure_tables
from sweepbook_plugins.csv.draft.kinds import HEADING, OUTER, Kinds, lacking, sort
from sweepbook_plugins.csv.draft.rows import RowsTable
from sweepbook_plugins.csv.draft.shape import Seen, Shape
from sweepbook_plugins.csv.draft.text import Cells, Text
from sweepbook_plugins.csv.draft.untitled import VALUE, counted
from sweepbook_plugins.csv.line_marks import NO_MARK, mark_of

if TYPE_CHECKING:
    from sweepbook.limits.library import Library

_WORDS = re.compile(r"[^\W_](?:.*[^\W_])?")


Looked = tuple[Text, Shape]
"""A file and what its lines are."""


def draft(
    looked: Sequence[Looked], evidence: Evidence, limits: "Library"
) -> tuple[list[Table], list[Note]]:
    """The tables of a draft behind `csv`, and what is to be told of the file as a whole.

    Args:
        looked: the files; the curves of the fullest test of the first count, and the words of all.
        evidence: with the keys of all files.
        limits: where names of limits are looked up.
    """
    kinds = hand_over(looked, evidence)
    found = understand(evidence)
    made, unknown = tables(looked, kinds, evidence, found)
    text, shape = looked[0]
    made = made or [_unknown(text, shape.tables[0])]
    notes = [*marked.kind_by_kind(text), *lacking(text, evidence, unknown)]
    return [*made, *core_tables(evidence, found, limits)], notes


def hand_over(looked: Sequence[Looked], evidence: Evidence) -> Kinds:
    """Hand over the curves of the fullest test, and the words of all; what its tables are."""
    kinds = sort(*looked[0])
    kinds.into(evidence)
    for seen in kinds.figures:
        evidence.singles += [cell for row in _all_rows(looked, seen) for cell in row]
    for seen, table in kinds.rows:
        evidence.gaps += table.gaps(_all_rows(looked, seen))
    return kinds


def tables(
    looked: Sequence[Looked], kinds: Kinds, evidence: Evidence, found: Understood
) -> tuple[list[Table], list[Seen]]:
    """The sections of files, and their tables of which nothing is known.

    Args:
        looked: the files.
        kinds: the tables of the first.
        evidence: with all that was handed over.
        found: what was understood of it.
    """
    text, shape = looked[0]
    made = _of_rows(text, [*kinds.rows, *kinds.wide], evidence, found)
    figures, unknown = _of_figures(looked, kinds.figures, evidence, found)
    made += figures
    made += keyed.sections(kinds.by_keys, found)
    spellings.take((shape for _, shape in looked), kinds.curves, found)
    made = [
        *_key_sections(shape),
        *marked.key_sections(text),
        *made,
        *single_values.sections(shape),
        *_of_curves(kinds.curves, found),
    ]
    return made, unknown


def _unknown(text: Text, seen: Seen) -> Table:
    """A section for a table of which nothing is known."""
    section = Table("[[csv.sections]]")
    heading = seen.heading or text.lines[max(0, seen.start - 1)].strip()
    note = Note(UNTOLD, "what the table below holds; see curves and rows", list(seen.titles))
    section.add("heading", heading, note)
    return section


def _of_figures(
    looked: Sequence[Looked], figures: Sequence[Seen], evidence: Evidence, found: Understood
) -> tuple[list[Table], list[Seen]]:
    """A section for each kind of table of single figures; and those of which nothing is known."""
    made: list[Table] = []
    unknown: list[Seen] = []
    figured: dict[tuple[str, ...], None] = {}
    for seen in figures:
        kind = (seen.mark, *seen.titles)
        if kind in figured:
            continue
        figured[kind] = None
        tests, body = _rows_of_tests(looked, seen)
        lines = figure_tables(
            seen.titles, body, evidence, found, "csv.sections.rows", tests, seen.heading
        )
        if seen.mark and marked.in_doubt(looked[0][0], seen, lines, found):
            lines = []
        if lines:
            section = Table("[[csv.sections]]")
            if seen.heading:
                section.add("heading", seen.heading)
            _columns(section, seen, looked[0][0])
            made += [section, *lines]
        else:
            unknown.append(seen)
    return made, unknown


def _all_rows(looked: Sequence[Looked], seen: Seen) -> list[Cells]:
    """The rows of a table in every test."""
    return _rows_of_tests(looked, seen)[1]


def _rows_of_tests(looked: Sequence[Looked], seen: Seen) -> tuple[list[object], list[Cells]]:
    """The rows of a table in every test, and the file and number of the test of each."""
    kind = (seen.mark, seen.titles, seen.heading)
    starts = _starts(looked)
    rows = [
        ((file, bisect_right(starts[file], one.start)), row)
        for file, (text, shape) in enumerate(looked)
        for one in shape.tables
        if (one.mark, one.titles, one.heading) == kind
        for row in text.rows[one.start : one.stop]
    ]
    return [test for test, _ in rows], [row for _, row in rows]


def _starts(looked: Sequence[Looked]) -> list[Sequence[int]]:
    """The first lines of the tests of each file; where one does not show them, as in the others."""
    begins = [shape.first_line.partition("{}")[0] for _, shape in looked if shape.first_line]
    mark = mark_of(f"{begins[0]}{{}}") if begins else NO_MARK
    return [
        shape.starts or [at for at, line in enumerate(text.lines) if mark.found(line)]
        for text, shape in looked
    ]


def _columns(section: Table, seen: Seen, text: Text) -> None:
    """Names of columns, where the file has none or none that are clear."""
    kinds = text.marked.kinds if text.marked and seen.mark else ()
    for kind in kinds:
        if kind.mark == seen.mark:
            marked.add_columns(section, kind)
    if kinds or not seen.given:
        return
    how = Note(FOUND, "the file does not name each of its columns by a word of its own")
    if VALUE in seen.titles:
        said = "names made up for rows without titles; what was measured is the first column behind"
        how = Note(ASSUMED, f"{said} the frequencies that is not the same for all pairs")
    section.add("columns", list(seen.titles), how)


def _key_sections(shape: Shape) -> list[Table]:
    made = []
    for heading in shape.headings:
        table = Table("[[csv.sections]]")
        table.add("heading", heading)
        made.append(table)
    return made


def _of_rows(
    text: Text, tables: Sequence[tuple[Seen, RowsTable | CurveRowsTable]], evidence: Evidence,
    found: Understood,
) -> list[Table]:  # fmt: skip
    """A section for each heading and kind of rows; what names no parameter takes the heading."""
    made: dict[tuple[str, tuple[str, ...]], list[Table]] = {}
    for seen, table in sorted(tables, key=lambda one: -one[1].names_of_columns):
        heading, notes = _template(counted(seen.heading, seen.stop - seen.start), found), []
        if heading and PARAMETER not in heading and not table.says_parameter(found):
            heading, notes = _with_parameter(heading), [Note(UNTOLD, NAMELESS, [seen.heading])]
        section = Table("[[csv.sections]]")
        if heading:
            section.add("heading", heading, *notes)
        _columns(section, seen, text)
        told = PARAMETER in heading
        lines = table.lines(evidence, found, "csv.sections.rows", told=told)
        made.setdefault((heading, (seen.mark, *seen.titles)), [section, *lines])
    return _together(list(made.values()))


def _together(sections: Sequence[list[Table]]) -> list[Table]:
    """Sections in their order, those made one that say the same below different headings."""
    made: dict[str, list[Table]] = {}
    headings: dict[str, list[str]] = {}
    for number, (section, *lines) in enumerate(sections):
        first = section.lines[0] if section.lines else None
        plain = first is not None and first.key == "heading" and not first.notes
        rest = [section.lines[1:], *(table.lines for table in lines)]
        said = [[(line.key, line.value) for line in some] for some in rest]
        key = repr(said) if plain else str(number)
        made.setdefault(key, [section, *lines])
        headings.setdefault(key, []).extend([str(first.value)] if first and plain else [])
    for key, texts in headings.items():
        if len(texts) > 1:
            section = made[key][0]
            section.lines[0] = section.lines[0]._replace(value=texts)
    return [table for section in made.values() for table in section]


def _of_curves(tables: Sequence[tuple[Seen, CurvesTable]], found: Understood) -> list[Table]:
    """A section for all tables with one title of the axis, and one for headings around them."""
    made: list[Table] = []
    outer = found.templates.get(OUTER, [])
    for template in outer:
        around = Table("[[csv.sections]]")
        around.add("heading", template)
        made.append(around)
    kinds: dict[tuple[str, bool], list[tuple[Seen, CurvesTable]]] = {}
    for seen, table in tables:
        key = (table.titles[table.frequency], OUTER in table.around)
        kinds.setdefault(key, []).append((seen, table))
    for (_, within), some in kinds.items():
        section = Table("[[csv.sections]]")
        headings = dict.fromkeys(_template(seen.heading, found) for seen, _ in some if seen.heading)
        headings |= dict.fromkeys(spellings.alike(headings, HEADING, found))
        above = [*headings, *(outer if within else ())]
        telling = max((table for _, table in some), key=lambda table: len(table.stated))
        lines = dict(telling.lines(found, told=any(PARAMETER in text for text in above)))
        if headings:
            section.add("heading", one_of(list(headings)))
        if within and outer:
            section.add("within", outer[0])
        section.add("curves", lines, *telling.notes())
        made.append(section)
    return made


def _template(heading: str, found: Understood) -> str:
    return found.naming.parse(heading).template


def _with_parameter(heading: str) -> str:
    """A heading with its first words taken for a parameter, what it says besides left alone."""
    parts = re.split(f"({PLACEHOLDER.pattern})", heading)
    at = next((n for n in range(0, len(parts), 2) if _WORDS.search(parts[n])), None)
    if at is None:
        return f"{PARAMETER} {heading}"
    parts[at] = _WORDS.sub(PARAMETER, parts[at], count=1)
    return "".join(parts)
