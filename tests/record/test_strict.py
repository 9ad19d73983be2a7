"""JSON that two programs might read in two ways, or that would bring one down, is refused."""

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sweepbook.record import codec
from sweepbook.record.codec import NotARecord

from .samples import plain, record

REFUSED = {
    "nothing": (b"", "line 1, column 1"),
    "no JSON": (b"label,verdict\n", "line 1, column 1"),
    "cut off": (b'{"schema": "urn:sweepbook:rec', "line 1, column 12"),
    "two values": (b"{} {}", "line 1, column 4"),
    "no object": (b'["urn:sweepbook:record-1"]', "no object"),
    "a number": (b"7", "no object"),
    "NaN": (b'{"a": NaN}', "NaN is no number"),
    "infinity": (b'{"a": -Infinity}', "-Infinity is no number"),
    "too large": (b'{"a": {"b": [1, 1e999]}}', r"\$\.a\.b\[1\] is a number too large"),
    "twice": (b'{"a": 1, "b": {"c": 1, "c": 1}}', "'c' stands twice"),
    "twice by escape": (rb'{"a": 1, "\u0061": 2}', "'a' stands twice"),
    "2^53": (b'{"a": 9007199254740992}', r"beyond 2\^53-1"),
    "-2^53": (b'{"a": -9007199254740992}', r"beyond 2\^53-1"),
    "a million digits": (b'{"a": ' + b"9" * 1_000_000 + b"}", r"1000000 digits"),
    "half a pair": (rb'{"a": ["\ud83d"]}', r"\$\.a\[0\] holds half of a surrogate pair"),
    "half a pair as a name": (rb'{"\udc00": 1}', "half of a surrogate pair"),
    "deep": (b'{"a": ' + b"[" * 65 + b"]" * 65 + b"}", "nested deeper than 64"),
    "bottomless": (b'{"a": ' + b"[" * 200_000, "nested deeper than 64"),
    "bottomless objects": (b'{"a":' * 200_000, "nested deeper than 64"),
    "Latin-1": (b'{"a": "\xe4"}', "byte 7 is not UTF-8"),
    "UTF-16": ('{"a": 1}'.encode("utf-16"), "byte 0 is not UTF-8"),
    "UTF-8 of a surrogate": (b'{"a": "\xed\xa0\x80"}', "is not UTF-8"),
    "NUL": (b'{"a": "\x00"}', "Invalid control character"),
    "comment": (b'{"a": 1 /* one */}', "line 1, column 9"),
    "hexadecimal": (b'{"a": 0x10}', "line 1, column 8"),
    "leading zero": (b'{"a": 007}', "line 1, column 8"),
}


@pytest.mark.parametrize("name", REFUSED)
def test_it_is_refused_with_one_clear_message(name: str) -> None:
    data, words = REFUSED[name]
    with pytest.raises(NotARecord, match=words) as caught:
        codec.loads(data)
    assert len(str(caught.value)) < 300
    assert caught.value.todo


def test_what_lies_just_inside_is_taken() -> None:
    assert (
        codec.loads(b'{"a": 9007199254740991, "b": -9007199254740991}').document["a"] == 2**53 - 1
    )
    assert codec.loads(b'{"a": ' + b"[" * 63 + b"]" * 63 + b"}")
    assert codec.loads(rb'{"a": "\ud83d\ude00"}').document["a"] == "\U0001f600"
    assert codec.loads(b'{"a": 1.7976931348623157e308}').document["a"] == 1.7976931348623157e308


def test_a_byte_order_mark_that_an_editor_left_does_no_harm() -> None:
    assert codec.loads(b"\xef\xbb\xbf" + codec.dumps(record())) == record()


def test_an_array_with_something_else_in_it_is_left_for_the_schema_to_name() -> None:
    document = plain()
    document["results"]["sweeps"][0]["value_db"] = [1, "2", None]
    there = codec.loads(json.dumps(document).encode()).document
    assert there["results"]["sweeps"][0]["value_db"] == [1, "2", None]


def test_an_infinite_number_in_an_array_is_named_by_its_place() -> None:
    text = json.dumps(plain()).replace("88.12", "1e999").encode()
    with pytest.raises(NotARecord, match=r"sweeps\[0\]\.value_db\[1\] is a number too large"):
        codec.loads(text)


@settings(max_examples=300, deadline=None)
@given(
    st.binary(max_size=60)
    | st.text(alphabet='{}[]",:0123eE.-\\ud89ab ', max_size=60).map(str.encode)
)
def test_any_bytes_are_taken_or_refused(data: bytes) -> None:
    try:
        again = codec.loads(data)
    except NotARecord:
        return
    assert codec.loads(codec.dumps(again)) == again


@settings(max_examples=100, deadline=None)
@given(st.integers(0, 3000), st.binary(min_size=1, max_size=3))
def test_a_damaged_record_is_taken_or_refused(place: int, junk: bytes) -> None:
    whole = codec.dumps(record())
    try:
        codec.loads(whole[: place % len(whole)] + junk + whole[place % len(whole) + 1 :])
    except NotARecord:
        return
