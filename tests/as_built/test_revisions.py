"""A database of an earlier revision is brought to the newest by the next export."""

import hashlib
import json
from collections.abc import Iterator
from dataclasses import replace
from itertools import chain
from pathlib import Path
from typing import Any

import pytest

from sweepbook.errors import SweepbookError
from sweepbook.judging.assessment import Assessment
from sweepbook.project.job import Job
from sweepbook_plugins.asbuilt import opening as asbuilt_opening
from sweepbook_plugins.asbuilt import schema as asbuilt_schema
from sweepbook_plugins.asbuilt import tables as asbuilt_tables
from sweepbook_plugins.asbuilt.schema import Schema, Table
from sweepbook_plugins.asbuilt.writing import Writing

from .conftest import of_revision
from .either import Place, ask, connected, content, put, write
from .made_up import assessed, delivery, dump, margin, record
from .test_postgresql import NewDatabase

OLDEST = 4
NEWEST = asbuilt_schema.load()
MARGINAL = replace(assessed(record("hall 2")), marginal="0.10 dB", again=True)


def _of_revision_4(schema: Schema) -> Schema:
    """The schema without what the steps brought: as its tables were in revision 4."""
    schema = _of_revision_9(schema)
    brought = {name for step in schema.steps for name in (*step.tables, *step.columns)}
    parted = [name for step in schema.steps for name in step.parted]
    whole = {f"{name}_value": _whole(schema, name) for name in parted}
    kinds = {f"{name}_kind" for name in parted}
    kept = {n: whole.get(n, table) for n, table in schema.tables.items() if n not in kinds}
    words = {**schema.words, "schedule state": tuple(_OLD_STATES)}
    tables = {
        table.table: replace(
            table,
            columns=tuple(c for c in table.columns if f"{name}.{c.column}" not in brought),
        )
        for name, table in kept.items()
        if name not in brought
    }
    return replace(schema, revision=OLDEST, steps=(), tables=tables, words=words, views=())


def _of_revision_9(schema: Schema) -> Schema:
    """The schema with the tables that were laid anew, or got columns, since as they were."""
    relaid = {name for step in schema.steps for name in step.relaid}
    tables = {
        name: replace(table, heap=False, compact=True) if name in relaid else table
        for name, table in schema.tables.items()
        if name != "set_finding_test"
    }
    test = tables["test"]
    former = tuple(column for column in test.columns if column.column != "export_of")
    tables["test"] = replace(test, columns=former)
    return replace(schema, revision=9, tables=tables)


def _whole(schema: Schema, name: str) -> Table:
    """A table that was parted, as it was: it had the columns that the view of its name has."""
    kind, value = (schema.tables[f"{name}_{end}"] for end in ("kind", "value"))
    columns = {column.column: column for column in (*kind.columns, *value.columns)}
    ordered = tuple(columns[column] for column in schema.fields()[name])
    return replace(value, table=name, columns=ordered)


_OLD_STATES = (
    *("passed", "passed on retest", "passed, no limit asked for", "failed", "verdict overturned"),
    *("unproven", "tested to a lesser limit", "other configuration", "tested to another limit"),
    *("untested", "not on the schedule"),
)


@pytest.fixture
def old_server(new_database: NewDatabase, old_file: Path) -> Place:
    """A database on the server with the same tables and rows; nobody has one of that age."""
    return _on_server(new_database(), old_file, _of_revision_4(NEWEST))


def _on_server(server: Place, old_file: Path, old: Schema) -> Place:
    made = asbuilt_tables.metadata(old)
    with connected(old_file) as file, asbuilt_opening.transaction(server) as connection:
        # a row may refer to one that comes after it
        connection.exec_driver_sql("SET LOCAL session_replication_role = 'replica'")
        for name, table in old.tables.items():
            asbuilt_tables.new_table(connection, old, made, name)
            rows = file.exec_driver_sql(f"SELECT {_names(table)} FROM {name}").fetchall()
            Writing(connection, old, made).put_cells(name, [*chain.from_iterable(rows)])
        views = "SELECT sql FROM sqlite_master WHERE type = 'view' ORDER BY rowid"
        for (made_by,) in file.exec_driver_sql(views).fetchall():
            connection.exec_driver_sql(made_by)
    return server


def _names(table: Table) -> str:
    return ", ".join(column.column for column in table.columns)


@pytest.fixture(params=["file", "server"])
def old(request: pytest.FixtureRequest) -> Place:
    place: Place = request.getfixturevalue(f"old_{request.param}")
    return place


def _structure(place: Place) -> dict[str, Any]:
    """Columns, keys, references, indexes, conditions and views, without the order of conditions."""
    import sqlalchemy as sa

    with connected(place) as connection:
        known = sa.inspect(connection)
        return {
            name: (
                [(c["name"], str(c["type"]), c["nullable"]) for c in known.get_columns(name)],
                known.get_pk_constraint(name)["constrained_columns"],
                sorted(
                    (f["constrained_columns"], f["referred_table"], f["referred_columns"])
                    for f in known.get_foreign_keys(name)
                ),
                sorted((i["name"] or "", i["column_names"]) for i in known.get_indexes(name)),
                sorted(c["sqltext"] for c in known.get_check_constraints(name)),
                sorted(str(u["column_names"]) for u in known.get_unique_constraints(name)),
            )
            for name in known.get_table_names()
        } | {name: known.get_view_definition(name) for name in known.get_view_names()}


def test_the_fixture_is_what_it_says(old_file: Path) -> None:
    assert ask(old_file, "SELECT value FROM about WHERE name = 'revision'") == [("4",)]
    columns = set(_names(NEWEST.tables["job"]).split(", "))
    assert {name for (name, *_) in _structure(old_file)["job"][0]} < columns
    counts = ask(old_file, "SELECT COUNT(*), SUM(replaced_by IS NOT NULL) FROM test")
    assert counts == [(6, 1)]


def test_what_was_brought_to_the_newest_is_built_as_a_new_one_is(
    request: pytest.FixtureRequest, old: Place, tmp_path: Path
) -> None:
    new = tmp_path / "new.sqlite"
    place: Place = new if isinstance(old, Path) else request.getfixturevalue("new_database")()
    write(old, assessed(record("hall 1")), title="Quay")
    write(place, assessed(record("hall 1")), title="Quay")
    assert _structure(old) == _structure(place)
    told = "SELECT * FROM column_dictionary WHERE kind <> 'question' ORDER BY position"
    asked = "SELECT table_name, position FROM column_dictionary WHERE kind = 'question' ORDER BY 2"
    for question in (told, asked):  # what questions name is what each database holds
        assert ask(old, question) == ask(place, question)
    if isinstance(old, Path):
        strict = "SELECT name, strict, wr FROM pragma_table_list WHERE schema = 'main' ORDER BY 1"
        assert ask(old, strict) == ask(place, strict)
        assert ask(old, "PRAGMA foreign_key_check") == []
        assert ask(old, "PRAGMA integrity_check") == [("ok",)]


@pytest.mark.parametrize("engine", ["sqlite", "postgresql"])
def test_one_of_revision_9_has_all_its_rows_and_is_built_as_a_new_one_is(
    request: pytest.FixtureRequest, tmp_path: Path, engine: str
) -> None:
    """A view of the owner's that rests on a table which is laid anew is none of our business."""
    file = of_revision(9, tmp_path / "old.sqlite")
    old: Place = file
    new: Place = tmp_path / "new.sqlite"
    if engine == "postgresql":
        made: NewDatabase = request.getfixturevalue("new_database")
        old, new = _on_server(made(), file, _of_revision_9(NEWEST)), made()
    with connected(old) as connection:
        own = "CREATE VIEW own AS SELECT COUNT(*) AS results FROM result_value"
        connection.exec_driver_sql(own)
    before = content(old)
    assert before["own"] == [(8,)]
    (said,) = write(old, title="Annex")
    assert "of revision 9 " in said
    after = content(old)
    assert after.pop("set_finding_test") == []
    for name in ("test", "test_history"):
        assert [row[-1] for row in after[name]] == [None] * len(before[name])  # export_of
        after[name] = [row[:-1] for row in after[name]]
    assert after.keys() == before.keys()
    written = {"about", "column_dictionary", "job", "basis", "basis_item", "rule"}
    assert [name for name in before.keys() - written if after[name] != before[name]] == []
    with connected(old) as connection:
        connection.exec_driver_sql("DROP VIEW own")
    write(new)
    assert _structure(old) == _structure(new)


def test_every_row_is_kept(old: Place, old_file: Path) -> None:
    """An export of nothing at all, into another job, changes no row that is there."""
    before = {}
    for name, table in _of_revision_4(NEWEST).tables.items():
        if name not in ("about", "column_dictionary", "rule"):
            before[name] = ask(old_file, f"SELECT {_names(table)} FROM {name}"), _names(table)
    write(old, title="Another job")
    for name, (rows, names) in before.items():
        told = ask(old, f"SELECT {names} FROM {name}")
        assert set(rows) <= set(told), name
    assert ask(old, "SELECT COUNT(*) FROM current_state") == [(4,)]


def test_kinds_have_the_numbers_that_another_database_gives_them(old: Place) -> None:
    write(old, assessed(record("hall 1"), margins=[margin("next", "near", ("1-2", "3-6"), 2.0)]))
    for table in ("figure_kind", "result_kind"):
        rows = ask(old, f"SELECT * FROM {table}")
        assert len(rows) >= 1
        assert len({tuple(words) for _, _, *words in rows}) == len(rows)
        for number, key, *words in rows:
            assert json.loads(key) == words
            assert number == int(hashlib.sha256(key.encode()).hexdigest(), 16) >> (256 - 53)


def test_it_is_told_once_and_the_new_columns_are_filled(old: Place) -> None:
    job = Job(number="4711", owner="Quay Estates", warranty_years=15, marginal_pass="retest")
    scheduled = "SELECT label, kind FROM open_items WHERE label = 'hall 2'"
    for count, said in enumerate((["revision 4"], [])):
        whole = delivery([MARGINAL], title="Quay")
        whole = replace(whole, about=replace(whole.about, job=job))
        put(whole, old)
        assert [text for text in whole.remarks if "revision" not in text] == []
        assert all(one in text for one, text in zip(said, whole.remarks, strict=True)), count
    told = "SELECT number, owner, warranty_years, marginal_pass FROM job WHERE name = 'Quay'"
    assert ask(old, told) == [("4711", "Quay Estates", 15, "retest")]
    assert ask(old, "SELECT number FROM job WHERE name = 'Annex'") == [(None,)]
    again = "A marginal pass, which the quality plan asks to have tested again: 0.10 dB."
    assert ask(old, "SELECT again FROM test WHERE label = 'hall 2'") == [(again,)]
    assert ask(old, scheduled) == [
        ("hall 2", "not on the schedule"),
        ("hall 2", "marginal, to be tested again"),
    ]


def _breaking_off() -> Iterator[Assessment]:
    yield assessed(record("A"))
    raise SweepbookError("The source is gone.", "Bring it back.")


def test_an_export_that_breaks_off_leaves_the_old_revision(old: Place) -> None:
    before = content(old)
    whole = delivery(_breaking_off())
    with pytest.raises(SweepbookError, match="is gone"):
        put(whole, old)
    assert content(old) == before
    assert whole.remarks == []


@pytest.mark.parametrize(
    ("revision", "todo"),
    [("3", "Export the book to a new database"), ("999", "a newer one"), ("four", "new database")],
)
def test_other_revisions_are_refused_and_left_alone(
    old_file: Path, revision: str, todo: str
) -> None:
    with connected(old_file) as connection:
        connection.exec_driver_sql(f"UPDATE about SET value = '{revision}' WHERE name = 'revision'")
    before = dump(old_file)
    with pytest.raises(SweepbookError, match=f"revision {revision} .* from 4 on") as caught:
        write(old_file, assessed(record("A")))
    assert todo in caught.value.todo
    assert dump(old_file) == before


def test_every_revision_from_the_oldest_on_has_a_step() -> None:
    assert [step.revision for step in NEWEST.steps] == [*range(OLDEST + 1, NEWEST.revision + 1)]
    for step in NEWEST.steps:
        assert step.brings
        for name in step.columns:
            table, _, column = name.partition(".")
            (found,) = (one for one in NEWEST.tables[table].columns if one.column == column)
            assert found.null
        referred = {c.refers.partition(".")[0] for t in NEWEST.tables.values() for c in t.columns}
        assert not referred & {name.partition(".")[0] for name in step.words}
