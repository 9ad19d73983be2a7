"""What each column of each table holds: a sheet of the workbook, and a file beside flat tables."""

import re
from collections.abc import Iterable, Iterator
from typing import Any, NamedTuple

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
    flat_name: str
    holds: str
    meaning: str


def flat_name(text: str) -> str:
    """The name of a table or a column where there are no looks: "worst_margin_at_mhz"."""
    return re.sub(r"[^a-z0-9]+", "_", text.casefold().replace("'", "")).strip("_")


def dictionary(layouts: Iterable[Layout[Any]]) -> Iterator[Described]:
    """A row for each column, in the order of the tables."""
    for layout in layouts:
        for column in layout.columns:
            yield _described(layout, column)


def _described(layout: Layout[Any], column: Column[Any]) -> Described:
    meaning = MEANINGS.get(f"{layout.name}: {column.title}") or MEANINGS[column.title]
    holds = _HOLDS[column.kind]
    return Described(layout.name, column.title, flat_name(column.title), holds, meaning)


_COLUMNS: tuple[Column[Described], ...] = (
    Column("Sheet", 14, Kind.TEXT, lambda r: r.table),
    Column("Column", 34, Kind.TEXT, lambda r: r.column),
    Column("Holds", 13, Kind.TEXT, lambda r: r.holds),
    Column("Meaning", 100, Kind.PROSE, lambda r: r.meaning),
    Column("Name in flat tables", 34, Kind.TEXT, lambda r: r.flat_name),
)

COLUMNS = Layout("Columns", _COLUMNS)
