"""Texts that are cut apart late are those that Python cuts apart at once."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sweepbook import tokens
from sweepbook.tokens import Tokens, all_empty, read_ahead, split

LISTS = st.text(" \n\t\r\x0b\x1f\x85\xa01234,;.<-", max_size=30)
TEXTS = st.lists(st.text("<>1.\xb0\ud800", max_size=3), min_size=1, max_size=8)

PLAIN = r"-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?"
"""A number of JSON without an exponent (RFC 8259, section 6)."""
NUMBERS = st.decimals(-999, 999, places=2).map(str) | st.from_regex(PLAIN, fullmatch=True).filter(
    lambda text: len(text) < 16
)
ODD = ["--", "-", ">65", "<-65.0", "+1", ".5", "5.", "007", "1e3", "1,9", "5?", "[1]", "1.2.3"]


def in_one_line(text: str, separator: str) -> str:
    """A list with a separator in the place of each line end that has none beside it."""
    whole = ""
    for line in filter(None, map(str.strip, text.split("\n"))):
        is_parted = whole.endswith(separator.strip()) or line.startswith(separator.strip())
        whole += (" " if is_parted else separator) * bool(whole) + line
    return whole + " " * whole.endswith(separator.strip()) if "\n" in text else text


@given(LISTS, st.sampled_from([None, " ", "\t", ";", ",", ".", "\xb7", ", "]))
def test_a_list_is_cut_as_python_cuts_it(text: str, separator: str | None) -> None:
    if separator is None or separator.isspace():
        expected = text.split()
    else:
        expected = [piece.strip() for piece in in_one_line(text, separator).split(separator)]
        expected = expected[:-1] if expected[-1] == "" else expected
    found = split(text, separator)
    assert list(found) == expected
    assert len(found) == len(expected)
    assert bool(found) == bool(expected)


@given(TEXTS, TEXTS)
def test_tokens_are_a_sequence_of_their_texts(texts: list[str], others: list[str]) -> None:
    found = Tokens.of(texts)
    assert list(found) == texts
    assert len(found) == len(texts)
    assert (found[0], found[-1], found[1:]) == (texts[0], texts[-1], texts[1:])
    assert (found == Tokens.of(others)) == (found == others) == (texts == others)


@given(
    st.lists(NUMBERS | NUMBERS | st.sampled_from(ODD), min_size=1, max_size=9),
    st.lists(st.text(" \n\t\r", min_size=1, max_size=2), min_size=9, max_size=9),
    st.sampled_from(".,"),
)
def test_they_are_read_as_they_are_one_by_one(
    texts: list[str], blanks: list[str], decimal: str
) -> None:
    texts = [text.replace(".", decimal) for text in texts]
    loose = "".join(map("".join, zip(blanks, texts, strict=False)))
    json = {at: re.fullmatch(PLAIN, text.replace(decimal, ".")) for at, text in enumerate(texts)}
    odd = {at: texts[at] for at, plain in json.items() if not plain}
    for one in (Tokens.of(texts), split(loose, None), split(";".join(texts), ";")):
        assert isinstance(one, Tokens)
        read = one.read(decimal)
        assert len(one) == len(texts)
        plain = ["0" if at in odd else text for at, text in enumerate(texts)]
        expected = [float(text.replace(decimal, ".")) + 0.0 for text in plain]
        assert [value.hex() for value in read.values.tolist()] == [
            value.hex() for value in expected
        ]
        assert read.digits == max(len(text.partition(decimal)[2]) for text in plain)
        assert {at: of.text for of in read.odd for at in range(of.first, of.last + 1)} == odd


@given(
    st.lists(st.lists(NUMBERS | st.sampled_from(ODD), max_size=5).map(" ".join), max_size=9),
    st.sampled_from([1, 40, 1 << 16]),
)
def test_lists_read_ahead_are_read_as_each_by_itself(lists: list[str], most: int) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(tokens, "MOST_TOGETHER", most)
        found = [split(text, None) for text in lists]
        read_ahead(found, ".")
    for text, ahead in zip(lists, found, strict=True):
        alone = split(text, None)
        assert len(ahead) == len(alone)
        if isinstance(ahead, Tokens) and isinstance(alone, Tokens):
            one, other = ahead.read("."), alone.read(".")
            assert one.values.tolist() == other.values.tolist()
            assert one[1:] == other[1:]


@pytest.mark.parametrize(
    ("text", "separator", "pieces"),
    [
        ("1;2\n3;4\n", ";", "1 2 3 4"),
        ("\n  1;2;\n  3;4;\n", ";", "1 2 3 4"),
        ("1;2\r\n;3", ";", "1 2 3"),
        ("1;2\n\n3", ";", "1 2 3"),
        ("1, 2,\n3, 4", ", ", "1 2 3 4"),
        ("\n1, 2,\n3, 4,\n", ", ", "1 2 3 4"),
        ("1,5, 2,5\n3,5, 4,5", ", ", "1,5 2,5 3,5 4,5"),
        ("1\n2", "|", "1 2"),
        ("1;2;\n;3\n4;;5", ";", "1 2 - 3 4 - 5"),
        ("1;2 3\n4", ";", "1 2_3 4"),
    ],
)
def test_a_line_end_parts_as_a_separator_does(text: str, separator: str, pieces: str) -> None:
    expected = [piece.replace("_", " ").strip("-") for piece in pieces.split(" ")]
    assert list(split(text, separator)) == expected


def test_a_separator_with_a_line_end_in_it_parts_alone() -> None:
    assert list(split("1;2;\n3;4", ";\n")) == ["1;2", "3;4"]


def test_a_line_end_in_a_text_is_no_end_of_it() -> None:
    assert list(Tokens.of(["1\n2", "3"])) == ["1\x002", "3"]


@pytest.mark.parametrize(
    ("raw", "empty"),
    [(b"", True), (b"\n\n", True), (b"\n0\n", False), (b" \n", False), (b"1\n2", False)],
)
def test_texts_are_empty_where_each_of_them_is(raw: bytes, empty: bool) -> None:
    texts = Tokens(raw)
    assert all_empty(texts) is empty is (not any(list(texts)))
    assert all_empty(raw.decode().split("\n")) is empty
