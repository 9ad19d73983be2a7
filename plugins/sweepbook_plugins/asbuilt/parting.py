"""Parting a table in two: the words that many of its rows have in common, and their numbers."""

from collections.abc import Iterable
from typing import TYPE_CHECKING

from sweepbook_plugins.asbuilt.schema import Schema
from sweepbook_plugins.asbuilt.tables import new_table
from sweepbook_plugins.asbuilt.values import named
from sweepbook_plugins.asbuilt.writing import Writing

if TYPE_CHECKING:
    import sqlalchemy as sa

_KEY = ("id", "natural_key")


def part(connection: "sa.Connection", schema: Schema, tables: "sa.MetaData", name: str) -> None:
    """Make a table of kinds and one of values in the place of a table, which goes.

    Args:
        connection: in a transaction.
        schema: has the two, by its name with `_kind` and `_value`.
        tables: the same for SQLAlchemy.
        name: of the table. It has all columns of the two but those that lead from one to the other.
    """
    kind, value = f"{name}_kind", f"{name}_value"
    for made in (kind, value):
        new_table(connection, schema, tables, made)
    words = [c for c in schema.tables[kind].columns if c.column not in _KEY]
    listed = ", ".join(column.column for column in words)
    found = connection.exec_driver_sql(f"SELECT DISTINCT {listed} FROM {name}").fetchall()
    cells = [cell for row in found for cell in (*named(*row), *row)]
    Writing(connection, schema, tables).put_cells(kind, cells)
    alike = " AND ".join(_alike(column.column, column.null, name, kind) for column in words)
    columns = [column.column for column in schema.tables[value].columns]
    taken = [f"{kind}.id" if column == "kind_id" else f"{name}.{column}" for column in columns]
    connection.exec_driver_sql(
        f"INSERT INTO {value} ({_joined(columns)}) SELECT {_joined(taken)} "
        f"FROM {name} JOIN {kind} ON {alike}"
    )
    connection.exec_driver_sql(f"DROP TABLE {name}")


def _alike(column: str, null: bool, one: str, other: str) -> str:
    """The condition that two tables have the same there, NULL included, for both engines."""
    same = f"{one}.{column} = {other}.{column}"
    both = f"{one}.{column} IS NULL AND {other}.{column} IS NULL"
    return f"({same} OR {both})" if null else same


def _joined(columns: Iterable[str]) -> str:
    return ", ".join(columns)
