"""A draft for files with several kinds of tables below headings."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from sweepbook.draft.document import Table, one_of
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.meaning import tables as core_tables
from sweepbook.draft.numbers import is_frequency
from sweepbook.draft.reading import Understood, understand
from sweepbook_plugins.csv.draft.curves import CurvesTable, are_curves
from sweepbook_plugins.csv.draft.figures import figure_tables
from sweepbook_plugins.csv.draft.rows import RowsTable
from sweepbook_plugins.csv.draft.shape import Seen, Shape
from sweepbook_plugins.csv.draft.text import Text

if TYPE_CHECKING:
    from sweepbook.limits.library import Library

_HEADING, _OUTER = "the heading", "the heading around it"


def draft(text: Text, shape: Shape, evidence: Evidence, limits: "Library") -> list[Table]:
    """The tables of a draft behind `csv`.

    Args:
        text: the first file.
        shape: what its lines are.
        evidence: with the keys of all files.
        limits: where names of limits are looked up.
    """
    first = [seen for seen in shape.tables if _in_first_test(seen, shape)]
    curves: list[tuple[Seen, CurvesTable]] = []
    rows: list[tuple[Seen, RowsTable]] = []
    figures: list[Seen] = []
    outer = ""
    for seen in first:
        outer = seen.outer or outer
        around = {_OUTER: outer} if outer else {}
        around |= {_HEADING: seen.heading} if seen.heading else {}
        body = text.rows[seen.start : seen.stop]
        if are_curves(seen.titles, body):
            curves.append((seen, CurvesTable(seen.titles, body, around, units=seen.units)))
            curves[-1][1].into(evidence)
        elif any(map(is_frequency, seen.titles)) and len(body) > len(seen.titles):
            rows.append((seen, RowsTable(seen.titles, body, around)))
            rows[-1][1].into(evidence)
        else:
            figures.append(seen)
            evidence.singles += [cell for row in body for cell in row]
    found = understand(evidence)
    tables = [table for seen, one in rows for table in _of_rows(seen, one, evidence, found)]
    figured: dict[tuple[str, ...], None] = {}
    for seen in figures:
        if seen.titles not in figured:
            figured[seen.titles] = None
            body = text.rows[seen.start : seen.stop]
            made = figure_tables(seen.titles, body, evidence, found, "csv.sections.rows")
            if made:
                section = Table("[[csv.sections]]")
                if seen.heading:
                    section.add("heading", seen.heading)
                tables += [section, *made]
    tables = [*_key_sections(shape), *tables, *_of_curves(curves, found)]
    return [*tables, *core_tables(evidence, found, limits)]


def _in_first_test(seen: Seen, shape: Shape) -> bool:
    return len(shape.starts) < 2 or seen.start < shape.starts[1]


def _key_sections(shape: Shape) -> list[Table]:
    made = []
    for heading in shape.headings:
        table = Table("[[csv.sections]]")
        table.add("heading", heading)
        made.append(table)
    return made


def _section(heading: str, found: Understood) -> Table:
    table = Table("[[csv.sections]]")
    if heading:
        table.add("heading", _template(heading, found))
    return table


def _of_rows(seen: Seen, table: RowsTable, evidence: Evidence, found: Understood) -> list[Table]:
    return [_section(seen.heading, found), *table.lines(evidence, found, "csv.sections.rows")]


def _of_curves(tables: Sequence[tuple[Seen, CurvesTable]], found: Understood) -> list[Table]:
    """A section for all tables with one title of the axis, and one for headings around them."""
    made: list[Table] = []
    outer = found.templates.get(_OUTER, [])
    for template in outer:
        around = Table("[[csv.sections]]")
        around.add("heading", template)
        made.append(around)
    kinds: dict[tuple[str, bool], list[tuple[Seen, CurvesTable]]] = {}
    for seen, table in tables:
        key = (table.titles[table.frequency], _OUTER in table.around)
        kinds.setdefault(key, []).append((seen, table))
    for (_, within), some in kinds.items():
        section = Table("[[csv.sections]]")
        headings = dict.fromkeys(_template(seen.heading, found) for seen, _ in some if seen.heading)
        if headings:
            section.add("heading", one_of(list(headings)))
        if within and outer:
            section.add("within", outer[0])
        section.add("curves", dict(some[0][1].lines(found)))
        made.append(section)
    return made


def _template(heading: str, found: Understood) -> str:
    return found.naming.parse(heading).template
