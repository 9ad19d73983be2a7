"""From the schema file to tables, views and the dictionary of columns in a database."""

import csv
import io
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from sweepbook_plugins.asbuilt.schema import Column, Schema, Table, View

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
    """Make tables and views in an empty database, and fill the dictionary of columns.

    Indexes are left for `make_indexes`: of rows that are there they take a fraction of the time.
    """
    for name in schema.tables:
        tables.tables[name].create(connection)
    make_views(connection, schema)
    fill_dictionary(connection, schema, tables)


def new_table(
    connection: "sa.Connection", schema: Schema, tables: "sa.MetaData", name: str
) -> None:
    """Make one table, whose references are there already, with its indexes."""
    tables.tables[name].create(connection)
    make_indexes_of(connection, schema, tables, name)


def make_indexes(connection: "sa.Connection", schema: Schema, tables: "sa.MetaData") -> None:
    """Make the indexes of all tables."""
    for name in schema.tables:
        make_indexes_of(connection, schema, tables, name)


def make_indexes_of(
    connection: "sa.Connection", schema: Schema, tables: "sa.MetaData", name: str
) -> None:
    """Make the indexes of one table."""
    for index in _indexes(schema.tables[name], tables):
        index.create(connection)


def make_views(connection: "sa.Connection", schema: Schema) -> None:
    """Make the views."""
    for view in schema.views:
        connection.exec_driver_sql(view_statement(view))


def view_statement(view: View) -> str:
    """The statement that makes a view, which SQLite keeps as it is."""
    return f"CREATE VIEW {view.view} AS\n{view.sql}"


def fill_dictionary(connection: "sa.Connection", schema: Schema, tables: "sa.MetaData") -> None:
    """Fill the dictionary of columns, which is empty."""
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
        primary_key=column.column in table.key and not table.heap,
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
        if any_of := known_words(column, schema):
            yield sa.CheckConstraint(any_of, name=f"{table.table}_{column.column}_known")
    if table.natural != table.key:
        yield sa.UniqueConstraint(*table.natural, name=f"{table.table}_natural")


def known_words(column: Column, schema: Schema) -> str:
    """The condition that one of the known words stands in a column; "" where any may."""
    allowed = [f"'{word}'" for word in schema.words[column.words]] if column.words else []
    if column.type == "flag":
        allowed = ["0", "1"]
    return " OR ".join(f"{column.column} = {value}" for value in allowed)


def _indexes(table: Table, tables: "sa.MetaData") -> "Iterator[sa.Index]":
    """The indexes of a table in a fixed order, which they lose once they belong to it."""
    import sqlalchemy as sa

    columns = tables.tables[table.table].c
    if table.heap:
        key = (columns[name] for name in table.key)
        yield sa.Index(f"{table.table}_key", *key, unique=True)
    for index in table.indexes:
        yield sa.Index(f"{table.table}_by_{'_'.join(index)}", *(columns[name] for name in index))
    if table.table == "test":
        current = columns.is_current == 1
        yield sa.Index(
            "test_one_current",
            columns.link_id,
            unique=True,
            sqlite_where=current,
            postgresql_where=current,
        )
