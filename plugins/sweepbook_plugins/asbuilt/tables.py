"""From the schema file to tables, views and the dictionary of columns in a database."""

import csv
import io
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from sweepbook_plugins.asbuilt.schema import Column, Schema, Table

if TYPE_CHECKING:
    import sqlalchemy as sa

DICTIONARY = (
    "table_name",
    "column_name",
    "kind",
    "position",
    "type",
    "may_be_null",
    "refers_to",
    "unit",
    "words",
    "meaning",
    "sql",
)
Entry = tuple[str | int | None, ...]


def metadata(schema: Schema) -> "sa.MetaData":
    """All tables for SQLAlchemy: STRICT in SQLite, text in byte order in PostgreSQL."""
    import sqlalchemy as sa

    made = sa.MetaData()
    for table in schema.tables.values():
        sa.Table(
            table.table,
            made,
            *(_column(column, table) for column in table.columns),
            *_constraints(table, schema),
            comment=table.title,
            sqlite_strict=True,
            sqlite_with_rowid=not table.compact,
        )
    return made


def create(connection: "sa.Connection", schema: Schema, tables: "sa.MetaData") -> None:
    """Make tables and views in an empty database, and fill the dictionary of columns."""
    tables.create_all(connection)
    for index in _indexes(schema, tables):
        index.create(connection)
    for view in schema.views:
        connection.exec_driver_sql(f"CREATE VIEW {view.view} AS\n{view.sql}")
    rows = [dict(zip(DICTIONARY, entry, strict=True)) for entry in dictionary(schema)]
    connection.execute(tables.tables["column_dictionary"].insert(), rows)


def dictionary(schema: Schema) -> Iterator[Entry]:
    """The rows of the dictionary, in the order of `DICTIONARY`."""
    for position, entry in enumerate(_entries(schema)):
        table, column, kind, *rest = entry
        yield (table, column, kind, position, *rest)


def dictionary_csv(schema: Schema) -> bytes:
    """The dictionary as a CSV file (RFC 4180) in UTF-8."""
    stream = io.StringIO(newline="")
    writer = csv.writer(stream)
    writer.writerow(DICTIONARY)
    writer.writerows(dictionary(schema))
    return stream.getvalue().encode()


def _entries(schema: Schema) -> Iterator[Entry]:
    """Table, column, kind, then from type on."""
    nothing = (None,) * 5
    for table in schema.tables.values():
        yield (table.table, "", "table", *nothing, table.title, None)
        for column in table.columns:
            words = " | ".join(schema.words[column.words]) if column.words else None
            described = (column.type, int(column.null), column.refers or None, column.unit or None)
            yield (table.table, column.column, "table", *described, words, column.meaning, None)
    for view in schema.views:
        yield (view.view, "", "view", *nothing, view.title, None)
        for name, meaning in view.columns.items():
            yield (view.view, name, "view", *nothing, meaning, None)
    for question in schema.questions:
        yield (question.question, "", "question", *nothing, question.asks, question.sql)


def _column(column: Column, table: Table) -> "sa.Column[Any]":
    import sqlalchemy as sa

    refers = [sa.ForeignKey(column.refers)] if column.refers else []
    return sa.Column(
        column.column,
        _type(column.type),
        *refers,
        primary_key=column.column in table.key,
        autoincrement=False,
        nullable=column.null,
        comment=column.meaning,
    )


def _type(name: str) -> Any:  # noqa: ANN401 - SQLAlchemy's types have no common parameter
    """The type of both engines; a STRICT table knows TEXT, INTEGER and REAL."""
    import sqlalchemy as sa

    if name == "text":
        return sa.Text().with_variant(sa.Text(collation="C"), "postgresql")
    if name == "real":
        return sa.Double().with_variant(sa.REAL(), "sqlite")
    if name == "id":
        return sa.BigInteger().with_variant(sa.Integer(), "sqlite")
    return {"integer": sa.Integer, "flag": sa.Integer}[name]()


def _constraints(table: Table, schema: Schema) -> "Iterator[sa.schema.SchemaItem]":
    """Words and flags, natural keys.

    The words stand one by one: SQLite builds a temporary table for every row that an
    `IN (...)` of more than two words looks at, which made writing three times slower.
    """
    import sqlalchemy as sa

    for column in table.columns:
        name = column.column
        allowed = [f"'{word}'" for word in schema.words[column.words]] if column.words else []
        if column.type == "flag":
            allowed = ["0", "1"]
        if allowed:
            any_of = " OR ".join(f"{name} = {value}" for value in allowed)
            yield sa.CheckConstraint(any_of, name=f"{table.table}_{name}_known")
    if table.natural != table.key:
        yield sa.UniqueConstraint(*table.natural, name=f"{table.table}_natural")


def _indexes(schema: Schema, tables: "sa.MetaData") -> "Iterator[sa.Index]":
    """The indexes in a fixed order, which they lose once they belong to their tables."""
    import sqlalchemy as sa

    for table in schema.tables.values():
        columns = tables.tables[table.table].c
        for index in table.indexes:
            yield sa.Index(
                f"{table.table}_by_{'_'.join(index)}", *(columns[name] for name in index)
            )
    test = tables.tables["test"].c
    current = test.is_current == 1
    yield sa.Index(
        "test_one_current",
        test.link_id,
        unique=True,
        sqlite_where=current,
        postgresql_where=current,
    )
