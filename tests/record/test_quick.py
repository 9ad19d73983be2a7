"""The quick reading and the strict one make the same of any text, or the quick one says nothing."""

import json
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sweepbook.record import acceptance, codec, identity, quick, strict, validate
from sweepbook.record.model import Record
from sweepbook.record.strict import NotARecord

from .samples import plain, record

FREQUENCIES = [position / 4 for position in range(1, 101)]
VALUES = [80.25 - position / 8 for position in range(100)]


def long_record() -> dict[str, Any]:
    """A record whose arrays are long enough to be read in bulk."""
    document = plain()
    document["results"]["grids"].append({"id": "long", "frequency_mhz": FREQUENCIES})
    document["results"]["sweeps"].append(
        {
            "parameter": "return_loss",
            "end": "near",
            "pairs": ["1-2"],
            "grid": "long",
            "decimals": 3,
            "value_db": VALUES,
        }
    )
    return document


def compact(document: dict[str, Any]) -> str:
    return json.dumps(document, separators=(",", ":"))


def agree(data: bytes) -> bool:
    """Hold both to the same answer; True where the quick one gave one."""
    value = quick.parsed(data)
    if value is None:
        return False
    there = Record.of(strict.parsed(data))
    assert Record(value.document) == there
    assert value.record_id in ("", identity.record_id(there.document))
    if value.skeleton is not None and acceptance.accepts(value.skeleton, plain=True):
        left = validate.problems(value.document, skeleton=value.skeleton)
        assert left == validate.problems(there.document)
    return True


def test_of_a_record_that_was_read_quickly_the_schema_alone_is_left_to_be_asked() -> None:
    value = quick.parsed(compact(long_record()).encode())
    assert value is not None and value.skeleton is not None
    assert acceptance.accepts(value.skeleton, plain=True)


@pytest.mark.parametrize(
    ("old", "new"),
    [("[0.25,", "[-0.25,"), ('"decimals":3', '"decimals":3.0'), ('"decimals":3', '"decimals":1e1')],
)
def test_numbers_that_a_record_may_not_have_there_are_looked_at_again(old: str, new: str) -> None:
    data = compact(long_record()).replace(old, new).encode()
    value = quick.parsed(data)
    assert value is not None and value.skeleton is None
    assert validate.problems(value.document)


@pytest.mark.parametrize("laid_out", [compact, lambda d: codec.dumps(Record.of(d)).decode()])
def test_a_record_is_read_quickly_and_says_the_same(laid_out: Any) -> None:
    assert agree(laid_out(long_record()).encode())
    assert agree(b"\xef\xbb\xbf" + laid_out(long_record()).encode())


def test_the_identity_comes_with_the_text_as_the_book_writes_it() -> None:
    document = long_record()
    document["results"]["sweeps"][2]["complex"]["imaginary"][2] = -0.25  # there -0.00001
    made = Record.of(document)
    read = codec.loads(codec.dumps(made))
    assert read.proven_id == identity.record_id(made.document)
    assert read.with_resolved({"label": "other"}).proven_id == ""


@pytest.mark.parametrize("other", ["0.250", "25e-2", "0.25000000000000001", "0.249999999999999999"])
def test_no_identity_comes_with_numbers_that_are_written_otherwise(other: str) -> None:
    data = codec.dumps(Record.of(long_record())).replace(b"[0.25,0.5,", f"[{other},0.5,".encode())
    assert quick.parsed(data) is None or codec.loads(data).proven_id == ""


def test_the_arrays_are_doubles_that_nobody_can_change() -> None:
    value = quick.parsed(compact(long_record()).encode())
    assert value is not None
    values = value.document["results"]["sweeps"][-1]["value_db"]
    assert values.dtype == np.float64
    assert values.tolist() == VALUES
    with pytest.raises(ValueError, match="read-only"):
        values[0] = 1.0


def test_a_record_without_long_arrays_is_left_to_the_strict_reading() -> None:
    assert quick.parsed(codec.dumps(record())) is None


NUMBERS = ",".join(map(str, FREQUENCIES))
NO_ANSWER = {
    "NaN among them": (NUMBERS, f"{NUMBERS},NaN"),
    "NaN elsewhere": ('"decimals":3', '"decimals":NaN'),
    "the stand-in itself elsewhere": ('"decimals":3', '"decimals":4503599627370497'),
    "the stand-in itself before the arrays": ('"kind"', '"x":4503599627370497,"kind"'),
    "the stand-in in the place of an array": (f"[{NUMBERS}]", "[4503599627370497]"),
    "the same without brackets": (f"[{NUMBERS}]", "4503599627370497"),
    "a name twice, a colon in a text": ('"decimals":3', '"decimals":3,"decimals" :3,"x":":"'),
    "2^53": (NUMBERS, f"{NUMBERS},9007199254740992"),
    "-2^53": (NUMBERS, f"{NUMBERS},-9007199254740992"),
    "2^64": (NUMBERS, f"{NUMBERS},18446744073709551616"),
    "a thousand digits": (NUMBERS, f"{NUMBERS},{'9' * 1000}"),
    "a comma too many": (NUMBERS, f"{NUMBERS},"),
    "a comma before": (NUMBERS, f",{NUMBERS}"),
    "two commas": (NUMBERS, NUMBERS.replace(",", ",,", 1)),
    "a leading zero": (NUMBERS, f"{NUMBERS},007"),
    "a sign alone": (NUMBERS, f"{NUMBERS},-"),
    "a point at the end": (NUMBERS, f"{NUMBERS},1."),
    "a point before": (NUMBERS, f"{NUMBERS},.5"),
    "two numbers in one": (NUMBERS, f"{NUMBERS},1-2"),
    "a list of lists": (f"[{NUMBERS}]", f"[[{NUMBERS}]]"),
    "an array where a record has none": ('"extensions":{', f'"extensions":{{"a.b":[{NUMBERS}],'),
    "an array in a text": ('"007"', f'"[{NUMBERS}]"'),
    "an array in a text that ends": ('"007"', f'"\\":[{NUMBERS}],\\""'),
    "a name twice": ('"decimals":3', '"decimals":3,"decimals":3'),
    "an array twice": ('"value_db":[80', f'"value_db":[{NUMBERS}],"value_db":[80'),
    "half a surrogate pair in a name": ('"decimals":3', '"\\udc00":[1'),
    "cut off": (NUMBERS + "]", NUMBERS),
    "two values": ('{"schema"', '{}{"schema"'),
    "an array of records": ('{"schema"', '[{"schema"'),
    "nested without end": ('"007"', "[" * 100_000),
    "Latin-1": ('"007"', '"\udce4"'),
}


@pytest.mark.parametrize("name", NO_ANSWER)
def test_what_may_be_wrong_or_mean_something_else_gets_no_quick_answer(name: str) -> None:
    old, new = NO_ANSWER[name]
    whole = compact(long_record())
    assert old in whole
    data = whole.replace(old, new, 1).encode("utf-8", "surrogateescape")
    assert quick.parsed(data) is None


def test_the_strict_reading_takes_what_only_looks_doubtful() -> None:
    for name in ("an array where a record has none", "an array in a text", "a list of lists"):
        old, new = NO_ANSWER[name]
        data = compact(long_record()).replace(old, new, 1).encode()
        assert codec.loads(data) == Record.of(json.loads(data))


NUMBER_TEXT = st.one_of(
    st.floats(allow_nan=False, allow_infinity=False).map(repr),
    st.decimals(allow_nan=False, allow_infinity=False, min_value=-999, max_value=999, places=3).map(
        str
    ),
    st.integers(-(2**54), 2**54).map(str),
    st.from_regex(r"-?[0-9]{1,25}(\.[0-9]{1,25})?", fullmatch=True),
    st.sampled_from(["-0", "-0.0", "0", "0.30000000000000004", "9007199254740993.0", "2.5e-3"]),
)


@settings(max_examples=300, deadline=None)
@given(st.lists(NUMBER_TEXT, min_size=20, max_size=40))
def test_every_number_is_the_double_that_the_strict_reading_gives(numbers: list[str]) -> None:
    data = compact(long_record()).replace(NUMBERS, ",".join(numbers), 1).encode()
    try:
        strict.parsed(data)
    except NotARecord:
        assert quick.parsed(data) is None
        return
    agree(data)


@settings(max_examples=500, deadline=None)
@given(
    st.integers(0, 10_000),
    st.integers(0, 3),
    st.text(alphabet='{}[]",:0123eE.-+\\ud89abInfity \n', max_size=6),
)
def test_a_mutated_record_is_read_alike_or_left(place: int, gone: int, junk: str) -> None:
    whole = compact(long_record())
    at = place % len(whole)
    data = (whole[:at] + junk + whole[at + gone :]).encode()
    agree(data)
