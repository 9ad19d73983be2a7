"""A record goes to bytes and back without loss, whatever it holds."""

import json

import numpy as np
import pytest
from hypothesis import given, settings

from sweepbook.record import codec, identity, validate
from sweepbook.record.canonical import NoCanonicalText
from sweepbook.record.model import Record

from .samples import body, plain, record, records


@settings(max_examples=150, deadline=None)
@given(records())
def test_nothing_is_lost_on_the_way_to_bytes_and_back(made: Record) -> None:
    again = codec.loads(codec.dumps(made))
    assert again == made
    assert identity.record_id(again.document) == made.record_id
    assert codec.dumps(again) == codec.dumps(made)


@settings(max_examples=50, deadline=None)
@given(records())
def test_records_made_at_random_follow_the_schema(made: Record) -> None:
    assert validate.problems(made.document) == ()


@settings(max_examples=50, deadline=None)
@given(records())
def test_another_parser_reads_the_same_numbers(made: Record) -> None:
    there = json.loads(codec.dumps(made))
    for mine, other in zip(
        made.document["results"]["sweeps"], there["results"]["sweeps"], strict=True
    ):
        assert mine["value_db"].tolist() == [float(value) for value in other["value_db"]]


def test_arrays_come_back_as_doubles_that_nobody_can_change() -> None:
    values = codec.loads(codec.dumps(record())).document["results"]["sweeps"][0]["value_db"]
    assert values.dtype == np.float64
    with pytest.raises(ValueError, match="read-only"):
        values[0] = 1.0


def test_a_list_given_to_a_record_can_be_changed_afterwards_without_harm() -> None:
    members = body()
    values = np.array([90.0, 88.12])
    members["results"]["sweeps"][0]["value_db"] = values
    made = Record.build(**members, origin=[])
    values[0] = 0.0
    assert made.document["results"]["sweeps"][0]["value_db"][0] == 90.0
    assert identity.record_id(made.document) == made.record_id


def test_each_array_of_numbers_has_a_line_and_members_the_order_of_the_schema() -> None:
    lines = codec.dumps(record()).decode().splitlines()
    assert '    "value_db": [90,88.12],' in lines
    assert '    "delay_ns": [302.1,301,300.2]' in lines
    names = [line.split('"')[1] for line in lines if line.startswith(' "')]
    assert names == [
        *list(plain())[:4],
        *("link", "test", "results", "stated", "extra"),
        *("attachments", "extensions", "resolved", "provenance"),
    ]


def test_the_bytes_do_not_depend_on_the_order_of_members() -> None:
    def turned(value: object) -> object:
        if isinstance(value, dict):
            return {name: turned(value[name]) for name in reversed(value)}
        return [turned(item) for item in value] if isinstance(value, list) else value

    other = turned(plain())
    assert isinstance(other, dict)
    assert list(other) != list(plain())
    assert codec.dumps(Record.of(other)) == codec.dumps(record())


def test_labels_stay_text() -> None:
    members = body()
    for label in ("007", "=1+1", "NA", "1e5", " padded ", "Überbau\t7", "\U0001f600"):
        members["link"]["label"] = label
        made = Record.build(**members, origin=[])
        assert codec.loads(codec.dumps(made)).label == label


def test_an_unknown_kind_keeps_its_body() -> None:
    made = Record.build(
        kind="fibre-link",
        link={"label": "F-1", "fibres": 12},
        test={},
        results={"events": [{"distance_m": 1.5}], "sweeps": [{"value_db": [1, 2]}]},
        origin=[{"sha256": "0" * 64, "name": "f.csv", "locator": ""}],
    )
    again = codec.loads(codec.dumps(made))
    assert again == made
    assert again.document["results"]["sweeps"][0]["value_db"] == [1, 2]
    assert validate.problems(again.document) == ()


def test_a_record_equals_only_what_says_the_same() -> None:
    members = body()
    members["link"]["near"]["connector"]["screened"] = 0
    assert Record.build(**members, origin=[]) != Record.build(**body(), origin=[])
    assert record() == Record.of(plain())
    assert hash(record()) == hash(Record.of(plain()))
    assert record() != "a record"


@pytest.mark.parametrize("value", [float("nan"), float("inf"), 2**53, "\ud800", object()])
def test_what_is_not_of_json_never_gets_an_identity(value: object) -> None:
    members = body()
    members["extensions"] = {"org.example.x": [value]}
    with pytest.raises(NoCanonicalText, match="Every value must be one of JSON"):
        Record.build(**members, origin=[])


@pytest.mark.parametrize("value", [float("nan"), float("-inf")])
def test_an_array_with_a_hole_in_it_never_gets_an_identity(value: float) -> None:
    members = body()
    members["results"]["sweeps"][0]["value_db"] = [90.0, value]
    with pytest.raises(NoCanonicalText, match="NaN or infinity"):
        Record.build(**members, origin=[])
    with pytest.raises(NoCanonicalText, match="cannot be written"):
        codec.dumps(Record.of({**plain(), **members}))
