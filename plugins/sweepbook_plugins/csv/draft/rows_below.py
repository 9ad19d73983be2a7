"""Rows below a table of single figures that hold none, but a verdict or a limit of each column."""

from collections.abc import Mapping, Sequence

from sweepbook.draft.document import FOUND, Note, Table, one_of
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.naming import Naming
from sweepbook_plugins.csv.draft.stated import stated
from sweepbook_plugins.csv.draft.text import Cells

_MOST = 4
_LEAST_ABOVE = 2


def parted(
    titles: Sequence[str], rows: Sequence[Cells], naming: Naming
) -> tuple[Sequence[Cells], Mapping[str, Cells]]:
    """The rows that begin with a pair, and the few below those of a test with other words.

    Returns:
        the first ones, and the filled cells of each other one by its first cell; all rows and
        nothing where the table is none of these.
    """
    above = [row for row in rows if naming.parse(row[0]).pairs]
    below: dict[str, Cells] = {}
    for row in rows:
        if not naming.parse(row[0]).pairs:
            below.setdefault(row[0], []).extend(cell for cell in row[1:] if cell)
    named = any(not text or naming.parse(text).parameter for text in below)
    if not 0 < len(below) <= _MOST or len(above) < _LEAST_ABOVE or named or len(titles) < 2:
        return rows, {}
    return above, below


def with_rows_below(
    tables: Sequence[Table],
    titles: Sequence[str],
    above: Sequence[Cells],
    below: Mapping[str, Cells],
    evidence: Evidence,
    where: str,
) -> list[Table]:
    """The forms of a table, told apart by its first column, and that of the verdicts below.

    Args:
        tables: the forms of the rows with pairs.
        titles: of the columns.
        above: the rows with pairs.
        below: the others, by their first cell.
        evidence: takes the texts of verdicts.
        where: name of the table, e.g. "csv.sections.rows".
    """
    verdict = stated(below).get("verdict")
    top = Table(f"[{where}]")
    top.add("kind", titles[0], Note(FOUND, "below its pairs stand rows of another kind", [*below]))
    if others := [text for text in below if text != verdict]:
        top.add("other_kinds", one_of(others))
    made = [top]
    kinds = list(dict.fromkeys(row[0] for row in above))
    for table in tables:
        if table.name == top.name:
            top.lines += [line for line in table.lines if line.key != "kind"]
            continue
        form = Table(table.name, notes=table.notes)
        form.add("kind", kinds)
        form.lines += table.lines
        made.append(form)
    value = next((of.value for table in tables for of in table.lines if of.key == "value"), None)
    if verdict and value is not None:
        evidence.verdicts += below[verdict]
        form = Table(f"[[{where}.figures]]")
        form.add("kind", verdict)
        form.add("verdict", value)
        made.append(form)
    return made
