"""An owner's own tables, filled by a mapping, in both engines."""

import json
import tomllib
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from sweepbook.errors import SweepbookError
from sweepbook.judging.assessment import Assessment
from sweepbook.schedule.standing import State
from tests.guide import blocks
from tests.program import DEMO, run

from .either import Place, ask, connected, content, put, write
from .made_up import assessed, delivery, margin, record

(TABLE,) = (block for block in blocks("sql") if "CREATE TABLE circuits" in block)
(EXAMPLE,) = (block for block in blocks("toml") if "mapping-0" in block)
HEAD = 'schema = "urn:sweepbook:mapping-0"\n'
MAPPING = f"""{HEAD}
[[tables]]
into = "circuits"
from = "current_state"
key = ["circuit_no"]
[tables.columns]
circuit_no = "label"
from_room = "near_termination"
to_room = "far_termination"
test_state = "recomputed"
margin_db = "worst_margin_db"
tested_on = "started"
[tables.words.test_state]
pass = "OK"
fail = "NOT OK"
undecided = "OPEN"
"""


def _test(label: str, worst: float | None = 1.0, day: str = "01", **more: Any) -> Assessment:
    end = {"termination": f"K-{label}"[:40]}
    made = record(label, end, started=f"2026-03-{day}T23:30:00+01:00", **more)
    return assessed(made, margins=[margin("next", "near", ("1-2", "3-6"), worst)])


@pytest.fixture(params=["sqlite", "postgresql"])
def owner(request: pytest.FixtureRequest, tmp_path: Path) -> Place:
    """A database of the owner's, with one circuit in it."""
    place: Place = tmp_path / "facilities.sqlite"
    if request.param == "postgresql":
        place = request.getfixturevalue("new_database")()
    with connected(place) as connection:
        connection.exec_driver_sql(TABLE)
        connection.exec_driver_sql(
            "INSERT INTO circuits (circuit_no, test_state, rented_to) "
            "VALUES ('A-1', 'NEW', 'the bakery'), ('Z-9', 'NEW', 'nobody')"
        )
    return place


def _fill(owner: Place, folder: Path, mapping: str, *tests: Assessment, **more: Any) -> list[str]:
    file = folder / "mapping.toml"
    file.write_text(mapping, encoding="utf-8")
    asked = {"mapping": str(file), **more}
    whole = delivery(tests, asked=asked)
    put(whole, owner)
    return whole.remarks


def _rows(owner: Place) -> list[tuple[Any, ...]]:
    """The circuits, days as text and decimals as floats in both engines."""
    rows = ask(owner, "SELECT * FROM circuits ORDER BY circuit_no")
    return [tuple(map(_plain, row)) for row in rows]


def _plain(cell: Any) -> Any:
    if isinstance(cell, date):
        return cell.isoformat()
    return float(cell) if isinstance(cell, Decimal) else cell


def test_rows_are_found_again_by_the_owners_key(owner: Place, tmp_path: Path) -> None:
    """23:30 at +01:00 is that day there, whatever day it is elsewhere."""
    said = _fill(owner, tmp_path, MAPPING, _test("A-1", 0.914), _test("A-2", -2.0, "02"))
    assert said == ["circuits: 1 rows put in, 1 brought up to date."]
    kept = ("Z-9", None, None, "NEW", None, None, "nobody")
    assert _rows(owner) == [
        ("A-1", "K-A-1", None, "OK", 0.91, "2026-03-01", "the bakery"),
        ("A-2", "K-A-2", None, "OK", -2.0, "2026-03-02", None),
        kept,
    ]
    said = _fill(owner, tmp_path, MAPPING, _test("A-1", None, "09"), assessed(record("")))
    assert said == ["circuits: 0 rows put in, 1 brought up to date; 1 without a key were left out."]
    assert _rows(owner)[0] == ("A-1", "K-A-1", None, "OK", None, "2026-03-09", "the bakery")
    assert _rows(owner)[-1] == kept
    if isinstance(owner, Path):
        assert not owner.with_name(owner.name + ".columns.csv").exists()


def test_since_an_export_only_changed_links_are_written(owner: Place, tmp_path: Path) -> None:
    earlier = tmp_path / "earlier.sqlite"
    write(earlier, _test("A-1"), _test("A-2"), _test("A-3"))
    said = _fill(
        owner, tmp_path, MAPPING, _test("A-1"), _test("A-2", -1.0), _test("A-4"), since=str(earlier)
    )
    assert said == ["circuits: 2 rows put in, 0 brought up to date."]
    assert [row[0] for row in _rows(owner)] == ["A-1", "A-2", "A-4", "Z-9"]
    assert _rows(owner)[0][3] == "NEW"


CASES = [
    (('"label"', '"lable"'), "current_state has no lable; perhaps label is meant"),
    (('"current_state"', '"curent_states"'), "no curent_states; perhaps current_state"),
    (('into = "circuits"', 'into = "circuit"'), "no table circuit; perhaps circuits is meant"),
    (("margin_db =", "margin_dB2 ="), "no column margin_dB2; perhaps margin_db is meant"),
    (('key = ["circuit_no"]', 'key = ["test_state"]'), "is no primary key of circuits"),
    (('key = ["circuit_no"]', 'key = ["number"]'), "number is not among the columns"),
    (('"worst_margin_db"', '"judgement"'), "type NUMERIC(6, 2), and judgement holds text"),
    (('from_room = "near_t', 'from_room = "worst_margin_db" #'), "margin_db holds numbers"),
    (("undecided = ", "pending = "), "'undecided' is not among the words"),
    (("test_state]", "state]"), "words: state is not among the columns"),
    (('undecided = "OPEN"', "undecided = 3"), "it takes text, and 3 is a number"),
    (('circuit_no = "label"\n', ""), "circuit_no is not among the columns that are filled"),
    (('urn:sweepbook:mapping-0"', 'urn:sweepbook:mapping-9"'), "mapping-0"),
    (("[tables.columns]", "[tables.column]"), "column"),
    (("[[tables]]", "[[tables]"), "it is no TOML"),
]  # fmt: skip


def test_what_does_not_fit_is_told_and_nothing_is_written(owner: Place, tmp_path: Path) -> None:
    before = content(owner)
    open_one = assessed(record("A-2", {"termination": "K"}), "unproven")
    for change, told in CASES:
        assert change[0] in MAPPING
        with pytest.raises(SweepbookError) as caught:
            _fill(owner, tmp_path, MAPPING.replace(*change), _test("A-1"), open_one)
        assert told in caught.value.message, change
    assert content(owner) == before


@pytest.mark.parametrize(
    ("tests", "told"),
    [
        ([_test("A" * 41)], "circuits.circuit_no does not take the label of AAA"),
        ([_test("A-1", 10_000.0)], "4 digits before the decimal mark, and 10000.0 has more"),
        (
            [assessed(record("B", {"place": {"building": name}})) for name in ("Hall", "Annexe")],
            "several rows of one key (circuit_no): B",
        ),
    ],
)
def test_a_value_that_does_not_fit_is_told_with_its_link_and_nothing_is_kept(
    owner: Place, tmp_path: Path, tests: list[Assessment], told: str
) -> None:
    before = content(owner)
    with pytest.raises(SweepbookError) as caught:
        _fill(owner, tmp_path, MAPPING, _test("A-0"), *tests)
    assert told in caught.value.message
    assert content(owner) == before


def test_a_table_that_wants_more_than_it_gets_is_told_before_anything_is_read(
    owner: Place, tmp_path: Path
) -> None:
    with connected(owner) as connection:
        connection.exec_driver_sql(
            "CREATE TABLE assets (id INTEGER PRIMARY KEY, tag VARCHAR(9) NOT NULL UNIQUE, "
            "class TEXT NOT NULL, state TEXT NOT NULL DEFAULT 'new', CHECK (tag <> 'A-1'))"
        )
    table = (
        f'{HEAD}[[tables]]\ninto = "assets"\nfrom = "current_state"\nkey = ["tag"]\n'
        '[tables.columns]\ntag = "label"\n'
    )
    missing = "assets.class must have a value, and nothing fills it"
    if isinstance(owner, Path):  # a number of its own that PostgreSQL would not make
        with pytest.raises(SweepbookError, match=missing):
            _fill(owner, tmp_path, table, _test("A-2"))
        whole = f'{table}class = "judgement"\n'
        _fill(owner, tmp_path, whole, _test("A-2"))
        assert ask(owner, "SELECT tag, class, state FROM assets") == [("A-2", "upheld", "new")]
        with pytest.raises(SweepbookError, match="assets refuses a row"):
            _fill(owner, tmp_path, whole, _test("A-3"), _test("A-1"))
        assert ask(owner, "SELECT COUNT(*) FROM assets") == [(1,)]
    else:
        with pytest.raises(SweepbookError, match=missing) as caught:
            _fill(owner, tmp_path, table, _test("A-2"))
        assert "assets.id must have a value" in caught.value.message


def test_times_flags_and_schemas_of_a_server(new_database: Any, tmp_path: Path) -> None:
    """A time with a zone is kept with it; one whose offset nobody knows is not made up."""
    server = new_database()
    with connected(server) as connection:
        connection.exec_driver_sql("CREATE SCHEMA cabling")
        connection.exec_driver_sql("CREATE TYPE state AS ENUM ('good', 'bad')")
        connection.exec_driver_sql(
            "CREATE TABLE cabling.tests (id BIGINT GENERATED ALWAYS AS IDENTITY PRIMARY KEY, "
            "record TEXT UNIQUE, at TIMESTAMPTZ, there TIMESTAMP, is_last BOOLEAN, state state)"
        )
    mapping = f"""{HEAD}
[[tables]]
into = "cabling.tests"
from = "test"
key = ["record"]
[tables.columns]
record = "record_id"
at = "started"
there = "started"
is_last = "is_current"
state = "recomputed"
[tables.words.state]
pass = "good"
fail = "bad"
"""
    _fill(server, tmp_path, mapping, _test("A-1"))
    told = "SELECT at AT TIME ZONE 'UTC', there, is_last, state FROM cabling.tests"
    ((utc, there, last, state),) = ask(server, told)
    assert (str(utc), str(there)) == ("2026-03-01 22:30:00", "2026-03-01 23:30:00")
    assert (last, state) == (True, "good")
    with pytest.raises(SweepbookError, match="offset of 2026-03-01T09:00:00-00:00 is not known"):
        _fill(
            server, tmp_path, mapping, assessed(record("A-2", started="2026-03-01T09:00:00-00:00"))
        )
    with pytest.raises(SweepbookError, match="it takes good, bad, and not 'fine'"):
        _fill(server, tmp_path, mapping.replace('"good"', '"fine"'), _test("A-1"))


def test_the_guides_example_runs_on_the_demo(owner: Place, tmp_path: Path, demo_book: Path) -> None:
    file = tmp_path / "circuits.toml"
    file.write_text(EXAMPLE, encoding="utf-8")
    place = str(owner) if isinstance(owner, Path) else owner.text
    options = ("--schedule", DEMO / "schedule.csv", "--mapping", file, "-o", place)
    result = run("export", demo_book, "--to", "as-built", *options)
    assert result.exit_code == 0, result.output
    assert "circuits: " in result.output
    rows = {row[0]: row for row in _rows(owner)}
    assert rows["1A-P1-01"][3:6] == ("OK", 0.91, rows["1A-P1-01"][5])
    assert rows["1A-P1-03"][3:5] == ("NOT OK", -7.19)
    assert {row[3] for row in rows.values()} == {"OK", "NOT OK", "OPEN", "NEW"}
    told = json.loads(run("reconcile", demo_book, *options[:2], "--json").stdout)["links"]
    done = {one["label"] for one in told if one["state"].startswith("passed")}
    assert {label for label, row in rows.items() if row[3] == "OK"} == done
    failed = {one["label"] for one in told if one["state"] == "failed"}
    assert {label for label, row in rows.items() if row[3] == "NOT OK"} == failed
    assert set(tomllib.loads(EXAMPLE)["tables"][1]["words"]["test_state"]) == set(State)


def test_there_must_be_a_database(tmp_path: Path, demo_book: Path) -> None:
    file = tmp_path / "circuits.toml"
    file.write_text(EXAMPLE, encoding="utf-8")
    target = tmp_path / "none.sqlite"
    result = run("export", demo_book, "--to", "as-built", "--mapping", file, "-o", target)
    assert result.exit_code == 3
    assert "There is no database" in result.output
    assert not target.exists()
