"""How files that hold one table of curves are laid out: what is handed over, and their lines."""

from collections.abc import Callable, Sequence
from typing import NamedTuple

from sweepbook.draft.document import Table
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.reading import Understood
from sweepbook_plugins.csv.draft import sections
from sweepbook_plugins.csv.draft.curve_rows import CurveRowsTable
from sweepbook_plugins.csv.draft.curves import CurvesTable, are_curves, curve_lines
from sweepbook_plugins.csv.draft.rows import RowsTable
from sweepbook_plugins.csv.draft.sections import Looked
from sweepbook_plugins.csv.draft.shape import Seen
from sweepbook_plugins.csv.draft.text import Cells, Text
from sweepbook_plugins.csv.draft.wide import Wide

Later = Callable[[Understood], list[Table]]
"""What makes the lines of a table once it is known what names and numbers are."""


class Layout(NamedTuple):
    """How curves are written: the layout of the dialect, and what makes its lines."""

    name: str
    later: Later


def in_columns(text: Text, seen: Seen, evidence: Evidence) -> Layout:
    """Hand over a table with one column a curve."""
    table = CurvesTable(seen.titles, rows_of(text, seen), units=seen.units)
    table.into(evidence)
    return Layout("curve-per-column", lambda found: [curve_lines(table, found)])


def in_points(looked: Sequence[Looked], seen: Seen, evidence: Evidence) -> Layout | None:
    """Hand over a table with a row a point; None where it is no such table."""
    table = rows_table(looked, seen)
    if not table.can_name() or None in (table.roles.frequency, table.roles.value):
        return None
    table.into(evidence)
    evidence.gaps += table.gaps(table.rows)
    return Layout("point-per-row", lambda found: table.lines(evidence, found, "csv.rows"))


def in_rows(looked: Sequence[Looked], seen: Seen, wide: Wide, evidence: Evidence) -> Layout:
    """Hand over a table with a row a curve."""
    rows, starts = rows_by_file(looked, seen.titles)
    table = CurveRowsTable(seen.titles, rows, wide, legend=looked[0][1].legend, starts=starts)
    table.into(evidence)
    return Layout("curve-per-row", lambda found: table.lines(evidence, found, "csv.rows"))


def rows_table(looked: Sequence[Looked], seen: Seen) -> RowsTable:
    """The rows of all files below these titles."""
    rows, starts = rows_by_file(looked, seen.titles)
    return RowsTable(seen.titles, rows, legend=looked[0][1].legend, starts=starts)


def rows_by_file(
    looked: Sequence[Looked], titles: tuple[str, ...]
) -> tuple[list[Cells], list[int]]:
    """The rows of all tables with these titles, and where those of each file begin."""
    rows: list[Cells] = []
    starts: list[int] = []
    for text, shape in looked:
        mine = [row for of in shape.tables if of.titles == titles for row in rows_of(text, of)]
        starts += [len(rows)] if mine else []
        rows += mine
    return rows, starts or [0]


def rows_of(text: Text, seen: Seen) -> list[Cells]:
    """The rows of a table."""
    return text.rows[seen.start : seen.stop]


def of_curves(mine: Sequence[Looked], evidence: Evidence) -> Layout:
    """Hand over the curves of some files; how they are written."""
    text, shape = mine[0]
    first = shape.tables[0]
    made: Layout | None = None
    if len(shape.tables) == 1 and not (first.given or first.named or shape.first_line):
        if first.wide:
            made = in_rows(mine, first, first.wide, evidence)
        elif are_curves(first.titles, rows_of(text, first), shape.legend):
            made = in_columns(text, first, evidence)
        else:
            made = in_points(mine, first, evidence)
    if made is not None:
        return made
    kinds = sections.hand_over(mine, evidence)
    return Layout("sections", lambda found: sections.tables(mine, kinds, evidence, found)[0])
