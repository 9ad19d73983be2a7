"""PostgreSQL holds what SQLite holds, row for row, after the same deliveries.

The tests of the other files ask SQLite; whatever they show of it holds for PostgreSQL by these.
"""

import csv
import io
import re
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from sweepbook.corrections.apply import apply
from sweepbook.corrections.model import Correction
from sweepbook.database_url import DatabaseUrl
from sweepbook.errors import ReadProblem, SweepbookError
from sweepbook.findings import Finding, NotRun, RuleNotRun, Severity
from sweepbook.judging.assessment import Assessment, Outcome
from sweepbook.record.model import OneName, Spelled
from sweepbook_plugins.asbuilt import postgresql as asbuilt_postgresql
from sweepbook_plugins.asbuilt import schema as asbuilt_schema
from tests.program import DEMO, run

from .either import ask, connected, content, write
from .made_up import assessed, margin, record
from .test_label_scheme import SCHEDULE, SCHEME

NewDatabase = Callable[[], DatabaseUrl]
NEAR = {"place": {"site": "Quay", "floor": "2", "space": "TR-2A", "port": "07"}, "termination": "K"}
LINK = {
    "cable": {"maker": "Pellumbra", "part": "PW6A", "category": "6A", "nvp": 0.76},
    "external_ids": [{"system": "assets", "id": "0071"}],
}


def _moved(test: Assessment, label: str) -> Assessment:
    made = test.record
    right = Correction(
        made.record_id, "link.label", made.label, label, "op-9", "2026-03-12", "seen"
    )
    return replace(test, record=apply(made, [right]))


def _deliveries() -> list[tuple[tuple[Assessment, ...], dict[str, Any]]]:
    """A first reading, then one that takes its place, a retest, a moved label, another job."""
    length = {"parameter": "length", "pairs": ["1-2"], "length_m": 61.9, "decimals": 1}
    finding = [("REC004", Severity.WARNING, "old"), ("XXX001", Severity.NOTE, "a plugin's rule")]
    odd = 'tab\t, "quotes", back\\slash, \\N, NUL \0, lone \udc80, line\nend, ä, 線'
    curves = [
        margin("next", "near", ("1-2", "3-6"), -0.1),
        margin("return_loss", "far", ("7-8",), None, outcome=Outcome.NOT_EVALUATED),
        margin("next", "far", ("1-2", "3-6"), 1e-17),
    ]
    place = ("one.csv", "lines 1-9")
    first = record("2A-P1-7", NEAR, started="2026-03-01T09:00:00+01:00", origin=place, link=LINK)
    right = record("2A-P1-07", NEAR, started="2026-03-01T09:00:00+01:00", origin=place, link=LINK)
    again = record(
        "2A-P1-07", NEAR, started="2026-03-09T09:00:00-00:00", scalars=[length], link=LINK
    )
    again = replace(again, spelled=Spelled(again, (OneName("link.cable.part", "pw6a", "PW6A"),)))
    astray = assessed(record("2A-P1-80", origin=("one.csv", "lines 10-19")), "unproven")
    whole = {
        "findings": [
            Finding("SET001", Severity.ERROR, "$", "two of one label", {}, tests=(right.record_id,))
        ],
        "problems": [ReadProblem("b.csv", "line 3", odd)],
        "rules_not_run": [RuleNotRun("SET002", NotRun.SKIPPED, "one test only")],
        "schedule": SCHEDULE,
        "scheme": SCHEME,
    }
    return [
        ((assessed(first, "unproven"), astray), {}),
        (
            (
                assessed(right, margins=curves, findings=finding),
                assessed(again, "overturned", margins=curves),
                _moved(astray, "2A-P1-08"),
                assessed(record(odd.replace("\udc80", ""))),
            ),
            whole,
        ),
        ((assessed(right),), {"title": "Annex"}),
    ]


@pytest.fixture(scope="module")
def written(new_database: NewDatabase, tmp_path_factory: pytest.TempPathFactory) -> Any:
    """A file and a database on the server, after the same deliveries."""
    file, server = tmp_path_factory.mktemp("both") / "a.sqlite", new_database()
    for entries, more in _deliveries():
        for place in (file, server):
            write(place, *entries, **more)
    return file, server


def test_the_same_deliveries_give_the_same_rows(written: tuple[Path, DatabaseUrl]) -> None:
    file, server = written
    expected = content(file)
    assert content(server) == expected
    empty = {name for name, rows in expected.items() if not rows}
    assert empty == {"adaptor", "cable_conflicts", "changed_link", "rule_not_run"}


def test_the_same_delivery_again_changes_nothing(written: tuple[Path, DatabaseUrl]) -> None:
    _, server = written
    before = content(server)
    for entries, more in _deliveries()[1:]:
        write(server, *entries, **more)
    assert content(server) == before


def test_the_questions_of_the_dictionary_have_the_same_answers(
    new_database: NewDatabase, tmp_path: Path, demo_book: Path
) -> None:
    """Of the demo, whose answers in SQLite are held to the model's truth in `test_owner`."""
    file, server = tmp_path / "a.sqlite", new_database()
    for place in (str(file), server.text):
        options = ("--schedule", DEMO / "schedule.csv", "--to", "as-built", "-o", place)
        result = run("export", demo_book, *options)
        assert result.exit_code == 0, result.output
    questions = asbuilt_schema.load().questions
    assert len(questions) >= 13
    for one in questions:
        answer = [tuple(map(_plain, row)) for row in ask(server, one.sql)]
        assert answer == ask(file, one.sql), one.question


def _plain(cell: Any) -> Any:
    return float(cell) if isinstance(cell, Decimal) else cell


def test_the_server_has_the_dictionary_that_lies_beside_a_file(
    written: tuple[Path, DatabaseUrl],
) -> None:
    beside = written[0].with_name("a.sqlite.columns.csv").read_text(encoding="utf-8")
    _, *rows = csv.reader(io.StringIO(beside, newline=""))
    told = ask(written[1], "SELECT * FROM column_dictionary ORDER BY position")
    assert rows == [["" if cell is None else str(cell) for cell in row] for row in told]


@pytest.mark.parametrize(
    ("statement", "message"),
    [
        ("UPDATE link SET job_id = 1234567", "foreign key"),
        ("UPDATE test SET judgement = 'good'", "test_judgement_known"),
        ("UPDATE test SET is_current = 1", "test_one_current"),
        ("UPDATE test_end SET connector_screened = 2", "test_end_connector_screened_known"),
        ("DELETE FROM test", "foreign key"),
    ],
)
def test_the_server_refuses_what_cannot_be(
    written: tuple[Path, DatabaseUrl], statement: str, message: str
) -> None:
    from sqlalchemy.exc import IntegrityError

    with pytest.raises(IntegrityError, match=message), connected(written[1]) as connection:
        connection.exec_driver_sql(statement)


def test_a_database_of_somebody_else_is_refused_and_a_schema_in_it_is_not(
    new_database: NewDatabase,
) -> None:
    server = new_database()
    with connected(server) as connection:
        connection.exec_driver_sql("CREATE TABLE stock (part TEXT)")
        connection.exec_driver_sql("CREATE SCHEMA as_built")
    with pytest.raises(SweepbookError, match="of another kind") as caught:
        write(server, assessed(record("A")))
    (option,) = re.findall(r"\?(options=\S+) at the end", caught.value.todo)
    write(DatabaseUrl(f"{server.text}&{option}"), assessed(record("A")))
    assert ask(server, "SELECT label FROM as_built.link") == [("A",)]
    tables = "SELECT table_name FROM information_schema.tables WHERE table_schema = 'public'"
    assert ask(server, tables) == [("stock",)]


def test_a_view_of_the_owners_is_left_alone(written: tuple[Path, DatabaseUrl]) -> None:
    with connected(written[1]) as connection:
        connection.exec_driver_sql("CREATE VIEW ours AS SELECT label FROM current_state")
    entries, more = _deliveries()[1]
    write(written[1], *entries, **more)
    assert len(ask(written[1], "SELECT * FROM ours")) >= 3
    with connected(written[1]) as connection:
        connection.exec_driver_sql("DROP VIEW ours")


def test_two_exports_at_once_wait_for_each_other(
    new_database: NewDatabase, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(asbuilt_postgresql, "WAIT_SECONDS", 1)
    server = new_database()
    with (
        asbuilt_postgresql.transaction(server),
        pytest.raises(SweepbookError, match="lock timeout") as caught,
    ):
        write(server, assessed(record("A")))
    assert caught.value.todo.startswith("Another export is writing")
