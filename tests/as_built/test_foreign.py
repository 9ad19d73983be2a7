"""A database with our tables that somebody else had in hand: nothing of theirs runs along."""

import contextlib
import sqlite3
from pathlib import Path

import pytest

from sweepbook.errors import SweepbookError
from sweepbook_plugins.asbuilt import database as asbuilt

from .conftest import of_revision
from .made_up import ask, assessed, delivery, record, write

_ENDLESS = "WITH RECURSIVE n(x) AS (SELECT 1 UNION ALL SELECT x + 1 FROM n) SELECT x AS id FROM n"
FOREIGN = {
    "a trigger on a table": (
        "CREATE TRIGGER mine AFTER INSERT ON test "
        "BEGIN UPDATE test SET judgement = 'upheld' WHERE id = NEW.id; END",
        "the trigger 'mine', which would change what is written to test",
    ),
    "a trigger on a view": (
        "CREATE TRIGGER Mine INSTEAD OF INSERT ON open_items BEGIN DELETE FROM test; END",
        "the trigger 'mine'",
    ),
    "a view in place of a table": (
        f"ALTER TABLE job RENAME TO other; CREATE VIEW job AS {_ENDLESS}",
        "a view in place of job",
    ),
    "another view": (
        f"DROP VIEW open_items; CREATE VIEW open_items AS {_ENDLESS}",
        "another open_items than the view that this program makes",
    ),
    "a column that is worked out": (
        "ALTER TABLE test ADD COLUMN mine TEXT AS (hex(zeroblob(400000000)))",
        "works test.mine out by itself",
    ),
    "a virtual table": (
        "DROP TABLE changed_link; CREATE VIRTUAL TABLE changed_link USING fts5(a)",
        "a virtual table in place of changed_link",
    ),
}


def _changed(database: Path, statements: str) -> None:
    with contextlib.closing(sqlite3.connect(database)) as connection, connection:
        connection.executescript("PRAGMA legacy_alter_table = ON;" + statements)


@pytest.mark.parametrize("what", FOREIGN)
@pytest.mark.parametrize("way", ["into it", "since it"])
def test_what_would_run_along_is_refused(tmp_path: Path, what: str, way: str) -> None:
    statements, told = FOREIGN[what]
    target = write(tmp_path / "a.sqlite", assessed(record("A")))
    _changed(target, statements)
    before = target.read_bytes()
    with pytest.raises(SweepbookError, match=told):
        if way == "into it":
            asbuilt.write(delivery([assessed(record("B"))]), target)
        else:
            changed = delivery([assessed(record("B"))], asked={"since": str(target)})
            asbuilt.write(changed, tmp_path / "delta.sqlite")
    assert target.read_bytes() == before
    assert sorted(path.name for path in tmp_path.iterdir()) == [
        "a.sqlite", "a.sqlite.columns.csv",
    ]  # fmt: skip


OLD = {
    "another view of a table that was parted": (
        9,
        f"DROP VIEW result; CREATE VIEW result AS {_ENDLESS}",
        "another result than the view that this program makes",
    ),
    "a view in place of a table that is to be parted": (
        4,
        f"ALTER TABLE result RENAME TO other; CREATE VIEW result AS {_ENDLESS}",
        "another result than the view that this program makes",
    ),
    "a virtual table in place of such a one": (
        4,
        "DROP TABLE figure; CREATE VIRTUAL TABLE figure USING fts5(a)",
        "a virtual table in place of figure",
    ),
    "a column of such a one that is worked out": (
        4,
        "ALTER TABLE result ADD COLUMN mine TEXT AS (hex(zeroblob(400000000)))",
        "works result.mine out by itself",
    ),
}


@pytest.mark.parametrize("what", OLD)
@pytest.mark.parametrize("way", ["into it", "since it"])
def test_what_would_run_along_in_one_of_an_earlier_revision_is_refused(
    tmp_path: Path, what: str, way: str
) -> None:
    revision, statements, told = OLD[what]
    target = of_revision(revision, tmp_path / "a.sqlite")
    _changed(target, statements)
    before = target.read_bytes()
    out, asked = (target, {}) if way == "into it" else (tmp_path / "b", {"since": str(target)})
    with pytest.raises(SweepbookError, match=told):
        asbuilt.write(delivery([assessed(record("B"))], asked=asked), out)
    assert target.read_bytes() == before
    assert [path.name for path in tmp_path.iterdir()] == ["a.sqlite"]


@pytest.mark.parametrize("name", ["no such view", "link; DROP TABLE link"])
def test_what_the_dictionary_of_one_of_an_earlier_revision_calls_a_view_is_taken_for_no_other(
    tmp_path: Path, name: str
) -> None:
    """It names the views that are made anew, and anybody may have written into it."""
    target = of_revision(9, tmp_path / "a.sqlite")
    row = f"('{name}', '', 'view', 0, 'x')"
    columns = "table_name, column_name, kind, position, meaning"
    _changed(target, f"INSERT INTO column_dictionary ({columns}) VALUES {row}")
    links = len(ask(target, "SELECT * FROM link"))
    asbuilt.write(delivery([assessed(record("B"))]), target)
    assert len(ask(target, "SELECT * FROM link")) == links + 1


def test_what_an_owner_put_beside_our_tables_stays(tmp_path: Path) -> None:
    target = write(tmp_path / "a.sqlite", assessed(record("A")))
    _changed(
        target,
        "CREATE TABLE mine (a TEXT); CREATE TABLE seen (a TEXT);"
        "CREATE TRIGGER kept AFTER INSERT ON mine BEGIN INSERT INTO seen VALUES (NEW.a); END;"
        "CREATE VIEW of_mine AS SELECT label FROM link; CREATE INDEX mine_too ON link (label);"
        "INSERT INTO mine VALUES ('x')",
    )
    asbuilt.write(delivery([assessed(record("B"))]), target)
    assert ask(target, "SELECT * FROM mine") == ask(target, "SELECT * FROM seen") == [("x",)]
    assert len(ask(target, "SELECT * FROM of_mine")) == 2
