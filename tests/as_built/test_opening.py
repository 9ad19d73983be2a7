"""What is there is never lost: not a database of somebody else, not ours when something fails."""

import contextlib
import os
import sqlite3
from collections.abc import Iterator
from pathlib import Path

import pytest
import sqlalchemy as sa

from sweepbook.errors import SweepbookError
from sweepbook.judging.assessment import Assessment
from sweepbook_plugins.asbuilt import database as asbuilt
from sweepbook_plugins.asbuilt import opening as asbuilt_opening
from sweepbook_plugins.asbuilt import schema as asbuilt_schema
from sweepbook_plugins.asbuilt import sqlite_file
from sweepbook_plugins.asbuilt.entities import Row

from .made_up import ask, assessed, delivery, dump, record, write


def _breaking_off() -> Iterator[Assessment]:
    for number in range(asbuilt_batch() + 10):
        yield assessed(record(f"N-{number}"))
    raise SweepbookError("The source is gone.", "Bring it back.")


def asbuilt_batch() -> int:
    from sweepbook_plugins.asbuilt.load import BATCH

    return BATCH


def _change(database: Path, statement: str) -> None:
    with contextlib.closing(sqlite3.connect(database)) as connection, connection:
        connection.execute(statement)


def test_what_is_no_file_is_left_alone(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(SweepbookError, match="is no regular file"):
        write(tmp_path / "pipe", assessed(record("A")))
    assert [path.is_fifo() for path in tmp_path.iterdir()] == [True]


def test_a_delivery_that_breaks_off_leaves_no_new_database(tmp_path: Path) -> None:
    with pytest.raises(SweepbookError, match="is gone"):
        asbuilt.write(delivery(_breaking_off()), tmp_path / "a.sqlite")
    assert list(tmp_path.iterdir()) == []


def test_a_delivery_that_breaks_off_leaves_an_old_database_as_it_was(tmp_path: Path) -> None:
    target = write(tmp_path / "a.sqlite", assessed(record("A")))
    before = dump(target)
    with pytest.raises(SweepbookError, match="is gone"):
        asbuilt.write(delivery(_breaking_off()), target)
    assert dump(target) == before
    assert sorted(path.name for path in tmp_path.iterdir()) == [
        "a.sqlite", "a.sqlite.columns.csv",
    ]  # fmt: skip


def test_an_empty_delivery_makes_a_database_that_answers(tmp_path: Path) -> None:
    target = write(tmp_path / "a.sqlite")
    assert ask(target, "SELECT * FROM open_items") == []
    assert ask(target, "SELECT name FROM job") == [("Library",)]
    before = dump(write(target, assessed(record("A"))))
    assert dump(write(target)) == before


@pytest.mark.parametrize(
    ("statement", "message"),
    [
        ("CREATE TABLE stock (part TEXT)", "of another kind"),
        ("UPDATE about SET value = 'urn:sweepbook:as-built-1' WHERE name = 'schema'", "as-built-1"),
        ("UPDATE about SET value = '999' WHERE name = 'revision'", "revision 999"),
    ],
)
def test_another_database_is_refused_and_left_alone(
    tmp_path: Path, statement: str, message: str
) -> None:
    target = tmp_path / "a.sqlite"
    if statement.startswith("UPDATE"):
        write(target, assessed(record("A")))
    _change(target, statement)
    before = target.read_bytes()
    with pytest.raises(SweepbookError, match=message):
        write(target, assessed(record("B")))
    assert target.read_bytes() == before


@pytest.mark.parametrize(
    ("statements", "message"),
    [
        (["DROP TABLE cable"], "lacks the table cable, which"),
        (["DROP TABLE cable", "DROP TABLE spelling"], "lacks the tables cable, spelling, which"),
        (["ALTER TABLE spelling DROP COLUMN said"], "lacks the column said of the table"),
    ],
)
def test_a_database_that_lost_a_part_of_it_is_named_and_left_alone(
    tmp_path: Path, statements: list[str], message: str
) -> None:
    target = write(tmp_path / "a.sqlite", assessed(record("A")))
    for statement in statements:
        _change(target, statement)
    before = target.read_bytes()
    with pytest.raises(SweepbookError, match=message) as caught:
        write(target, assessed(record("B")))
    assert "Take the database back from a copy" in caught.value.todo
    assert target.read_bytes() == before


def test_a_file_that_is_no_database_is_refused_and_left_alone(tmp_path: Path) -> None:
    target = tmp_path / "notes.sqlite"
    target.write_text("call the caretaker " * 100)
    with pytest.raises(SweepbookError, match="not a database") as caught:
        write(target, assessed(record("A")))
    assert caught.value.todo.startswith("Choose another file")
    assert target.read_text().startswith("call the caretaker")


def test_a_folder_is_refused(tmp_path: Path) -> None:
    with pytest.raises(SweepbookError, match="is a folder, and what is written is one file"):
        write(tmp_path, assessed(record("A")))


def test_an_empty_file_becomes_a_database(tmp_path: Path) -> None:
    target = tmp_path / "a.sqlite"
    target.touch()
    write(target, assessed(record("A")))
    assert ask(target, "SELECT label FROM current_state") == [("A",)]


def test_a_database_that_another_program_writes_to_is_waited_for_and_then_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sqlite_file, "WAIT_SECONDS", 0.1)
    target = write(tmp_path / "a.sqlite", assessed(record("A")))
    with contextlib.closing(sqlite3.connect(target, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(SweepbookError, match="locked") as caught:
            write(target, assessed(record("B")))
    assert "Another program" in caught.value.todo


def test_a_database_made_in_the_meantime_is_not_overwritten(tmp_path: Path) -> None:
    target = tmp_path / "a.sqlite"

    def entries() -> Iterator[Assessment]:
        yield assessed(record("A"))
        write(target, assessed(record("B")))

    with pytest.raises(SweepbookError, match="in the meantime"):
        asbuilt.write(delivery(entries()), target)
    assert ask(target, "SELECT label FROM link") == [("B",)]


@pytest.mark.parametrize("fresh", [True, False])
def test_a_reference_to_nothing_is_never_kept(tmp_path: Path, fresh: bool) -> None:
    """A new file is looked at as a whole before it takes its place; an old one row by row."""
    target, before = tmp_path / "a.sqlite", []
    if not fresh:
        before = dump(write(target, assessed(record("A"))))
    loose = "INSERT INTO test_source VALUES (1, 2, 'line 3')"
    with (
        pytest.raises((SweepbookError, sa.exc.IntegrityError), match=r"refers to none|FOREIGN KEY"),
        asbuilt_opening.opened(target, asbuilt_schema.load()) as database,
    ):
        assert database.fresh == fresh
        database.writing.connection.exec_driver_sql(loose)
    assert [dump(path) for path in tmp_path.glob("*.sqlite")] == ([] if fresh else [before])


@pytest.mark.parametrize("fresh", [True, False])
def test_a_result_of_no_test_is_never_kept(tmp_path: Path, fresh: bool) -> None:
    """Of these tables a new file is looked at as rows go in: the rest takes too long at the end."""
    target, schema = tmp_path / "a.sqlite", asbuilt_schema.load()
    if not fresh:
        write(target)
    with (
        pytest.raises((SweepbookError, sa.exc.IntegrityError), match=r"refers to none|FOREIGN KEY"),
        asbuilt_opening.opened(target, schema) as database,
    ):
        kind: Row = {"id": 7, "natural_key": "[]", "parameter": "length", "unit": "m"}
        database.writing.put("figure_kind", [kind])
        lost: Row = {"test_id": 1, "position": 0, "kind_id": 7, "value": 60.0}
        database.writing.put("figure_value", [lost])
    assert target.exists() == (not fresh)


def test_two_links_that_came_to_one_number_are_told_apart(tmp_path: Path) -> None:
    """Odds are below one in a hundred million for a job of 10,000 links, but not nought."""
    target = write(tmp_path / "a.sqlite", assessed(record("A")))
    with contextlib.closing(sqlite3.connect(target)) as connection, connection:
        connection.execute("UPDATE link SET natural_key = '[\"something else\"]'")
    with pytest.raises(SweepbookError, match="UNIQUE") as caught:
        write(target, assessed(record("A")))
    assert "another name" in caught.value.todo
