"""Tables of single figures: what they hold, and the rows below them that hold something else."""

from collections.abc import Sequence

from sweepbook.draft import figure_columns, phrases
from sweepbook.draft.document import Table
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.numbers import is_figure
from sweepbook.draft.reading import Understood
from sweepbook.draft.trade_words import MARGIN
from sweepbook_plugins.csv.draft.apart import keep_apart
from sweepbook_plugins.csv.draft.rows_below import parted, with_rows_below
from sweepbook_plugins.csv.draft.text import Cells
from sweepbook_plugins.csv.draft.wire_rows import told_apart, wire_rows

_ALONE = 0.8
"""So many rows at least are of a curve of their own where each states its worst case."""


def figure_tables(
    titles: Sequence[str],
    rows: Sequence[Cells],
    evidence: Evidence,
    found: Understood,
    where: str,
    tests: Sequence[object] = (),
    heading: str = "",
) -> list[Table]:
    """The dialect's lines for the table; [] where nothing of it is known.

    Args:
        titles: of its columns.
        rows: its rows.
        evidence: takes the texts of verdicts.
        found: what names are made of.
        where: name of the table, e.g. "csv.sections.rows".
        tests: what tells the test of each row from others; none where that is not known.
        heading: the line above it, or "".
    """
    above, below = parted(titles, rows, found.naming)
    if not below or not where.startswith("csv.sections"):
        return _tables(titles, rows, evidence, found, where, tests, heading)
    tables = _tables(titles, above, evidence, found, where, heading=heading)
    return with_rows_below(tables, titles, above, below, evidence, where) if tables else []


def _tables(
    titles: Sequence[str],
    rows: Sequence[Cells],
    evidence: Evidence,
    found: Understood,
    where: str,
    tests: Sequence[object] = (),
    heading: str = "",
) -> list[Table]:
    """The same of a table whose rows hold figures, or the wire map."""
    wires = wire_rows(rows, found)
    held = wires.rows if wires else frozenset()
    left = [row for at, row in enumerate(rows) if at not in held]
    tests = [test for at, test in enumerate(tests) if at not in held]
    tables = figure_columns.figure_tables(titles, left, evidence, found, where, tests, heading)
    if wires is not None:
        tables = told_apart(tables, wires, titles, rows, evidence, where)
    if not tables:
        return []
    if tables[0].name != f"[{where}]":
        tables.insert(0, Table(f"[{where}]"))
    names = (line.value for of in tables for line in of.lines if line.key == "name")
    naming = [title for named in names if isinstance(named, dict) for title in named]
    keep_apart(tables[0], titles, naming, evidence)
    return [table for table in tables if table.lines]


def states_worst(titles: Sequence[str], rows: Sequence[Cells]) -> bool:
    """Whether rows with a margin state a worst case each: what names one comes hardly again."""
    if not any(phrases.has(title, MARGIN) for title in titles):
        return False
    naming = [at for at in range(len(titles)) if not any(is_figure(row[at]) for row in rows)]
    names = {tuple(row[at] for at in naming) for row in rows}
    return len(names) >= _ALONE * len(rows)
