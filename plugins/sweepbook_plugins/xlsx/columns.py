"""What each column of each table holds: a sheet of the workbook, and a file beside flat tables."""

import re
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from sweepbook_plugins.xlsx.layout import Column, Layout
from sweepbook_plugins.xlsx.look import Kind
from sweepbook_plugins.xlsx.meanings import MEANINGS

_HOLDS = {
    Kind.TEXT: "text",
    Kind.WORD: "word",
    Kind.PROSE: "text",
    Kind.FIGURE: "number",
    Kind.COUNT: "whole number",
}


class Described(NamedTuple):
    """A row: a column of a table."""

    table: str
    column: str
    holds: str
    meaning: str
    flat_name: str


def flat_name(text: str) -> str:
    """The name of a table or a column where there are no looks: "worst_margin_at_mhz"."""
    return re.sub(r"[^a-z0-9]+", "_", text.casefold().replace("'", "")).strip("_")


def dictionary(layouts: Iterable[Layout]) -> Iterator[Described]:
    """A row for each column, in the order of the tables."""
    for layout in layouts:
        for column in layout.columns:
            yield _described(layout, column)


def _described(layout: Layout, column: Column) -> Described:
    meaning = MEANINGS.get(f"{layout.name}: {column.title}") or MEANINGS[column.title]
    holds = _HOLDS[column.kind]
    return Described(layout.name, column.title, holds, meaning, flat_name(column.title))


_COLUMNS = (
    Column("Sheet", 14, Kind.TEXT),
    Column("Column", 34, Kind.TEXT),
    Column("Holds", 13, Kind.TEXT),
    Column("Meaning", 100, Kind.PROSE),
    Column("Name in flat tables", 34, Kind.TEXT),
)
"""In the order of the members of `Described`."""

COLUMNS = Layout("Columns", _COLUMNS)
