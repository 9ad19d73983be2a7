"""Rows with a figure of the whole link among those of its pairs, as skew below delays."""

from collections.abc import Collection, Sequence

from sweepbook.dialect.parameters import parameters
from sweepbook.draft.absent_words import says
from sweepbook.draft.document import FOUND, Note, Table, one_of
from sweepbook.draft.evidence import Evidence, keep_figure
from sweepbook.draft.figure_names import NamingColumns, naming_columns, subject
from sweepbook.draft.numbers import is_numeric
from sweepbook.draft.paired_columns import Cells
from sweepbook.draft.reading import Understood

_LEAST_PAIRS = 2


def parted(
    titles: Sequence[str], columns: Sequence[Cells], naming: NamingColumns, found: Understood
) -> Collection[int]:
    """Positions of such rows in a table whose titles say what stands below; none in others.

    One column names all rows, these by what is measured and the others by their pair. Each has one
    figure, which stands below a title all the same.

    Args:
        titles: of the columns.
        columns: their cells.
        naming: which of these name rows.
        found: what names are made of.
    """
    if len(naming.told) != 1 or not naming.with_subject:
        return ()
    (at,) = naming.told
    parts = [found.naming.parse(text) for text in columns[at]]
    of_link = [row for row, part in enumerate(parts) if part.parameter and not part.pairs]
    pairs = {part.pairs for part in parts if part.pairs and not part.parameter}
    if len(pairs) < _LEAST_PAIRS or not of_link or any(not (p.pairs or p.parameter) for p in parts):
        return ()
    if any(part.pairs and part.parameter for part in parts):
        return ()
    titled = [one for one in range(len(titles)) if found.naming.parse(titles[one]).parameter]
    whole = (part.parameter for part in parts if part.parameter)
    alone = all(len(_figures(columns, titled, row)) == 1 for row in of_link)
    return of_link if alone and all(0 in parameters()[word].pairs for _, word in whole) else ()


def tables(
    titles: Sequence[str],
    rows: Sequence[Cells],
    evidence: Evidence,
    found: Understood,
    where: str,
) -> list[Table]:
    """The form of such rows.

    Args:
        titles: of the columns.
        rows: those that `parted` found.
        evidence: takes their figures.
        found: takes their words.
        where: name of the table, e.g. "csv.sections.rows".
    """
    columns = [[row[at] for row in rows] for at in range(len(titles))]
    naming = naming_columns(titles, columns, found)
    titled = [at for at in range(len(titles)) if at not in naming.told]
    filled: dict[str, None] = {}
    for place, row in enumerate(rows):
        for at in _figures(columns, titled, place):
            filled[titles[at]] = None
            if word := subject(row, found):
                keep_figure(evidence, word, [row[at]])
    table = Table(f"[[{where}.figures]]")
    table.add("name", naming.names)
    words = [row[at] for row in rows for at in naming.told]
    note = Note(FOUND, "figures of the whole link, below titles of those of pairs", words)
    table.add("value", one_of([*filled]), note)
    return [table]


def _figures(columns: Sequence[Cells], among: Sequence[int], row: int) -> list[int]:
    """The columns in which a row says something, none unless all of it are numbers."""
    said = [at for at in among if says(columns[at][row])]
    return said if all(is_numeric(columns[at][row]) for at in said) else []
