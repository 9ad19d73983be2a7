"""Corrections make a view of a record; the evidence and its identity stay."""

import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sweepbook.corrections.apply import apply, value_of
from sweepbook.corrections.model import (
    CORRECTABLE,
    PURPOSES,
    Correction,
    NotCorrectable,
    check_value,
    field_of,
)
from sweepbook.record import identity
from sweepbook.record.model import Record

ORIGIN = [{"sha256": "0" * 64, "name": "a.csv", "locator": "line 1"}]
RECORD = Record.build(
    link={"label": "A-71", "near": {"place": {"floor": "1"}}},
    test={"limit": {"as_stated": "Cat 6"}, "configuration": {"as_stated": "perm. link"}},
    results={},
    origin=ORIGIN,
    resolved={"limit": {"path": "tia-568.2-d/cat6/channel", "how": "by the dialect"}},
)
SCHEMA = Path(__file__).parents[2] / "schemas/sweepbook_schemas/record-1.schema.json"


def _correction(field: str, old: str, new: str) -> Correction:
    return Correction(RECORD.record_id, field, old, new, "K. Orme", "2024-05-02", "seen")


def test_without_corrections_the_record_is_itself() -> None:
    assert apply(RECORD, []) is RECORD
    assert RECORD.evidence is RECORD


def test_the_evidence_stays_and_the_view_says_what_is_right() -> None:
    before = identity.record_id(RECORD.document)
    view = apply(RECORD, [_correction("link.label", "A-71", "A-17")])
    assert view.label == "A-17"
    assert view.record_id == RECORD.record_id
    assert view.evidence is RECORD
    assert RECORD.label == "A-71"
    assert identity.record_id(RECORD.document) == before
    assert view.corrected is not None
    assert view.corrected.unfit == ()


def test_each_correction_starts_from_what_the_one_before_made() -> None:
    chain = [_correction("link.label", "A-71", "A-17"), _correction("link.label", "A-17", "A-18")]
    assert apply(RECORD, chain).label == "A-18"
    back = [*chain, _correction("link.label", "A-18", "A-71")]
    assert apply(RECORD, back).document["link"] == RECORD.document["link"]


def test_one_that_starts_elsewhere_is_not_applied_and_told() -> None:
    view = apply(RECORD, [_correction("link.label", "A-70", "A-17")])
    assert view.label == "A-71"
    assert view.corrected is not None
    assert view.corrected.applied == ()
    assert [unfit.found for unfit in view.corrected.unfit] == ["A-71"]


def test_a_corrected_limit_is_looked_up_anew() -> None:
    view = apply(RECORD, [_correction("test.limit", "Cat 6", "Cat 6A")])
    assert view.document["test"]["limit"] == {"as_stated": "Cat 6A"}
    assert "resolved" not in view.document


def test_a_field_may_be_filled_and_taken_out() -> None:
    filled = apply(RECORD, [_correction("link.far.termination", "", "O-7")])
    assert filled.document["link"]["far"] == {"termination": "O-7"}
    emptied = apply(RECORD, [_correction("link.near.place.floor", "1", "")])
    assert "near" not in emptied.document["link"]


@pytest.mark.parametrize("field", CORRECTABLE)
@given(text=st.text(st.characters(codec="utf-8", exclude_categories=["Cc"]), min_size=1))
def test_what_was_put_in_is_what_stands_there(field: str, text: str) -> None:
    old = value_of(RECORD.document, field)
    view = apply(RECORD, [_correction(field, old, text)])
    assert value_of(view.document, field) == text
    others = [path for path in CORRECTABLE if path != field]
    same = [value_of(view.document, path) == value_of(RECORD.document, path) for path in others]
    assert all(same)


def test_purposes_are_those_of_the_schema() -> None:
    schema = json.loads(SCHEMA.read_bytes())
    assert tuple(schema["$defs"]["test"]["properties"]["purpose"]["enum"]) == PURPOSES


@pytest.mark.parametrize(
    ("name", "field"),
    [
        ("label", "link.label"),
        ("limit", "test.limit"),
        ("near.place.floor", "link.near.place.floor"),
        ("link.cable.reel", "link.cable.reel"),
        ("far.adaptor.part", "test.far.adaptor.part"),
    ],
)
def test_the_end_of_a_plain_name_is_enough(name: str, field: str) -> None:
    assert field_of(name) == field


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("floor", "may mean"),
        ("results.sweeps", "is evidence"),
        ("stated.overall", "is evidence"),
        ("test.started", "is evidence"),
        ("colour", "No field"),
    ],
)
def test_what_is_no_plain_name_or_is_evidence_is_refused(name: str, told: str) -> None:
    with pytest.raises(NotCorrectable, match=told):
        field_of(name)


@pytest.mark.parametrize(
    ("field", "value"),
    [("link.label", " "), ("test.limit", ""), ("test.purpose", "fun"), ("test.operator", "a\nb")],
)
def test_what_a_field_cannot_hold_is_refused(field: str, value: str) -> None:
    with pytest.raises(NotCorrectable):
        check_value(field, value)
