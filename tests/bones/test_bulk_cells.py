"""Cells kept as bytes are the numbers and the texts that they are one by one."""

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sweepbook import bulk_cells
from sweepbook.bulk_cells import Buffer, Plain, numbers
from sweepbook.bulk_numbers import Read
from sweepbook.columns import Column, holds_any
from sweepbook.dialect.numbers import Numbers
from sweepbook.dialect.raw import Fault
from sweepbook.dialect.units import DEFAULTS
from sweepbook.numerals import Notation

PLAIN = re.compile(r"-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?")
"""A number of JSON without an exponent (RFC 8259, section 6)."""

NUMBERS = st.decimals(-999, 999, places=2).map(str) | st.from_regex(PLAIN, fullmatch=True)
ODD = st.sampled_from(
    ["--", "-999", ">65", ">65.0", "1 000", "+1", ".5", "5.", "007", "1e3", "1/2"]
)
CELLS = st.lists(
    NUMBERS | NUMBERS | ODD | st.text("0123456789.,-/ e\u0660", max_size=40), min_size=1, max_size=9
)


class Bytes:
    """Texts kept as the bytes of one line."""

    def __init__(self, texts: list[str]) -> None:
        self.texts = texts
        raw = "".join(f"{text}|" for text in texts).encode()
        self.buffer = Buffer(raw)
        self.ends = np.flatnonzero(np.frombuffer(raw, np.uint8) == ord("|"))
        self.starts = np.concatenate((np.zeros(1, np.intp), self.ends[:-1] + 1))

    def __len__(self) -> int:
        return len(self.texts)

    def __getitem__(self, at: int) -> str:
        return self.texts[at]

    def __iter__(self) -> Iterator[str]:
        return iter(self.texts)

    def some(self, at: Sequence[int]) -> list[str]:
        return [self.texts[one] for one in at]

    def read(self, decimal: str, plain: Plain) -> Read:
        del plain
        return bulk_cells.read("\n".join(self).encode(), decimal)

    def plain(self, decimal: str) -> Plain:
        return numbers(self.buffer.raw, self.ends, decimal)


@given(CELLS, st.sampled_from(".,"))
def test_plain_numbers_are_the_nearest_doubles_and_the_rest_is_odd(
    texts: list[str], decimal: str
) -> None:
    if decimal == ",":
        texts = [text.replace(".", ",") for text in texts]
    plain = Bytes(texts).plain(decimal)
    for text, value, digits, odd in zip(texts, *plain, strict=True):
        number = text.replace(",", ".") if decimal == "," else text
        is_plain = PLAIN.fullmatch(number) and (decimal == "." or "." not in text)
        if odd:
            whole_of_many_digits = "." not in number and len(number) > 18
            assert not is_plain or whole_of_many_digits
            assert (value, digits) == (0.0, 0)
        else:
            assert is_plain
            assert (value, digits) == (float(number), len(number.partition(".")[2]))


@given(CELLS)
def test_cells_differ_where_their_texts_do(texts: list[str]) -> None:
    kept = Bytes(texts)
    found = kept.buffer.differ(kept.starts, kept.ends).tolist()
    assert found == [one != two for one, two in pairwise(texts)]


NUMBERS_OF = {
    decimal: Numbers(
        Notation(decimal),
        frozenset({"--", ""}),
        [(">", "", "at_least")],
        {**DEFAULTS, "frequency": "kHz"},
    )
    for decimal in ".,"
}


def outcome(numbers: Numbers, texts: Sequence[str], quantity: str) -> object:
    """What reading a curve gives: values, decimals and marks, or the fault."""
    try:
        values, decimals, marks = numbers.column(texts, quantity, "at {}".format)
    except Fault as fault:
        return str(fault)
    return values.tolist(), decimals, marks


@given(CELLS, CELLS, st.sampled_from(".,"), st.sampled_from(["frequency", "loss"]))
def test_a_curve_reads_the_same_in_whatever_parts_it_is_kept(
    one: list[str], two: list[str], decimal: str, quantity: str
) -> None:
    column = Column([Bytes(one), two, Bytes(two), []])
    column.append("7")
    texts = [*one, *two, *two, "7"]
    assert [*column] == texts
    assert [column[at] for at in range(len(texts))] == texts
    assert column == texts
    numbers = NUMBERS_OF[decimal]
    assert outcome(numbers, column, quantity) == outcome(numbers, texts, quantity)
    for words in (frozenset({"--"}), frozenset({"", "7"})):
        assert holds_any(Bytes(one), words, decimal) == holds_any(one, words, decimal)


@given(CELLS, CELLS)
def test_columns_are_equal_where_their_texts_are(one: list[str], two: list[str]) -> None:
    for parsed in (False, True):
        columns = [Column([Bytes(texts)]) for texts in (one, two, one)]
        if parsed:
            columns[0].plain(".")
        assert columns[0] == columns[2]
        assert (columns[0] == columns[1]) == (one == two)


@pytest.mark.parametrize(
    "pair", [("0.0", "-0.0"), ("1.5", "1.50"), ("9007199254740993", "9007199254740992")]
)
def test_other_spellings_of_one_double_are_other_texts(pair: tuple[str, str]) -> None:
    one, two = (Column([Bytes([text])]) for text in pair)
    assert one.plain(".").values == two.plain(".").values
    assert one != two
