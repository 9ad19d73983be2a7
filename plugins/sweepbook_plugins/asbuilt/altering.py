"""Changing a table that has rows, in the two ways that a new revision asks for."""

from typing import TYPE_CHECKING

from sweepbook_plugins.asbuilt.schema import Column, Schema
from sweepbook_plugins.asbuilt.tables import known_words, new_table

if TYPE_CHECKING:
    import sqlalchemy as sa


def add_column(
    connection: "sa.Connection", schema: Schema, tables: "sa.MetaData", name: str
) -> None:
    """Add a column, which may be NULL.

    Args:
        connection: tells the engine.
        schema: has the column.
        tables: the same for SQLAlchemy.
        name: table and column, "job.number".
    """
    import sqlalchemy as sa

    table, _, column = name.partition(".")
    described = _column(schema, table, column)
    made = sa.schema.CreateColumn(tables.tables[table].c[column])
    text = str(made.compile(dialect=connection.dialect))
    if described.refers:
        other, _, its = described.refers.partition(".")
        text += f" REFERENCES {other} ({its})"
    if known := known_words(described, schema):
        text += f" CONSTRAINT {table}_{column}_known CHECK ({known})"
    connection.exec_driver_sql(f"ALTER TABLE {table} ADD COLUMN {text}")


def new_words(
    connection: "sa.Connection", schema: Schema, tables: "sa.MetaData", name: str
) -> None:
    """Let a column of a table that no other refers to take the words that it may hold now.

    SQLite cannot change a condition; there the table is made anew and its rows are moved (its
    manual on ALTER TABLE, section 7).

    Args:
        connection: tells the engine.
        schema: has the words.
        tables: the same for SQLAlchemy.
        name: table and column, "scheduled.state".
    """
    table, _, column = name.partition(".")
    described = _column(schema, table, column)
    run = connection.exec_driver_sql
    if connection.dialect.name == "postgresql":
        known = f"{table}_{column}_known"
        run(f"ALTER TABLE {table} DROP CONSTRAINT {known}")
        run(f"ALTER TABLE {table} ADD CONSTRAINT {known} CHECK ({known_words(described, schema)})")
        return
    names = ", ".join(one.column for one in schema.tables[table].columns)
    run(f"CREATE TEMPORARY TABLE moved AS SELECT {names} FROM {table}")
    run(f"DROP TABLE {table}")
    new_table(connection, schema, tables, table)
    run(f"INSERT INTO {table} ({names}) SELECT {names} FROM moved")
    run("DROP TABLE moved")


def _column(schema: Schema, table: str, name: str) -> Column:
    return next(one for one in schema.tables[table].columns if one.column == name)
