"""A token is a finite decimal number as declared, or it is an error."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sweepbook.numerals import POINT, NotANumber, Notation, first_fault, parse, parse_column


def finite(places: int) -> st.SearchStrategy[Decimal]:
    """Decimals with so many digits after the mark."""
    return st.decimals(-(10**9), 10**9, allow_nan=False, allow_infinity=False, places=places)


COMMA = Notation(decimal=",", thousands=".")


@pytest.mark.parametrize(
    ("text", "notation", "shift", "value", "decimals"),
    [
        ("31250", POINT, -3, 31.25, 3),
        ("1150", POINT, -3, 1.15, 3),
        ("0.221", POINT, 3, 221.0, 0),
        ("43.20", POINT, 0, 43.2, 2),
        ("-0", POINT, 0, 0.0, 0),
        ("1e3", POINT, 0, 1000.0, 0),
        ("12,5", COMMA, 0, 12.5, 1),
        ("1.250,75", COMMA, 0, 1250.75, 2),
        (" 7 ", POINT, 0, 7.0, 0),
    ],
)
def test_value_and_decimals(
    text: str, notation: Notation, shift: int, value: float, decimals: int
) -> None:
    assert parse(text, notation, shift) == (value, decimals)


@pytest.mark.parametrize(
    "text",
    ["", "1_000", "nan", "inf", "Infinity", "1e999", "12,5", "1 000", "0x10", "\u0661\u0662",
     "1.2.3", "--1", "1e", ".", ">65", "12.5 dB", "1\n2"],
)  # fmt: skip
def test_what_is_no_number_is_refused(text: str) -> None:
    with pytest.raises(NotANumber, match="is not a number"):
        parse(text)
    with pytest.raises(NotANumber):
        parse_column(["1.0", text, "2.0"])
    assert first_fault(["1.0", text, "2.0"]) == 1


@pytest.mark.parametrize("text", ["1.2", "1.25,0", "1.2500", "12.34.567"])
def test_a_point_is_no_decimal_mark_where_a_comma_is_declared(text: str) -> None:
    with pytest.raises(NotANumber):
        parse(text, COMMA)


@given(finite(places=4), st.integers(-6, 6))
def test_a_unit_shift_gives_the_double_nearest_to_the_decimal(number: Decimal, shift: int) -> None:
    shifted = parse(str(number), shift=shift)
    assert shifted.value == float(number.scaleb(shift))
    assert shifted.decimals == max(0, 4 - shift)


@given(st.lists(finite(places=2)))
def test_a_column_reads_like_its_tokens(numbers: list[Decimal]) -> None:
    texts = [str(number) for number in numbers]
    values, decimals = parse_column(texts)
    assert values.tolist() == [parse(text).value for text in texts]
    assert decimals == (2 if numbers else 0)
    assert first_fault(texts) == len(texts)
