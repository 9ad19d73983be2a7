"""The dictionary says what there is, no more and no less, in the database and beside it."""

import contextlib
import csv
import re
import sqlite3
from pathlib import Path

import pytest
from sqlalchemy.dialects import postgresql
from sqlalchemy.schema import CreateTable

from sweepbook_plugins.asbuilt import figures as asbuilt_figures
from sweepbook_plugins.asbuilt import results as asbuilt_results
from sweepbook_plugins.asbuilt import schema as asbuilt_schema
from sweepbook_plugins.asbuilt import tables as asbuilt_tables

from .made_up import ask, assessed, record, write


@pytest.fixture(scope="module")
def database(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write(tmp_path_factory.mktemp("dictionary") / "a.sqlite", assessed(record("A")))


def _there(database: Path) -> list[tuple[str, str]]:
    """Every column of every table and view, as SQLite tells."""
    names = "SELECT name FROM sqlite_master WHERE type IN ('table', 'view')"
    with contextlib.closing(sqlite3.connect(database)) as connection:
        return sorted(
            (name, row[1])
            for (name,) in connection.execute(names).fetchall()
            for row in connection.execute(f"PRAGMA table_info({name})")
        )


def test_every_column_is_in_the_dictionary(database: Path) -> None:
    told = ask(
        database,
        "SELECT table_name, column_name FROM column_dictionary "
        "WHERE column_name <> '' AND kind <> 'question' ORDER BY table_name, column_name",
    )
    assert told == _there(database)
    assert len(told) > 300


def test_every_entry_says_something(database: Path) -> None:
    for name, column, meaning in ask(
        database, "SELECT table_name, column_name, meaning FROM column_dictionary"
    ):
        assert re.fullmatch(r"[A-Z0-9].*[.?]", meaning[:1].upper() + meaning[1:]), (name, column)


def test_the_file_beside_the_database_is_the_same_dictionary(database: Path) -> None:
    beside = database.with_name("a.sqlite.columns.csv")
    with beside.open(encoding="utf-8", newline="") as stream:
        header, *rows = csv.reader(stream)
    assert tuple(header) == asbuilt_tables.DICTIONARY
    inside = ask(database, "SELECT * FROM column_dictionary ORDER BY position")
    assert rows == [["" if cell is None else str(cell) for cell in row] for row in inside]


def test_the_dictionary_tells_types_and_nulls_as_the_database_has_them(database: Path) -> None:
    types = {
        "text": "TEXT",
        "integer": "INTEGER",
        "real": "REAL",
        "flag": "INTEGER",
        "id": "INTEGER",
    }
    question = "SELECT table_name, column_name, type, may_be_null FROM column_dictionary "
    with contextlib.closing(sqlite3.connect(database)) as connection:
        rows = connection.execute(f"{question} WHERE type IS NOT NULL").fetchall()
        for table, column, kind, may_be_null in rows:
            info = {row[1]: row for row in connection.execute(f"PRAGMA table_info({table})")}
            assert info[column][2] == types[kind]
            assert bool(info[column][3]) != bool(may_be_null)


def test_the_rule_for_the_current_test_is_in_the_dictionary(database: Path) -> None:
    question = "SELECT meaning FROM column_dictionary WHERE column_name = 'is_current'"
    ((meaning,), *_) = ask(database, f"{question} AND table_name = 'test'")
    assert "latest start" in meaning
    assert "latest gathered" in meaning


def test_rows_made_as_plain_cells_have_the_order_of_their_tables() -> None:
    tables = asbuilt_schema.load().tables
    for name, cells in (
        ("result_value", asbuilt_results.COLUMNS),
        ("figure_value", asbuilt_figures.COLUMNS),
        ("result_kind", ("id", "natural_key", *asbuilt_results.KIND)),
        ("figure_kind", ("id", "natural_key", *asbuilt_figures.KIND)),
    ):
        assert cells == tuple(column.column for column in tables[name].columns)


def test_tables_are_made_in_an_order_in_which_each_refers_to_earlier_ones() -> None:
    made: set[str] = set()
    for table in asbuilt_schema.load().tables.values():
        made.add(table.table)
        assert {c.refers.partition(".")[0] for c in table.columns if c.refers} <= made


def test_postgresql_gets_types_that_hold_the_same() -> None:
    """`bigint` for 53 bits, `double precision` for a double (`real` would be half of one there);
    text in byte order, so that sorting does not depend on the server's language (PostgreSQL's
    manual, chapters 8.1 and 24.2)."""
    made = asbuilt_tables.metadata(asbuilt_schema.load())
    text = "".join(
        str(CreateTable(made.tables[name]).compile(dialect=postgresql.dialect()))  # type: ignore[no-untyped-call]
        for name in ("figure_value", "figure_kind")
    )
    assert "test_id BIGINT NOT NULL" in text
    assert "value DOUBLE PRECISION NOT NULL" in text
    assert 'unit TEXT COLLATE "C" NOT NULL' in text
    assert "STRICT" not in text
