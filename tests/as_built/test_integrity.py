"""The database itself refuses what cannot be: it is not only the writer that is careful."""

import contextlib
import sqlite3
from collections.abc import Iterator
from pathlib import Path

import pytest

from sweepbook.findings import Severity

from .made_up import assessed, margin, record, write


@pytest.fixture(scope="module")
def database(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A database with one test of one link."""
    end = {"place": {"space": "TR-1"}, "termination": "K1-1"}
    cable = {"cable": {"maker": "Pellumbra"}, "external_ids": [{"system": "assets", "id": "7"}]}
    length = {"parameter": "length", "pairs": [], "length_m": 60, "decimals": 0}
    made = record("A", end, end, "2024-03-01T09:00:00Z", link=cable, scalars=[length])
    finding = [("REC004", Severity.WARNING, "old")]
    entry = assessed(made, margins=[margin("next", "near", ("1-2", "3-6"), 2.0)], findings=finding)
    return write(tmp_path_factory.mktemp("integrity") / "a.sqlite", entry)


@pytest.fixture
def connection(database: Path) -> Iterator[sqlite3.Connection]:
    """The database in memory, with foreign keys enforced; changes reach nobody else."""
    with contextlib.closing(sqlite3.connect(":memory:")) as opened:
        with contextlib.closing(sqlite3.connect(database)) as there:
            there.backup(opened)
        opened.execute("PRAGMA foreign_keys = ON")
        yield opened


def _tables(connection: sqlite3.Connection) -> list[str]:
    question = "SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name"
    return [name for (name,) in connection.execute(question)]


def test_every_table_is_strict(connection: sqlite3.Connection) -> None:
    question = "SELECT name FROM pragma_table_list WHERE schema = 'main' AND type = 'table' "
    loose = connection.execute(f"{question} AND NOT strict AND name NOT LIKE 'sqlite%'").fetchall()
    assert loose == []
    assert len(_tables(connection)) >= 20


def test_the_database_is_whole(connection: sqlite3.Connection) -> None:
    assert connection.execute("PRAGMA foreign_key_check").fetchall() == []
    assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]


@pytest.mark.parametrize(
    ("table", "column"),
    [
        ("link", "job_id"),
        ("link", "near_place_id"),
        ("link", "far_termination_id"),
        ("termination", "place_id"),
        ("place", "parent_id"),
        ("cable", "link_id"),
        ("test", "link_id"),
        ("test", "limit_table_id"),
        ("test", "basis_id"),
        ("test", "replaced_by"),
        ("test_end", "instrument_id"),
        ("test_source", "source_id"),
        ("external_id", "link_id"),
        ("result_value", "test_id"),
        ("result_value", "kind_id"),
        ("figure_value", "test_id"),
        ("figure_value", "kind_id"),
        ("finding", "rule"),
    ],
)
def test_a_reference_to_nothing_is_refused(
    connection: sqlite3.Connection, table: str, column: str
) -> None:
    assert connection.execute(f"SELECT COUNT(*) FROM {table}").fetchone()[0] > 0
    with pytest.raises(sqlite3.IntegrityError, match="FOREIGN KEY"):
        connection.execute(f"UPDATE {table} SET {column} = 1234567")


def test_a_row_about_no_test_cannot_be_added(connection: sqlite3.Connection) -> None:
    with pytest.raises(sqlite3.IntegrityError, match="FOREIGN KEY"):
        connection.execute(
            "INSERT INTO figure_value (test_id, position, kind_id, value) "
            "SELECT 42, 0, id, 60.0 FROM figure_kind"
        )


def test_a_test_that_has_results_cannot_be_removed(connection: sqlite3.Connection) -> None:
    with pytest.raises(sqlite3.IntegrityError, match="FOREIGN KEY"):
        connection.execute("DELETE FROM test")


@pytest.mark.parametrize(
    ("table", "column"),
    [
        ("result_value", "worst_margin"),
        ("figure_value", "value"),
        ("test", "nvp"),
        ("place", "parent_id"),
    ],
)
def test_text_is_no_number(connection: sqlite3.Connection, table: str, column: str) -> None:
    with pytest.raises(sqlite3.IntegrityError, match=r"cannot store TEXT value|datatype mismatch"):
        connection.execute(f"UPDATE {table} SET {column} = 'about 3'")


def test_a_figure_has_a_value(connection: sqlite3.Connection) -> None:
    """SQLite turns NaN into NULL, and NULL is refused."""
    with pytest.raises(sqlite3.IntegrityError, match="NOT NULL"):
        connection.execute("UPDATE figure_value SET value = ?", (float("nan"),))


@pytest.mark.parametrize(
    ("table", "column", "word"),
    [
        ("test", "judgement", "good"),
        ("test", "stated", "PASS"),
        ("test", "recomputed", "unproven"),
        ("test", "is_current", 2),
        ("test_end", "at_end", "middle"),
        ("result_kind", "outcome", "passed"),
        ("result_kind", "obligation", "nice"),
        ("finding", "severity", "fatal"),
        ("link", "near_said_by", "guess"),
    ],
)
def test_words_that_are_not_in_the_list_are_refused(
    connection: sqlite3.Connection, table: str, column: str, word: object
) -> None:
    with pytest.raises(sqlite3.IntegrityError, match="CHECK"):
        connection.execute(f"UPDATE {table} SET {column} = ?", (word,))


def test_a_link_has_one_current_test_at_most(connection: sqlite3.Connection) -> None:
    names = [row[1] for row in connection.execute("PRAGMA table_info(test)")]
    others = ", ".join(name for name in names if name not in ("id", "record_id"))
    with pytest.raises(sqlite3.IntegrityError, match=r"UNIQUE.*test\.link_id"):
        connection.execute(
            f"INSERT INTO test (id, record_id, {others}) SELECT 7, 'sb0-other', {others} FROM test"
        )


def test_numbers_of_rows_are_exact_in_programs_that_hold_doubles(
    connection: sqlite3.Connection,
) -> None:
    for table in ("job", "place", "link", "test", "instrument", "source"):
        for (number,) in connection.execute(f"SELECT id FROM {table}"):
            assert 0 <= number < 2**53
            assert int(float(number)) == number
