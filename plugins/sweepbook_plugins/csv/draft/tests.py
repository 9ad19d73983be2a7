"""A table whose every row is a whole test: which column tells them apart, and its lines."""

from collections.abc import Collection, Sequence
from itertools import pairwise

from sweepbook.draft import dates, phrases
from sweepbook.draft.document import ASSUMED, FOUND, Note, Table, one_of
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.fields import MUST, guess
from sweepbook.draft.numbers import is_frequency, is_numeric
from sweepbook.draft.verdicts import verdict_of
from sweepbook_plugins.csv.draft.text import Cells

_LEAST_COLUMNS = 3
LEAST_KNOWN = 2
"""So many of these a row has to hold to be a test."""


def are_tests(titles: Sequence[str], rows: Sequence[Cells]) -> bool:
    """Whether each row is a test: there is no axis, and a row tells its link, limit or verdict.

    Rows that are told apart by names of parameters are figures of one test.
    """
    if len(titles) < _LEAST_COLUMNS or len(set(titles)) < len(titles):
        return False
    if any(is_frequency(title) and phrases.parameter_in(title) is None for title in titles):
        return False
    known = {one.path for one in guess(columns_of(titles, rows), None)} & set(MUST)
    alike = len({tuple(row) for row in rows}) == len(rows)
    telling = _telling(titles, rows)
    named = [row[titles.index(title)] for row in rows for title in telling]
    parameters = sum(phrases.parameter_in(text) is not None for text in named)
    return alike and len(known) >= LEAST_KNOWN and bool(telling) and parameters * 2 < len(named)


def columns_of(titles: Sequence[str], rows: Sequence[Cells]) -> dict[str, list[str]]:
    """The distinct texts of each column by its title."""
    return {
        title: list(dict.fromkeys(filter(None, (row[at] for row in rows))))
        for at, title in enumerate(titles)
    }


def test_lines(
    titles: Sequence[str], rows: Sequence[Cells], where: str, key: str | None = None
) -> Table:
    """The table of the dialect that says how tests are told apart.

    Args:
        titles: of the columns.
        rows: their cells.
        where: name of the table, e.g. "csv.rows".
        key: the column, where it is known.
    """
    table = Table(f"[{where}]")
    columns = [key] if key else _telling(titles, rows)
    samples = [row[titles.index(columns[0])] for row in rows]
    how = Note(FOUND, "each row is a test, and no text comes twice here", samples)
    if len(rows) < 2:
        how = Note(ASSUMED, "the examples hold one test; this column reads as its name", samples)
    elif len(columns) > 1:
        how = Note(FOUND, "each row is a test, and both together never come twice", samples)
    table.add("test", one_of(columns), how)
    return table


def into(
    titles: Sequence[str], rows: Sequence[Cells], evidence: Evidence, besides: Collection[str] = ()
) -> None:
    """Hand over the columns as keys, but for some."""
    columns = dict(zip(titles, zip(*rows, strict=False), strict=False))
    evidence.in_all |= {title for title, column in columns.items() if all(column)}
    for title, texts in columns_of(titles, rows).items():
        if title not in besides:
            evidence.properties.setdefault(title, [])
            for text in texts:
                evidence.put(title, text)


def told_by(titles: Sequence[str], rows: Sequence[Cells]) -> str | None:
    """The column of labels of a table without an axis that holds several rows a test, in a block.

    None where a column is an axis, where no other names figures, or where labels come back.
    """
    if len(set(titles)) < len(titles) or any(is_frequency(title) for title in titles):
        return None
    if not any(phrases.parameter_in(title) for title in titles):
        return None
    texts = columns_of(titles, rows)
    filled = {one.path: one.keys[0] for one in guess(texts, None)}
    label = filled.get("link.label")
    if label is None:
        return None
    column = [row[titles.index(label)] for row in rows]
    changes = sum(a != b for a, b in pairwise(column))
    blocks = all(column) and changes + 1 == len(texts[label]) < len(rows)
    return label if blocks and verdict_of(texts[label][0]) is None else None


def shared_into(
    titles: Sequence[str], rows: Sequence[Cells], told: str, evidence: Evidence
) -> None:
    """Hand over the columns that hold one text all through each test as keys."""
    label = titles.index(told)
    for at, title in enumerate(titles):
        one = {(row[label], row[at]) for row in rows if row[at]}
        if len(one) == len({test for test, _ in one}) and phrases.parameter_in(title) is None:
            for text in dict.fromkeys(row[at] for row in rows):
                evidence.put(title, text)


def _telling(titles: Sequence[str], rows: Sequence[Cells]) -> list[str]:
    """The column, or two of them, that no two rows share: the label's, or label and date."""
    filled = {one.path: one.keys for one in guess(columns_of(titles, rows), None)}
    label = list(filled.get("link.label", ()))
    for some in (label, [*label, *filled.get("test.started", ())]):
        texts = {tuple(row[titles.index(title)] for title in some) for row in rows}
        if some and len(texts) == len(rows):
            return some
    for at, title in enumerate(titles):
        column = [row[at] for row in rows]
        decimals = any(is_numeric(text) and not text.isdigit() for text in column)
        dated = any(map(dates.is_day, column))
        if len(set(column)) == len(rows) and all(column) and not decimals and not dated:
            return [title]
    return []
