"""The quick way to numbers gives the doubles that Python's own `float` gives, or says no."""

import re
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sweepbook import bulk_numbers, numerals


@given(
    st.lists(st.integers(-(10**14), 10**14), min_size=1, max_size=40),
    st.integers(0, 4),
    st.sampled_from([-6, -3, 0]),
)
def test_each_is_the_nearest_double(whole: list[int], decimals: int, shift: int) -> None:
    texts = [f"{Decimal(number).scaleb(-decimals):f}" for number in whole]
    found = numerals.parse_bare(texts, shift=shift)
    assert found is not None
    assert found[0].tolist() == [float(f"{text}e{shift}") + 0.0 for text in texts]
    assert found[1] == decimals - shift


@given(
    st.lists(st.from_regex(r"-?(0|[1-9][0-9]{0,20})(\.[0-9]{1,18})?", fullmatch=True), min_size=1),
    st.sampled_from([-6, -3, 0, 3]),
)
def test_however_many_digits_there_are(texts: list[str], shift: int) -> None:
    found = numerals.parse_bare(texts, shift=shift)
    assert found is not None
    assert found[0].tolist() == [float(f"{text}e{shift}") + 0.0 for text in texts]
    assert found[1] == max(0, max(len(text.partition(".")[2]) for text in texts) - shift)


@given(st.lists(st.text("0123456789.+-", max_size=7), min_size=1, max_size=6))
def test_what_is_no_number_is_refused_as_before(texts: list[str]) -> None:
    number = r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)"
    fine = all(re.fullmatch(number, text) for text in texts)
    found = numerals.parse_bare(texts)
    assert (found is not None) == fine
    if found is not None:
        assert found[0].tolist() == [float(text) + 0.0 for text in texts]


@pytest.mark.parametrize(
    "lines", ["1.23.4\n56", "5.", ".5", "", "1-2", "--1", "-", "007", "1\n\n2", "\n1", "1\n"]
)
def test_other_forms_are_left_to_the_long_way(lines: str) -> None:
    assert bulk_numbers.read([lines.encode()], ".", b"\n") is None


def test_a_run_is_of_the_same_texts_side_by_side() -> None:
    at, texts = (0, 1, 3, 4, 5), ("", "", "", "x", "x")
    assert bulk_numbers.runs(at, texts) == [(0, 1, ""), (3, 3, ""), (4, 5, "x")]
    assert bulk_numbers.runs((), ()) == []
