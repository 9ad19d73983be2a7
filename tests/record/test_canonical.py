"""Canonical text against RFC 8785, JSON Canonicalization Scheme (IETF, June 2020).

The examples of its sections 3.2.2 and 3.2.3 and the numbers of its appendix B were recalled, not
copied from the RFC. Each number carries its own proof: the text reads back to the bits beside it,
and one digit less would not.
"""

import json
import math
import struct

import numpy as np
import pytest
import rfc8785
from hypothesis import given, settings
from hypothesis import strategies as st

from sweepbook.record import canonical, numbers

from .samples import finite, json_values

# RFC 8785, appendix B: IEEE 754 bits and ECMAScript text (recalled).
APPENDIX_B = [
    ("0000000000000000", "0"),
    ("8000000000000000", "0"),
    ("0000000000000001", "5e-324"),
    ("8000000000000001", "-5e-324"),
    ("7fefffffffffffff", "1.7976931348623157e+308"),
    ("ffefffffffffffff", "-1.7976931348623157e+308"),
    ("4340000000000000", "9007199254740992"),
    ("c340000000000000", "-9007199254740992"),
    ("4430000000000000", "295147905179352830000"),
    ("44b52d02c7e14af5", "9.999999999999997e+22"),
    ("44b52d02c7e14af6", "1e+23"),
    ("44b52d02c7e14af7", "1.0000000000000001e+23"),
    ("444b1ae4d6e2ef4e", "999999999999999700000"),
    ("444b1ae4d6e2ef4f", "999999999999999900000"),
    ("444b1ae4d6e2ef50", "1e+21"),
    ("3eb0c6f7a0b5ed8c", "9.999999999999997e-7"),
    ("3eb0c6f7a0b5ed8d", "0.000001"),
    ("41b3de4355555553", "333333333.3333332"),
    ("41b3de4355555554", "333333333.33333325"),
    ("41b3de4355555555", "333333333.3333333"),
    ("41b3de4355555556", "333333333.3333334"),
    ("41b3de4355555557", "333333333.33333343"),
    ("becbf647612f3696", "-0.0000033333333333333333"),
    ("43143ff3c1cb0959", "1424953923781206.2"),
]


def double(bits: str) -> float:
    value: float = struct.unpack(">d", bytes.fromhex(bits))[0]
    return value


@pytest.mark.parametrize(("bits", "text"), APPENDIX_B)
def test_numbers_of_appendix_b(bits: str, text: str) -> None:
    value = double(bits)
    assert canonical.text(value).decode() == text
    assert numbers.joined(np.array([value, value])) == f"{text},{text}"
    assert float(text) == value


def test_numbers_with_and_without_an_exponent_stand_side_by_side() -> None:
    values = np.array([double(bits) for bits, _ in APPENDIX_B])
    assert numbers.joined(values).split(",") == [text for _, text in APPENDIX_B]


@pytest.mark.parametrize("bits", ["7fffffffffffffff", "7ff0000000000000", "fff0000000000000"])
def test_appendix_b_has_no_text_for_nan_and_infinity(bits: str) -> None:
    assert not math.isfinite(double(bits))
    with pytest.raises(canonical.NoCanonicalText):
        canonical.text([double(bits)])
    with pytest.raises(canonical.NoCanonicalText):
        canonical.text(np.array([double(bits)]))


def test_the_example_of_section_3_2_2() -> None:
    given_text = r"""{
      "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
      "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/",
      "literals": [null, true, false]
    }"""
    expected = (
        '{"literals":[null,true,false],'
        '"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],'
        '"string":"\u20ac$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}'
    )
    assert canonical.text(json.loads(given_text)).decode() == expected


def test_members_are_sorted_as_in_section_3_2_3() -> None:
    names = ["\u20ac", "\r", "\ufb33", "1", "\U0001f600", "\u0080", "\u00f6"]
    text = canonical.text(dict.fromkeys(names, 0))
    expected = ["\r", "1", "\u0080", "\u00f6", "\u20ac", "\U0001f600", "\ufb33"]
    assert list(json.loads(text)) == expected
    assert sorted(names) != expected, "code points would sort the last two the other way round"


@settings(deadline=None)
@given(json_values)
def test_it_is_what_the_reference_library_writes(value: object) -> None:
    assert canonical.text(value) == rfc8785.dumps(value)  # type: ignore[arg-type]


@settings(deadline=None)
@given(st.lists(finite, max_size=20))
def test_arrays_are_written_as_the_reference_library_writes_lists(values: list[float]) -> None:
    assert canonical.text(np.array(values, dtype=np.float64)) == rfc8785.dumps(values)


@settings(deadline=None)
@given(
    st.lists(
        st.integers(-2100, 10_100).map(lambda whole: whole / 100.0)
        | st.sampled_from([-0.0, 1.005, 0.1 + 0.2, 99.995, 1e-9, 5e-324]),
        min_size=1,
    )
)
def test_so_are_arrays_of_hundredths(values: list[float]) -> None:
    assert canonical.text(np.array(values)) == rfc8785.dumps(values)


def test_nesting_without_end_is_an_error_and_no_crash() -> None:
    value: list[object] = []
    for _ in range(100_000):
        value = [value]
    with pytest.raises(canonical.NoCanonicalText, match="nested too deep"):
        canonical.text(value)
