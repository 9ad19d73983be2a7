"""Bringing a database of an earlier revision to the newest, as the schema file says."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from sweepbook_plugins.asbuilt.altering import add_column, lay_anew, new_words
from sweepbook_plugins.asbuilt.parting import part
from sweepbook_plugins.asbuilt.schema import Schema
from sweepbook_plugins.asbuilt.tables import fill_dictionary, make_views, new_table

if TYPE_CHECKING:
    import sqlalchemy as sa

_VIEWS = "SELECT table_name FROM column_dictionary WHERE kind = 'view' AND column_name = ''"


def oldest(schema: Schema) -> int:
    """The oldest revision that can be brought to the newest."""
    return schema.revision - len(schema.steps)


def migrate(connection: "sa.Connection", schema: Schema, tables: "sa.MetaData", found: int) -> None:
    """Bring a database to the newest revision, step by step; rows that are there stay.

    Views hold nothing, so they are taken away and made anew; views of the owner's are left alone.

    Args:
        connection: in the transaction that is to write a delivery, too.
        schema: the newest one.
        tables: the same for SQLAlchemy.
        found: the revision that the database is of, `oldest` or above.
    """
    for statement in _without_views(connection):
        connection.exec_driver_sql(statement)
    for step in schema.steps[found - oldest(schema) :]:
        for name in step.tables:
            new_table(connection, schema, tables, name)
        for name in step.columns:
            add_column(connection, schema, tables, name)
        for name in step.parted:
            part(connection, schema, tables, name)
        for name in step.relaid:
            lay_anew(connection, schema, tables, name)
        for name in step.words:
            new_words(connection, schema, tables, name)
        for statement in step.statements:
            connection.exec_driver_sql(statement)
    make_views(connection, schema)
    connection.exec_driver_sql("DELETE FROM column_dictionary")
    fill_dictionary(connection, schema, tables)
    connection.exec_driver_sql(
        f"UPDATE about SET value = '{schema.revision}' WHERE name = 'revision'"
    )


def _without_views(connection: "sa.Connection") -> Iterator[str]:
    """PostgreSQL takes views that rest on each other away together, SQLite one by one.

    What the dictionary calls views came with the database, so only views that are there are.
    """
    import sqlalchemy as sa

    there = set(sa.inspect(connection).get_view_names())
    named = [row[0] for row in connection.exec_driver_sql(_VIEWS)]
    quote = connection.dialect.identifier_preparer.quote
    views = [quote(name) for name in named if name in there]
    if connection.dialect.name == "postgresql" and views:
        yield f"DROP VIEW {', '.join(views)}"
    elif views:
        yield from (f"DROP VIEW {view}" for view in views)
