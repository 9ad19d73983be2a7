"""Labels and other text from outside stay text, whatever they look like; numbers stay numbers."""

import math
from pathlib import Path

import pytest

from sweepbook.judging.assessment import (
    Assessment,
    Judgement,
    Origin,
    Outcome,
    Recomputed,
    ScalarMargin,
)
from sweepbook.record.model import Record

from .made_up import ask, assessed, margin, record, write

HOSTILE = (
    "007",
    "7",
    "7.0",
    "1e5",
    "=1+1",
    "-3",
    "NULL",
    "nan",
    "'; DROP TABLE test; --",
    '"quoted", with comma',
    "A\nB\tC",
    "%s :name ?",
    "Büro 3 \u202e\u5730\u4e0b \U0001f50c",
    "x" * 10_000,
)


def test_labels_come_back_letter_for_letter(tmp_path: Path) -> None:
    end = [{"place": {"port": label}, "termination": label} for label in HOSTILE]
    entries = [
        assessed(record(label, near, link={"external_ids": [{"system": label, "id": label}]}))
        for label, near in zip(HOSTILE, end, strict=True)
    ]
    database = write(tmp_path / "a.sqlite", *entries)
    question = (
        "SELECT current_state.label, near_port, near_termination, identifier, "
        "typeof(current_state.label) FROM current_state "
        "JOIN external_id ON external_id.link_id = current_state.link_id "
    )
    assert sorted(ask(database, question)) == sorted(
        (label, label, label, label, "text") for label in HOSTILE
    )


@pytest.mark.parametrize("one", ["a-1", "A-1", " A-1 ", "A-1\n"])
def test_a_link_is_one_whatever_the_case_and_the_blanks(tmp_path: Path, one: str) -> None:
    """Upper and lower case, and blanks at the ends, are how people type: common practice."""
    database = write(tmp_path / "a.sqlite", assessed(record("A-1")), assessed(record(one)))
    assert ask(database, "SELECT COUNT(*) FROM link") == [(1,)]


def test_a_link_of_the_same_name_in_another_building_is_another(tmp_path: Path) -> None:
    near = [{"place": {"building": name}} for name in ("North", "South", "north ")]
    entries = [
        assessed(record("A", end), judgement) for end, judgement in zip(
            near, ("overturned", "upheld", "upheld"), strict=True
        )
    ]  # fmt: skip
    database = write(tmp_path / "a.sqlite", *entries)
    assert ask(database, "SELECT tests FROM current_state ORDER BY tests") == [(1,), (2,)]


def test_tests_without_a_label_are_never_taken_for_one_link(tmp_path: Path) -> None:
    two = [assessed(record("", test={"operator": name})) for name in ("op-1", "op-2")]
    database = write(tmp_path / "a.sqlite", *two)
    assert ask(database, "SELECT label, tests FROM current_state") == [(None, 1), (None, 1)]


def test_ends_that_nobody_states_are_null(tmp_path: Path) -> None:
    near = {"place": {"space": "TR-1"}}
    database = write(tmp_path / "a.sqlite", assessed(record("A", near)))
    question = (
        "SELECT near_place_id IS NULL, near_termination_id, near_said_by, far_place_id, "
        "far_termination_id, far_said_by FROM link"
    )
    assert ask(database, question) == [(0, None, "record", None, None, None)]
    assert ask(database, "SELECT COUNT(*) FROM termination") == [(0,)]
    assert ask(database, "SELECT COUNT(*) FROM cable") == [(0,)]


def test_an_end_comes_whole_from_the_latest_test_that_says_anything_of_it(tmp_path: Path) -> None:
    first = record(
        "A", {"place": {"space": "Old"}, "termination": "K1"}, started="2024-01-01T00:00:00Z"
    )
    moved = record("A", {"place": {"space": "New"}}, started="2024-02-01T00:00:00Z")
    silent = record("A", started="2024-03-01T00:00:00Z")
    database = write(tmp_path / "a.sqlite", *map(assessed, (first, moved, silent)))
    question = "SELECT near_space, near_termination, started FROM current_state"
    assert ask(database, question) == [("New", None, "2024-03-01T00:00:00Z")]


def test_nul_and_lone_surrogates_become_escapes(tmp_path: Path) -> None:
    """PostgreSQL takes neither, and SQLite's own shell stops reading at a NUL."""
    made = assessed(record("A\0B"))
    database = write(tmp_path / "a.sqlite", made, title="job \udcff")
    assert ask(database, "SELECT job, label FROM current_state") == [("job \\udcff", "A\\x00B")]


@pytest.mark.parametrize("odd", [math.nan, math.inf, -math.inf])
def test_what_is_no_finite_number_is_null(tmp_path: Path, odd: float) -> None:
    scalar = ScalarMargin(
        *("length", "required", None, Outcome.UNDECIDED, odd, odd, odd, "m"),
        *(Origin.AS_EXPORTED, "B"),
    )
    curve = margin("next", "near", ("1-2", "3-6"), 1.0, worst_value_db=odd)
    database = write(
        tmp_path / "a.sqlite", assessed(record("A"), margins=[curve], scalars=[scalar])
    )
    question = "SELECT worst_margin, worst_value, limit_at_worst_value FROM result"
    assert ask(database, question) == [(1.0, None, 40.0), (None, None, None)]


def test_a_record_that_follows_no_schema_is_kept_with_what_is_usable(tmp_path: Path) -> None:
    """Such a record is assessed as unproven; its parts may be of any type."""
    document = {
        "schema": "urn:sweepbook:record-1",
        "record_id": "sb0-odd",
        "kind": "balanced-link",
        "origin": ["a.csv", {"sha256": 5}],
        "link": {"label": 7, "near": [], "cable": "red", "external_ids": {"system": "x"}},
        "test": {
            "purpose": "fun",
            "started": {"rfc3339": "yesterday", "as_stated": "yesterday", "zone_source": 1},
            "ambient_c": True,
            "near": {"instrument": {"serial": 412}},
        },
        "results": {
            "scalars": [
                None,
                {"parameter": "length", "length_m": "sixty"},
                {"parameter": "length", "length_m": 60, "pairs": "1-2", "bound": "about"},
            ]
        },
    }
    odd = Assessment(
        *(Record.of(document), None, "not looked for", None, None),
        *(Recomputed.UNDECIDED, Judgement.UNSTATED, "no schema", None),
    )
    database = write(tmp_path / "a.sqlite", odd)
    question = "SELECT label, limit_path_tested, kind, reason FROM open_items"
    assert ask(database, question) == [(None, None, "unproven", "no schema")]
    assert ask(database, "SELECT started_as_stated, ambient_c FROM test") == [("yesterday", None)]
    assert ask(database, "SELECT value, pairs, bound FROM figure") == [(60.0, None, None)]
    assert ask(database, "SELECT COUNT(*) FROM instrument") == [(0,)]
