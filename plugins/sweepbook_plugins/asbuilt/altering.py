"""Changing a table that has rows, in the ways that a new revision asks for."""

from typing import TYPE_CHECKING

from sweepbook_plugins.asbuilt.schema import Column, Schema
from sweepbook_plugins.asbuilt.tables import known_words, make_indexes_of, new_table

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
    _made_anew(connection, schema, tables, table)


def lay_anew(connection: "sa.Connection", schema: Schema, tables: "sa.MetaData", name: str) -> None:
    """Let a table that no other refers to keep its rows as they come, with an index for its key.

    Args:
        connection: tells the engine.
        schema: has the table.
        tables: the same for SQLAlchemy.
        name: of the table; one that another step made just now is that way already.
    """
    import sqlalchemy as sa

    key = sa.inspect(connection).get_pk_constraint(name)
    if not key["constrained_columns"]:
        return
    if connection.dialect.name == "postgresql":
        connection.exec_driver_sql(f"ALTER TABLE {name} DROP CONSTRAINT {key['name']}")
        make_indexes_of(connection, schema, tables, name)
    else:
        _made_anew(connection, schema, tables, name)


def _made_anew(
    connection: "sa.Connection", schema: Schema, tables: "sa.MetaData", name: str
) -> None:
    """Put a new table of the same columns in the place of one, with its rows."""
    names = ", ".join(one.column for one in schema.tables[name].columns)
    run = connection.exec_driver_sql
    run(f"CREATE TEMPORARY TABLE moved AS SELECT {names} FROM {name}")
    run(f"DROP TABLE {name}")
    new_table(connection, schema, tables, name)
    run(f"INSERT INTO {name} ({names}) SELECT {names} FROM moved")
    run("DROP TABLE moved")


def _column(schema: Schema, table: str, name: str) -> Column:
    return next(one for one in schema.tables[table].columns if one.column == name)
