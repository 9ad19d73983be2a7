"""What a building's owner asks of the database, with answers worked out by hand."""

from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any

import pytest

from sweepbook.findings import Accepted, Finding, Severity
from sweepbook.judging.assessment import Assessment, Origin, Outcome, Recomputed, ScalarMargin

from .made_up import ask, assessed, margin, record, write

HOUSE = {"site": "Library", "building": "Main House"}


def _end(floor: str, space: str, label: str) -> dict[str, Any]:
    return {"place": {**HOUSE, "floor": floor, "space": space}, "termination": label}


def _next(near: float, far: float) -> list[Any]:
    return [
        margin("next", "near", ("1-2", "3-6"), near),
        margin("next", "near", ("1-2", "4-5"), near + 1),
        margin("next", "far", ("1-2", "3-6"), far),
        margin("return_loss", "near", ("1-2",), 0.4),
    ]


def _length(pair: str, metres: float) -> dict[str, Any]:
    return {"parameter": "length", "pairs": [pair], "length_m": metres, "decimals": 1}


def _tests() -> list[Assessment]:
    """Floor 1: 1A good, 1B overturned. Floor 2: 2A unproven, 2B good after a failed first test,
    2C good with a warning, 2D good with a note, 2E fails and says so, 2F good with an error. RISER
    runs from 1 to 2."""
    tr1, tr2 = _end("1", "TR-1", "K1-1"), _end("2", "TR-2", "K2-1")
    office, hall = _end("2", "Office", "O-1"), _end("1", "Hall", "H-1")
    warning = [("REC004", Severity.WARNING, "reference too old")]
    error = [("LIM001", Severity.ERROR, "no such limit")]
    note = [("LIM002", Severity.NOTE, "no edition")]
    failing = partial(assessed, judgement="upheld", stated="fail", recomputed=Recomputed.FAIL)
    lengths = [_length("1-2", 61.9), _length("3-6", 62.4)]
    return [
        assessed(record("1A", tr1, hall, "2024-03-01T09:00:00Z"), margins=_next(4.0, 3.5)),
        assessed(record("1B", tr1, hall), "overturned", margins=_next(-1.0, 2.0)),
        assessed(record("2A", tr2, office), "unproven", margins=_next(2.5, 9.0)),
        failing(record("2B", tr2, office, "2024-03-01T10:00:00Z", serials=("OLD-1", "OLD-2"))),
        assessed(
            record("2B", tr2, office, "2024-03-09T10:00:00Z", test={"purpose": "retest"}),
            margins=_next(6.0, 1.5),
        ),
        assessed(record("2C", tr2, office, scalars=lengths), findings=warning),
        assessed(record("2D", tr2, office), findings=note),
        failing(record("2E", tr2, office)),
        assessed(record("2F", tr2, office), findings=error),
        assessed(record("RISER", tr1, tr2), "unstated", stated=None),
    ]


@pytest.fixture(scope="module")
def database(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write(tmp_path_factory.mktemp("questions") / "as-built.sqlite", *_tests())


def test_which_links_on_floor_2_are_open(database: Path) -> None:
    question = (
        "SELECT label, kind, reason FROM open_items WHERE '2' IN (floor, far_floor) ORDER BY label"
    )
    assert ask(database, question) == [
        ("2A", "unproven", "because"),
        ("2E", "failed", "because"),
        ("2F", "error found", "no such limit"),
    ]


def test_every_link_has_one_row_of_its_current_state(database: Path) -> None:
    question = "SELECT label, judgement, tests, warnings FROM current_state ORDER BY label"
    assert ask(database, question) == [
        ("1A", "upheld", 1, 0),
        ("1B", "overturned", 1, 0),
        ("2A", "unproven", 1, 0),
        ("2B", "upheld", 2, 0),
        ("2C", "upheld", 1, 1),
        ("2D", "upheld", 1, 0),
        ("2E", "upheld", 1, 0),
        ("2F", "upheld", 1, 0),
        ("RISER", "unstated", 1, 0),
    ]


def test_which_instrument_tested_a_link(database: Path) -> None:
    question = (
        "SELECT instrument.model, instrument.serial, test_end.at_end FROM test "
        "JOIN test_end ON test_end.test_id = test.id "
        "JOIN instrument ON instrument.id = test_end.instrument_id "
        "WHERE test.label = '2B' AND test.is_current = 1 ORDER BY test_end.at_end"
    )
    assert ask(database, question) == [("Heron 5", "BH5-2", "far"), ("Heron 5", "BH5-1", "near")]


def test_the_worst_next_margin_in_a_space(database: Path) -> None:
    """Of 2A 2.5 dB and of the retest of 2B 1.5 dB; its first test does not count."""
    question = (
        "SELECT label, at_end, pairs, worst_margin, worst_margin_mhz FROM worst_margins "
        "WHERE parameter = 'next' AND near_space = 'TR-2' ORDER BY worst_margin"
    )
    assert ask(database, question) == [
        ("2B", "far", "1-2/3-6", 1.5, 100.0),
        ("2A", "near", "1-2/3-6", 2.5, 100.0),
    ]


def test_all_tests_of_one_link_in_order(database: Path) -> None:
    question = (
        "SELECT sequence, started, purpose, stated, recomputed, is_current, near_serial "
        "FROM test_history WHERE label = '2B' ORDER BY sequence"
    )
    assert ask(database, question) == [
        (1, "2024-03-01T10:00:00Z", None, "fail", "fail", 0, "OLD-1"),
        (2, "2024-03-09T10:00:00Z", "retest", "pass", "pass", 1, "BH5-1"),
    ]


def test_how_much_each_unit_was_used(database: Path) -> None:
    question = (
        "SELECT serial, tests, as_near, as_far, links, after_calibration_due, failed, overturned, "
        "unproven "
        "FROM tests_per_instrument ORDER BY serial"
    )
    assert ask(database, question) == [
        ("BH5-1", 9, 9, 0, 9, 0, 2, 1, 1),
        ("BH5-2", 9, 0, 9, 9, 0, 2, 1, 1),
        ("OLD-1", 1, 1, 0, 1, 0, 1, 0, 0),
        ("OLD-2", 1, 0, 1, 1, 0, 1, 0, 0),
    ]


def test_what_ends_in_a_room(database: Path) -> None:
    question = "SELECT label, at_end FROM link_end WHERE floor = '1' AND space = 'TR-1' ORDER BY 1"
    assert ask(database, question) == [("1A", "near"), ("1B", "near"), ("RISER", "near")]


def test_places_hang_in_a_tree(database: Path) -> None:
    question = (
        "WITH RECURSIVE up (id, parent_id, level, path) AS ("
        " SELECT id, parent_id, level, path FROM place WHERE space = 'Office'"
        " UNION ALL SELECT place.id, place.parent_id, place.level, place.path"
        " FROM place JOIN up ON place.id = up.parent_id) SELECT level, path FROM up"
    )
    assert ask(database, question) == [
        ("space", "Library / Main House / 2 / Office"),
        ("floor", "Library / Main House / 2"),
        ("building", "Library / Main House"),
        ("site", "Library"),
    ]


def test_how_long_the_cable_is(database: Path) -> None:
    assert ask(database, "SELECT length_m FROM current_state WHERE label = '2C'") == [(61.9,)]
    question = "SELECT pairs, value, unit, decimals FROM figure ORDER BY position"
    assert ask(database, question) == [("1-2", 61.9, "m", 1), ("3-6", 62.4, "m", 1)]


def test_results_say_what_was_judged(tmp_path: Path) -> None:
    skew = ScalarMargin(
        *("delay_skew", "required", "1-2/3-6", Outcome.FAIL, 51.0, 44.0, -7.0, "ns"),
        *(Origin.AS_EXPORTED, "A", "at 10 MHz"),
    )
    idle = margin("return_loss", "far", ("7-8",), None, points_for_information=9)
    swept = margin("propagation_delay", None, ("1-2",), 12.5)
    database = write(
        tmp_path / "a.sqlite", assessed(record("X"), margins=[idle, swept], scalars=[skew])
    )
    question = (
        "SELECT parameter, at_end, pairs, outcome, worst_margin, limit_at_worst_margin, "
        "worst_value, unit, points_evaluated, points_for_information, origin, grade, remark "
        "FROM result ORDER BY position"
    )
    assert ask(database, question) == [
        (
            "return_loss",
            "far",
            "7-8",
            "not evaluated",
            None,
            None,
            None,
            "dB",
            0,
            9,
            "recomputed",
            None,
            None,
        ),
        (
            "propagation_delay",
            None,
            "1-2",
            "pass",
            12.5,
            40.0,
            52.5,
            "ns",
            702,
            0,
            "recomputed",
            "B",
            None,
        ),
        (
            "delay_skew",
            None,
            "1-2/3-6",
            "fail",
            -7.0,
            44.0,
            51.0,
            "ns",
            None,
            None,
            "as exported",
            "A",
            "at 10 MHz",
        ),
    ]


def test_an_error_about_the_delivery_as_a_whole_is_an_open_item(tmp_path: Path) -> None:
    found = [
        Finding("SET001", Severity.ERROR, "$", "two results of one label", {}),
        Finding("SET002", Severity.WARNING, "$", "a doubt", {}),
    ]
    database = write(tmp_path / "a.sqlite", assessed(record("1A")), findings=found)
    told = ask(database, "SELECT job, label, kind, reason, rule, floor, test_id FROM open_items")
    assert told == [
        ("Library", None, "error found", "two results of one label", "SET001", None, None)
    ]  # fmt: skip


def test_an_error_in_tests_is_an_open_item_of_their_links(tmp_path: Path) -> None:
    first, second = (
        assessed(record(label, near={"place": {"floor": floor}}))
        for label, floor in (("1A", "1"), ("2B", "2"))
    )
    ids = (first.record.record_id, second.record.record_id, "sb0-not-there")
    error = Finding("SET002", Severity.ERROR, "$", "the labels share one test", {}, tests=ids)
    database = write(tmp_path / "a.sqlite", first, second, findings=[error])
    told = ask(database, "SELECT label, kind, reason, rule, floor FROM open_items ORDER BY label")
    found = ("error found", "the labels share one test", "SET002")
    assert told == [("1A", *found, "1"), ("2B", *found, "2")]
    accepted = replace(error, accepted=Accepted("op-9", "2026-03-01", "seen"))
    write(database, first, second, findings=[accepted])
    assert ask(database, "SELECT * FROM open_items") == []
    write(database, first, second)
    assert ask(database, "SELECT COUNT(*) FROM set_finding_test") == [(0,)]


def test_questions_about_one_thing_name_what_is_there(tmp_path: Path) -> None:
    """By the tests above: 2B was tested twice; OLD-1 and others made tests; a reel is named."""
    reel = record("9'Z", _end("7", "TR", "K-9"), _end("7", "Flat", "F'9"), "2024-04-01T09:00:00Z",
                  link={"cable": {"reel": "R'1"}})  # fmt: skip
    failed = assessed(reel, judgement="upheld", stated="fail", recomputed=Recomputed.FAIL)
    target = write(tmp_path / "a.sqlite", *_tests(), failed)
    rows = ask(target, "SELECT table_name, meaning, sql FROM column_dictionary WHERE sql <> ''")
    told = {name: (meaning, sql) for name, meaning, sql in rows}
    assert "All tests of the link 2B from" in told["all_tests_of_a_link_in_time"][0]
    assert "the reel R'1 fail" in told["which_cables_of_a_reel_failed"][0]
    found = {name: ask(target, sql) for name, (_, sql) in told.items()}
    assert len(found["all_tests_of_a_link_in_time"]) == 2
    assert [row[0] for row in found["which_cables_of_a_reel_failed"]] == ["9'Z"]
    for name in ("which_file_proves_a_link", "where_does_an_outlet_lead",
                 "what_is_unproven_on_a_floor", "what_is_warned_of_on_a_floor"):  # fmt: skip
        assert found[name], name
    assert not [name for name, (_, sql) in told.items() if "TK-7731" in sql or "CL-11" in sql]
