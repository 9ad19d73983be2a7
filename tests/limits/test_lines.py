"""Lines and single limits as the judge asks for them."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sweepbook.errors import SweepbookError
from sweepbook.limits.formulas import Floats
from sweepbook.limits.interpretations import Interpretations
from sweepbook.limits.library import Library
from sweepbook.limits.shapes import line, scalar_limit, worst_grade
from sweepbook.limits.steps import largest_step_mhz

TIA, ISO = "tia-568.2-d/cat6a", "iso-11801-1-2017/class-ea"
LIBRARY, READINGS = Library.load(), Interpretations.load()


def test_the_same_question_gets_the_same_read_only_arrays() -> None:
    table = LIBRARY.table(f"{TIA}/channel")
    mhz = np.linspace(1.0, 500.0, 100)
    one, other = line(table, "next", mhz, READINGS), line(table, "next", mhz.copy(), READINGS)
    assert one is other
    for array in (one.value, one.low, one.high, one.grade, one.usable):
        with pytest.raises(ValueError, match="read-only"):
            array[0] = 0


@given(st.lists(st.floats(0.5, 600.0), min_size=1, max_size=40), st.randoms())
def test_a_limit_at_a_frequency_does_not_depend_on_the_others(
    mhz: list[float], random: object
) -> None:
    table = LIBRARY.table(f"{ISO}/permanent-link")
    order = list(range(len(mhz)))
    random.shuffle(order)  # type: ignore[attr-defined]
    points: Floats = np.array(mhz)
    for word in ("next", "acr_n", "insertion_loss"):
        together = line(table, word, points, READINGS).value
        shuffled = line(table, word, points[order], READINGS).value
        np.testing.assert_array_equal(together[order], shuffled)
        np.testing.assert_array_equal(together[0], line(table, word, points[:1], READINGS).value[0])


def test_frequencies_of_any_layout_are_taken() -> None:
    table = LIBRARY.table(f"{TIA}/channel")
    every_other = np.linspace(1.0, 500.0, 101)[::2]
    whole = line(table, "next", np.linspace(1.0, 500.0, 101), READINGS).value[::2]
    np.testing.assert_array_equal(line(table, "next", every_other, READINGS).value, whole)


def test_a_parameter_without_limit_is_refused() -> None:
    with pytest.raises(SweepbookError, match="sets no limit for acr_n") as caught:
        line(LIBRARY.table(f"{TIA}/channel"), "acr_n", np.array([1.0]), READINGS)
    assert "insertion_loss" in caught.value.todo


def test_a_grade_c_without_interval_is_not_usable() -> None:
    found = line(LIBRARY.table(f"{TIA}/channel"), "tcl", np.array([1.0, 100.0]), READINGS)
    assert bytes(found.grade) == b"CC"
    assert found.usable.tolist() == [False, False]
    assert np.isfinite(found.value).all()


@pytest.mark.parametrize(
    ("codes", "grade"), [(b"", None), (b"\0\0", None), (b"\0AB", "B"), (b"CA", "C")]
)
def test_the_worst_grade_of_points(codes: bytes, grade: str | None) -> None:
    assert worst_grade(np.frombuffer(codes, dtype=np.uint8)) == grade


def test_a_delay_without_frequency_is_judged_at_10_mhz_and_says_so() -> None:
    for path in (f"{TIA}/channel", f"{ISO}/channel"):
        found = scalar_limit(LIBRARY.table(path), "propagation_delay", READINGS)
        assert (found.value, found.unit) == (555.0, "ns")
        assert found.assumed == "judged at 10 MHz, since it names no frequency"


def test_a_delay_is_judged_over_frequency_in_iso_and_at_10_mhz_alone_in_tia() -> None:
    # 548 ns at 100 MHz: memory, among the checkpoints.
    iso = scalar_limit(LIBRARY.table(f"{ISO}/channel"), "propagation_delay", READINGS, 100.0)
    assert (iso.value, iso.assumed) == (548.0, "")
    tia = scalar_limit(LIBRARY.table(f"{TIA}/channel"), "propagation_delay", READINGS, 100.0)
    assert math.isnan(tia.value)
    assert math.isnan(tia.low)
    assert not tia.usable


def test_length_has_the_10_percent_of_the_nvp_in_tia_alone() -> None:
    tia = scalar_limit(LIBRARY.table(f"{TIA}/permanent-link"), "length", READINGS)
    assert (tia.nominal, tia.value, tia.assumed) == (90.0, 99.0, "")
    iso = scalar_limit(LIBRARY.table(f"{ISO}/permanent-link"), "length", READINGS)
    assert (iso.nominal, iso.value) == (90.0, 90.0)


# 3 % or 0.2 ohm, whichever is greater: 0.2 ohm are 1 % of 20 ohm, 4 % of 5 ohm.
@pytest.mark.parametrize(("base", "percent"), [(20.0, 3.0), (6.0, 3.3333), (5.0, 4.0)])
def test_the_greater_of_percent_and_ohm(base: float, percent: float) -> None:
    found = scalar_limit(
        LIBRARY.table(f"{TIA}/channel"),
        "dc_resistance_unbalance_within_pair",
        READINGS,
        base_ohm=base,
    )
    assert found.value == found.low == found.high == pytest.approx(percent, abs=1e-4)
    assert (found.assumed, found.usable) == ("", False)


def test_without_the_resistance_the_percentage_is_the_least_the_limit_can_be() -> None:
    found = scalar_limit(
        LIBRARY.table(f"{TIA}/channel"), "dc_resistance_unbalance_within_pair", READINGS
    )
    assert (found.value, found.low, found.high) == (3.0, 3.0, math.inf)
    assert "percentage alone" in found.assumed


# Largest steps: 150 kHz to 31.25 MHz, 250 kHz to 100 MHz, 500 kHz to 250 MHz, 1 MHz above: memory.
def test_the_largest_step_by_frequency() -> None:
    table = LIBRARY.table(f"{TIA}/channel")
    mhz = np.array([0.5, 1.0, 31.2, 31.25, 99.9, 100.0, 249.9, 250.0, 500.0, 500.1])
    expected = [np.nan, 0.15, 0.15, 0.25, 0.25, 0.5, 0.5, 1.0, 1.0, np.nan]
    np.testing.assert_array_equal(largest_step_mhz(table, mhz), expected)


def test_the_range_of_a_table_is_that_of_its_required_curves() -> None:
    table = LIBRARY.table(f"{ISO}/channel")
    assert (table.f_min_mhz, table.f_max_mhz) == (1, 500)
