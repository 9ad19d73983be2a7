"""Numbers of exports: notation, units, signs, missing words, clipped values."""

import re
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sweepbook import numerals
from sweepbook.dialect.marks import Mark, turned
from sweepbook.dialect.numbers import Numbers
from sweepbook.dialect.raw import Cell, Fault
from sweepbook.dialect.units import DEFAULTS
from sweepbook.numerals import Notation
from sweepbook.tokens import Tokens

COMMA = Notation(",")


def numbers(**units: str) -> Numbers:
    return Numbers(COMMA, frozenset({"--"}), [(">", "", "at_least")], {**DEFAULTS, **units})


def place(position: int) -> str:
    return f"line {position + 1}"


@pytest.mark.parametrize(
    ("text", "quantity", "unit", "value", "decimals"),
    [
        ("31250", "frequency", "kHz", 31.25, 0),
        ("31250000", "frequency", "Hz", 31.25, 0),
        ("0,5", "frequency", "GHz", 500.0, 0),
        ("0,412", "delay", "us", 412.0, 0),
        ("312500", "delay", "ps", 312.5, 3),
        ("9120,5", "resistance", "mohm", 9.1205, 4),
        ("62,10", "length", "m", 62.1, 2),
    ],
)
def test_units_are_shifted_in_the_text(
    text: str, quantity: str, unit: str, value: float, decimals: int
) -> None:
    reading = numbers(**{quantity: unit}).read(Cell(text, ""), quantity)
    assert reading.value == value
    if quantity not in ("frequency", "delay"):
        assert reading.decimals == decimals


def test_a_shift_gives_the_double_of_the_shifted_decimal_not_a_product() -> None:
    # 1.15 is not 1150 * 0.001 in binary: 1.1500000000000001.
    assert numbers(frequency="kHz").read(Cell("1150", ""), "frequency").value == 1.15
    assert 1150 * 0.001 != 1.15


def test_feet_are_exact_and_say_their_resolution() -> None:
    # NIST SP 811 (2008), B.6: 1 ft = 0.3048 m exactly. 203.4 * 0.3048 = 61.99632.
    reading = numbers(length="ft").read(Cell("203,4", ""), "length")
    assert reading.value == 61.99632
    assert reading.decimals == 5
    assert reading.resolution == pytest.approx(0.03048, rel=1e-15)


def test_fahrenheit() -> None:
    # NIST SP 811 (2008), B.8: t/C = (t/F - 32) / 1.8. 71.6 F = 22 C.
    reading = numbers(temperature="F").read(Cell("71,6", ""), "temperature")
    assert reading.value == pytest.approx(22.0, abs=1e-12)


@pytest.mark.parametrize("text", ["21,5 \u00b0C", "21,5\u00b0C", "21,5 C", "21,5"])
def test_a_degree_sign_is_part_of_the_unit(text: str) -> None:
    assert numbers(temperature="C").read(Cell(text, ""), "temperature").value == 21.5


def test_a_negative_export_turns_value_and_bound() -> None:
    clipped = Numbers(COMMA, frozenset(), [("<", "", "at_most")])
    reading = clipped.read(Cell("<-90,00", ""), "loss", negative=True)
    assert (reading.value, reading.bound, reading.decimals) == (90.0, "at_least", 2)


def test_a_turned_zero_is_no_negative_zero() -> None:
    value = numbers().read(Cell("0,00", ""), "loss", negative=True).value
    assert str(value) == "0.0"


@pytest.mark.parametrize("text", ["12,3 m", "12,3m", " 12,3 "])
def test_a_cell_may_carry_the_declared_unit(text: str) -> None:
    assert numbers().read(Cell(text, ""), "length").value == 12.3


@pytest.mark.parametrize(
    "text",
    ["12,3 ft", "12.3", "1_0", "nan", "inf", "-inf", "1,2,3", "", "x", "١٢", "0x10", "1e999", "--"],
)
def test_anything_else_is_a_fault_that_names_the_keys(text: str) -> None:
    with pytest.raises(Fault, match=r"numbers\.missing") as caught:
        numbers().read(Cell(text, "line 7, column 'x'"), "length")
    assert caught.value.place == "line 7, column 'x'"


def test_grouping_only_where_declared() -> None:
    grouped = Numbers(Notation(",", "."))
    assert grouped.read(Cell("487.000,5", ""), "frequency").value == 487000.5
    with pytest.raises(Fault):
        grouped.read(Cell("48.70,5", ""), "frequency")
    with pytest.raises(Fault):
        numbers().read(Cell("487.000", ""), "frequency")


def test_a_column_with_gaps_and_bounds() -> None:
    texts = [">80", ">80", "41,0", "--", "--", "40,1", "--"]
    values, decimals, marks = numbers().column(texts, "loss", place)
    assert values.tolist() == [80.0, 80.0, 41.0, 40.1]
    assert decimals == 1
    assert marks == [
        Mark(0, 1, "at_least", ">80"),
        Mark(3, 4, "gap", "--"),
        Mark(6, 6, "gap", "--"),
    ]
    assert turned(marks)[0].kind == "at_most"
    assert turned(marks)[1].kind == "gap"


def test_a_column_whose_cells_carry_the_unit() -> None:
    values, decimals, marks = numbers().column(["1,90 dB", ">80,00 dB", "--"], "loss", place)
    assert values.tolist() == [1.9, 80.0]
    assert decimals == 2
    assert [mark.kind for mark in marks] == ["at_least", "gap"]
    with pytest.raises(Fault, match="'2 m'"):
        numbers().column(["1,90 dB", "2 m"], "loss", place)


def test_a_word_for_missing_that_looks_like_a_number_is_a_gap_all_the_same() -> None:
    odd = Numbers(numerals.POINT, frozenset({"-999.99"}))
    values, _, marks = odd.column(["1.0", "-999.99", "2.0"], "loss", place)
    assert values.tolist() == [1.0, 2.0]
    assert marks == [Mark(1, 1, "gap", "-999.99")]


def test_a_fault_in_a_column_is_placed_where_it_stands() -> None:
    with pytest.raises(Fault) as caught:
        numbers().column(["1,0", "--", ">2,0", "3.0"], "loss", place)
    assert caught.value.place == "line 4"
    assert "'3.0'" in caught.value.message


@pytest.mark.parametrize("odd", ["41.05", ">90.00"])
def test_both_decimal_marks_in_one_curve_are_told(odd: str) -> None:
    with pytest.raises(Fault, match="; '39,98' before it has that mark, so the export mixes both"):
        numbers().column(["7", "39,98", odd], "loss", place)
    with pytest.raises(Fault) as caught:
        numbers().column(["7", odd], "loss", place)
    assert "before it" not in caught.value.message


def test_an_empty_cell_is_told_apart() -> None:
    with pytest.raises(Fault, match=r'add "" to numbers\.missing'):
        numbers().column(["1,0", ""], "loss", place)


ODD = [
    "--",
    ">80,00",
    ">5",
    "7 dB",
    " 1,5 ",
    "+2",
    ",5",
    "5,",
    "1e1",
    "\n3,0",
    "-0",
    "00,1",
    "x",
    "",
]


@given(
    st.lists(st.decimals(-99, 99, places=2).map(lambda one: str(one).replace(".", ","))),
    st.lists(st.sampled_from(ODD), max_size=6),
    st.randoms(use_true_random=False),
    st.sampled_from(["dB", "0.01 dB", "0.25 dB", "10 dB"]),
)
def test_a_curve_is_its_cells_one_by_one(
    plain: list[str], odd: list[str], mixer: Random, unit: str
) -> None:
    """The way for many numbers at once and the exact way for one, which knows nothing of it."""
    texts = [*plain, *odd]
    mixer.shuffle(texts)
    reader = numbers(loss=unit)
    cells = [(at, text) for at, text in enumerate(texts) if not reader.is_missing(text)]
    try:
        single = [reader.read(Cell(text, place(at)), "loss") for at, text in cells]
    except Fault as fault:
        with pytest.raises(Fault, match=re.escape(str(fault))):
            reader.column(texts, "loss", place)
        return
    values, decimals, marks, *_ = reader.curve(texts, "loss", place)
    assert [value.hex() for value in values.tolist()] == [one.value.hex() for one in single]
    if single:
        assert decimals == max(one.decimals for one in single)
    held = {at: mark for mark in marks for at in range(mark.first, mark.last + 1)}
    bounds = {at: one.bound for (at, _), one in zip(cells, single, strict=True) if one.bound}
    gaps = {at: "gap" for at, text in enumerate(texts) if reader.is_missing(text)}
    assert {at: mark.kind for at, mark in held.items()} == bounds | gaps
    assert all(texts[at].strip() == mark.as_stated for at, mark in held.items())
    if texts and "\n3,0" not in texts:
        again = reader.column(Tokens.of(texts), "loss", place)
        assert (again[0].tolist(), *again[1:]) == (values.tolist(), decimals, marks)


TOKENS = st.one_of(
    st.decimals(-1000, 1000, places=2).map(str),
    st.integers(-99, 99).map(str),
    st.sampled_from(["1e3", "1E-2", ".5", "5.", " 7 ", "+3.0", "-0.0", "00.1"]),
)


@given(st.lists(TOKENS, max_size=20), st.sampled_from([-6, -3, 0, 3]))
def test_a_column_is_its_tokens_one_by_one(texts: list[str], shift: int) -> None:
    values, decimals = numerals.parse_column(texts, numerals.POINT, shift)
    single = [numerals.parse(text, numerals.POINT, shift) for text in texts]
    assert [value.hex() for value in values.tolist()] == [one.value.hex() for one in single]
    assert decimals == max((one.decimals for one in single), default=0)


@given(st.lists(st.text(alphabet="0123456789.,-+eE_ \n", max_size=6), max_size=6))
def test_a_column_with_a_bad_token_is_refused_as_the_token_is(texts: list[str]) -> None:
    def reads(text: str) -> bool:
        try:
            numerals.parse(text)
        except numerals.NotANumber:
            return False
        return True

    if all(map(reads, texts)):
        numerals.parse_column(texts)
    else:
        with pytest.raises(numerals.NotANumber):
            numerals.parse_column(texts)
