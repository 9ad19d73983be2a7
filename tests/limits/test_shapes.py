"""Shapes over frequency, by what is known of them without their own formula."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sweepbook.limits.formulas import evaluate, round_to
from sweepbook.limits.shape_model import (
    Constant,
    DifferenceOf,
    LogLine,
    Part,
    Sum,
    Term,
    VoltageSum,
    Weighted,
)

MHZ = st.floats(0.1, 2000.0)
SLOPE = st.floats(-40.0, 40.0)
LEVEL = st.floats(0.0, 100.0)


def at(shape: object, *mhz: float) -> list[float]:
    found: list[float] = evaluate(shape, np.array(mhz)).tolist()  # type: ignore[arg-type]
    return found


@given(LEVEL, SLOPE, MHZ, MHZ)
def test_a_line_has_its_value_at_f0_and_its_slope_a_decade(
    a: float, b: float, f0: float, f: float
) -> None:
    line = LogLine(a, b, f0)
    assert at(line, f0)[0] == a
    low, high = at(line, f, 10.0 * f)
    assert high - low == pytest.approx(b, abs=1e-9)


# Voltages in phase add: two equal ones are 6.02 dB stronger than one (20 log10 2), ten 20 dB.
@pytest.mark.parametrize(("weight", "db"), [(1.0, 0.0), (2.0, 6.0206), (10.0, 20.0)])
def test_equal_voltages_add_as_voltages(weight: float, db: float) -> None:
    single = LogLine(50.0, -15.0, 100.0)
    whole = VoltageSum((Weighted("all", weight, single),))
    split = VoltageSum(tuple(Weighted("one", 1.0, single) for _ in range(int(weight))))
    for mhz in (1.0, 100.0, 500.0):
        assert at(single, mhz)[0] - at(whole, mhz)[0] == pytest.approx(db, abs=1e-4)
        assert at(split, mhz) == pytest.approx(at(whole, mhz))


@given(LEVEL, SLOPE, LEVEL, SLOPE, MHZ)
def test_a_voltage_sum_is_below_its_strongest_line_by_6_db_at_most(
    a: float, b: float, c: float, d: float, mhz: float
) -> None:
    one, other = LogLine(a, b, 100.0), LogLine(c, d, 100.0)
    both = at(VoltageSum((Weighted("1", 1.0, one), Weighted("2", 1.0, other))), mhz)[0]
    strongest = min(at(one, mhz)[0], at(other, mhz)[0])
    assert strongest - 20.0 * math.log10(2.0) - 1e-6 <= both <= strongest + 1e-9


@given(
    st.lists(st.tuples(st.floats(0, 3), st.sampled_from([-0.5, 0.0, 0.5, 1.0, 1.5])), min_size=1)
)
def test_a_sum_at_1_mhz_is_the_sum_of_its_coefficients(terms: list[tuple[float, float]]) -> None:
    shape = Sum((Part("all", 2.0, tuple(Term(c, p) for c, p in terms)),))
    assert at(shape, 1.0)[0] == pytest.approx(2.0 * sum(c for c, _ in terms))


def test_four_times_the_frequency_doubles_a_square_root() -> None:
    shape = Sum((Part("skin effect", 1.0, (Term(2.0, 0.5),)),))
    assert at(shape, 25.0, 100.0) == pytest.approx([10.0, 20.0])


def test_a_constant_is_the_same_everywhere() -> None:
    assert at(Constant(19.0), 1.0, 10.0, 500.0) == [19.0, 19.0, 19.0]


def test_a_difference_cannot_be_evaluated_without_its_table() -> None:
    with pytest.raises(TypeError, match="needs the table"):
        at(DifferenceOf("next", "insertion_loss"), 1.0)


# Halves go up, as on paper; 2.675 and 1.005 are binary numbers a hair below the half.
@pytest.mark.parametrize(
    ("value", "decimals", "mode", "rounded"),
    [
        (555.38, 0, "truncate", 555.0),
        (498.99, 0, "truncate", 498.0),
        (499.0, 0, "truncate", 499.0),
        (547.6, 0, "nearest", 548.0),
        (26.05, 1, "nearest", 26.1),
        (2.675, 2, "nearest", 2.68),
        (1.005, 2, "nearest", 1.01),
        (-21.42, 1, "nearest", -21.4),
        (-21.46, 1, "nearest", -21.5),
        (-21.46, 1, "truncate", -21.4),
    ],
)
def test_rounding_is_that_of_a_person(
    value: float, decimals: int, mode: str, rounded: float
) -> None:
    assert round_to(np.array([value]), decimals, mode)[0] == rounded


def test_rounding_leaves_a_missing_value_missing() -> None:
    assert np.isnan(round_to(np.array([np.nan]), 1, "nearest")[0])
