"""Statements that put rows into their tables, made once and run for many rows."""

from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING, Any

from sweepbook_plugins.asbuilt import sqlite_file
from sweepbook_plugins.asbuilt.loose_ends import References
from sweepbook_plugins.asbuilt.schema import Schema
from sweepbook_plugins.asbuilt.tables import make_indexes

if TYPE_CHECKING:
    import sqlalchemy as sa

    from sweepbook_plugins.asbuilt.entities import Row
    from sweepbook_plugins.asbuilt.values import Value

TOGETHER = 40
"""Rows of one statement, where the engine is SQLite."""


class Writing:
    """Rows into tables through one connection; the driver is handed plain tuples."""

    def __init__(
        self,
        connection: "sa.Connection",
        schema: Schema,
        tables: "sa.MetaData",
        indexed: bool = True,
    ) -> None:
        self.connection = connection
        self._schema = schema
        self._tables = tables
        self._indexed = indexed
        self._made: dict[tuple[str, str], str] = {}
        self._references = References(connection)

    def index(self) -> None:
        """Make the indexes, where that has been left until the rows are there."""
        if not self._indexed:
            with sqlite_file.small_sorts(self.connection):
                make_indexes(self.connection, self._schema, self._tables)
            self._indexed = True

    def put(self, table: str, rows: "Iterable[Row]", there: str = "") -> None:
        """Put rows into a table; a column that a row lacks is NULL.

        Args:
            table: its name.
            rows: by column.
            there: what happens to a row that is there already, instead of what the schema says.
        """
        names = self._schema.tables[table].names
        self.put_cells(table, [row.get(name) for row in rows for name in names], there)

    def put_cells(self, table: str, cells: "Sequence[Value]", there: str = "") -> None:
        """Put rows into a table.

        Args:
            table: its name.
            cells: of all rows, one after the other, each in the order of the columns.
            there: as in `put`.
        """
        if not cells:
            return
        described = self._schema.tables[table]
        how, width = there or described.there, len(described.columns)
        if described.heap and not self._indexed and not self._on_postgresql:
            self._references.refuse_loose(described, cells)
        if not self._on_postgresql:
            self._put_together(self._insert(table, how), cells, width)
        elif how == "rewrite":
            self._copy(table, cut(cells, width))
        else:
            self.connection.exec_driver_sql(self._insert(table, how), [*cut(cells, width)])

    def clear(self, table: str, owners: Iterable[int]) -> None:
        """Take out the rows of some tests or jobs."""
        import sqlalchemy as sa

        numbers = [(owner,) for owner in owners]
        if numbers:
            owned = self._tables.tables[table]
            owner = owned.c[self._schema.tables[table].owner]
            made = owned.delete().where(owner == sa.bindparam("owner"))
            self.connection.exec_driver_sql(
                str(made.compile(dialect=self.connection.dialect)), numbers
            )

    def _put_together(self, statement: str, cells: "Sequence[Value]", width: int) -> None:
        """Put in many rows with a statement, which takes a third of the time in SQLite.

        There a statement has 32,766 parameters at most (its page on limits).
        """
        count = len(cells) - len(cells) % (width * TOGETHER)
        if count:
            into, values, rest = statement.partition(" VALUES ")
            marks, closed, more = rest.partition(")")
            many = into + values + ", ".join([marks + closed] * TOGETHER) + more
            self.connection.exec_driver_sql(many, [*cut(cells[:count], width * TOGETHER)])
        if count < len(cells):
            self.connection.exec_driver_sql(statement, [*cut(cells[count:], width)])

    @property
    def _on_postgresql(self) -> bool:
        return self.connection.dialect.name == "postgresql"

    def _copy(self, table: str, rows: "Iterable[tuple[Value, ...]]") -> None:
        """Put in rows none of which is there, in the way that is many times as fast."""
        names = ", ".join(column.column for column in self._schema.tables[table].columns)
        driver: Any = self.connection.connection.dbapi_connection
        with driver.cursor() as cursor, cursor.copy(f"COPY {table} ({names}) FROM STDIN") as copy:
            for row in rows:
                copy.write_row(row)

    def _insert(self, table: str, there: str) -> str:
        """The statement as the driver takes it; each column is a parameter, in order."""
        key = (table, there)
        if key not in self._made:
            described = self._schema.tables[table]
            statement = _engines_insert(self.connection, self._tables.tables[table])
            natural = list(described.natural)
            if there == "keep":
                statement = statement.on_conflict_do_nothing(index_elements=natural)
            elif there == "update":
                fixed = {*described.key, *described.natural}
                changed = [c for c in described.columns if c.column not in fixed and not c.kept]
                news = {c.column: statement.excluded[c.column] for c in changed}
                statement = statement.on_conflict_do_update(index_elements=natural, set_=news)
            self._made[key] = str(statement.compile(dialect=self.connection.dialect))
        return self._made[key]


def cut(cells: "Sequence[Value]", width: int) -> "Iterator[tuple[Value, ...]]":
    """Rows of this width out of cells that stand one after the other."""
    return (tuple(cells[at : at + width]) for at in range(0, len(cells), width))


def _engines_insert(connection: "sa.Connection", table: "sa.Table") -> Any:  # noqa: ANN401
    """An INSERT that knows ON CONFLICT, which both engines spell alike."""
    from sqlalchemy.dialects import postgresql, sqlite

    engine = postgresql if connection.dialect.name == "postgresql" else sqlite
    return engine.insert(table)
