"""Numbers that count parts or multiples of a unit: exact, with the digits of the source.

What a number and its unit make is held against Python's own fractions, which are exact, and whose
`float` is the nearest double.
"""

from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sweepbook.dialect.numbers import Numbers
from sweepbook.dialect.raw import Cell, Fault
from sweepbook.dialect.units import DEFAULTS, UNITS, unit_of
from tests.csv_format.dialects import CURVES, changed
from tests.csv_format.reading import read

IN_RECORD = {"frequency": "MHz", "loss": "dB", "delay": "ns", "length": "m", "resistance": "ohm"}
WORTH = {
    "kHz": Fraction(1, 1000), "MHz": Fraction(1), "dB": Fraction(1), "ns": Fraction(1),
    "ps": Fraction(1, 1000), "us": Fraction(1000), "m": Fraction(1), "cm": Fraction(1, 100),
    "mm": Fraction(1, 1000), "ft": Fraction(3048, 10000), "ohm": Fraction(1),
    "mohm": Fraction(1, 1000),
}  # fmt: skip
"""What prefixes of the SI and the international foot (NIST SP 811, 2008, B.6) are worth."""


def numbers(quantity: str, unit: str) -> Numbers:
    return Numbers(units={**DEFAULTS, quantity: unit}, missing=frozenset({"--"}))


def place(position: int) -> str:
    return f"line {position + 1}"


def worth(called: str) -> Fraction:
    times, _, unit = called.rpartition(" ")
    return Fraction(times or 1) * WORTH[unit]


UNITS_OF = [
    ("loss", "0.01 dB"), ("loss", "0.1 dB"), ("loss", "0.25 dB"), ("loss", "0.003 dB"),
    ("delay", "0.1 ns"), ("delay", "100 ps"), ("delay", "0.01 us"), ("delay", "us"),
    ("length", "cm"), ("length", "mm"), ("length", "0.01 ft"), ("length", "10 m"),
    ("resistance", "10 mohm"), ("frequency", "31.25 kHz"), ("frequency", "0.15 MHz"),
]  # fmt: skip


@pytest.mark.parametrize(("quantity", "unit"), UNITS_OF)
@given(
    st.lists(
        st.integers(-99_999, 99_999).flatmap(
            lambda whole: st.sampled_from([str(whole), f"{whole}.5", f"{whole}.25"])
        ),
        min_size=1,
    )
)
def test_curves_and_figures_are_the_nearest_doubles(
    quantity: str, unit: str, texts: list[str]
) -> None:
    reader = numbers(quantity, unit)
    nearest = [float(Fraction(text) * worth(unit)) + 0.0 for text in texts]
    read = reader.curve(texts, quantity, place)
    assert [value.hex() for value in read.values.tolist()] == [one.hex() for one in nearest]
    assert [reader.read(Cell(text, ""), quantity).value for text in texts] == nearest


@pytest.mark.parametrize(("quantity", "unit"), UNITS_OF)
@pytest.mark.parametrize("text", ["412", "41.5", "7.25"])
def test_the_last_digit_of_the_source_is_what_is_known(quantity: str, unit: str, text: str) -> None:
    last = float(Fraction(1, 10 ** len(text.partition(".")[2])) * worth(unit))
    reading = numbers(quantity, unit).read(Cell(text, ""), quantity)
    known = 10.0**-reading.decimals if reading.resolution is None else reading.resolution
    assert known == pytest.approx(last, rel=1e-15)
    curve = numbers(quantity, unit).curve([text], quantity, place)
    assert (curve.decimals, curve.resolution) == (reading.decimals, reading.resolution)


def test_gaps_and_other_texts_are_told_with_the_unit() -> None:
    reader = numbers("loss", "0.01 dB")
    read = reader.curve(["1940", "--", "1941"], "loss", place)
    assert (read.values.tolist(), read.decimals, read.resolution) == ([19.4, 19.41], 2, None)
    assert [mark.kind for mark in read.marks] == ["gap"]
    with pytest.raises(Fault, match=r"'19 dB' is no number in 0\.01 dB .* units\.loss") as caught:
        reader.curve(["1940", "19 dB"], "loss", place)
    assert caught.value.place == "line 2"


@pytest.mark.parametrize("text", ["412 0.1 ns", "412 ns/10", "412 1/10 ns", "412"])
def test_a_cell_may_carry_the_scaled_unit(text: str) -> None:
    assert numbers("delay", "0.1 ns").read(Cell(text, ""), "delay").value == 41.2


@pytest.mark.parametrize(("unit", "text"), [("0.1 dB", "20.1 dB"), ("0.01 dB", "40.01dB")])
def test_the_digits_of_a_unit_are_not_cut_off_a_number(unit: str, text: str) -> None:
    with pytest.raises(Fault, match=text):
        numbers("loss", unit).read(Cell(text, "line 1"), "loss")


def test_a_tenth_of_a_degree_fahrenheit() -> None:
    # NIST SP 811 (2008), B.8: t/C = (t/F - 32) / 1.8. 71.6 F = 22 C.
    reader = numbers("temperature", "0.1 F")
    assert reader.read(Cell("716", ""), "temperature").value == pytest.approx(22.0, abs=1e-12)


@pytest.mark.parametrize("called", ["dB/100", "0.01dB", "0 dB", "-0.01 dB", "1e-2 dB", "0.01 m"])
def test_anything_else_is_no_unit(called: str) -> None:
    with pytest.raises(ValueError, match="is no unit of loss"):
        unit_of("loss", called)


def test_every_unit_may_be_scaled() -> None:
    for quantity, units in UNITS.items():
        for name in units:
            assert unit_of(quantity, f"0.1 {name}").times == pytest.approx(
                unit_of(quantity, name).times / 10.0
            )


SCALED = changed(
    CURVES, "[numbers]", '[units]\nlength = "cm"\nloss = "0.01 dB"\ndelay = "0.25 ns"\n[numbers]'
)


def test_a_record_has_the_digits_of_the_source(tmp_path: Path) -> None:
    """A margin of 0.01 dB is told from one of 0.00: the last digit is one hundredth."""
    figures = "Length 1-2,6213\nDelay 1-2,1206\nMargin IL 1-2 A,-1\n"
    result = read(tmp_path, f"Link,A\n{figures}\nMHz,IL 1-2\n1,190\n100,1941\n", SCALED)
    length, delay = result.document["results"]["scalars"]
    assert (length["length_m"], length["decimals"], "resolution" in length) == (62.13, 2, False)
    assert (delay["delay_ns"], delay["resolution"]) == (301.5, 0.25)
    (sweep,) = result.document["results"]["sweeps"]
    assert ([*sweep["value_db"]], sweep["decimals"]) == ([1.9, 19.41], 2)
    (item,) = result.document["stated"]["items"]
    assert (item["worst_margin"]["margin_db"], item["worst_margin"]["decimals"]) == (-0.01, 2)


def test_a_stated_margin_in_quarters_says_so(tmp_path: Path) -> None:
    quarters = changed(SCALED, "0.01 dB", "0.25 dB")
    text = "Link,A\nMargin IL 1-2 A,5\n\nMHz,IL 1-2\n1,8\n100,78\n"
    document = read(tmp_path, text, quarters).document
    assert document["stated"]["items"][0]["worst_margin"]["resolution"] == 0.25
    assert document["results"]["sweeps"][0]["resolution"] == 0.25


def test_decibels_taken_for_hundredths_and_the_other_way_round(tmp_path: Path) -> None:
    """Hundredths taken for decibels reach what nothing measures, and the key is named."""
    text = "Link,A\n\nMHz,IL 1-2\n1,190\n100,1941\n"
    result = read(tmp_path, text, changed(SCALED, 'loss = "0.01 dB"', 'loss = "dB"'))
    (problem,) = [one for one in result.problems if "1941" in one.message]
    assert "units.loss" in problem.message


def test_figures_may_have_other_units_than_curves(tmp_path: Path) -> None:
    """Curves in hundredths over kHz, and margins in dB at MHz, as people read them."""
    units = 'frequency = "kHz"\nloss = "0.01 dB"\nfigures = { loss = "dB", frequency = "MHz" }'
    dialect = changed(CURVES, "[numbers]", f"[units]\n{units}\n[numbers]")
    figures = "Margin IL 1-2 A,3.1\nAt IL 1-2 A,100\nWorst IL 1-2 A,19.41\n"
    text = f"Link,A\n{figures}\nMHz,IL 1-2\n1000,190\n100000,1941\n"
    document = read(tmp_path, text, dialect).document
    (item,) = document["stated"]["items"]
    assert (item["worst_margin"]["margin_db"], item["worst_margin"]["frequency_mhz"]) == (3.1, 100)
    assert item["worst_value"]["value_db"] == 19.41
    assert [*document["results"]["sweeps"][0]["value_db"]] == [1.9, 19.41]
    assert document["results"]["grids"][0]["frequency_mhz"].tolist() == [1.0, 100.0]
