"""Frequencies of a grid: worked out in decimal, rounded once."""

from decimal import Decimal, localcontext
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sweepbook.record import grids
from sweepbook.record.grids import BadGrid, expanded, frequency_mhz

from .samples import record

decimals = st.from_regex(r"[0-9]{1,9}(\.[0-9]{1,12})?", fullmatch=True)


@settings(deadline=None)
@given(decimals, decimals, st.integers(1, 40))
def test_every_frequency_is_the_double_nearest_to_the_decimal(
    start: str, step: str, count: int
) -> None:
    with localcontext() as context:
        context.prec = 60
        expected = [float(Decimal(start) + k * Decimal(step)) for k in range(count)]
    assert expanded(((start, step, count),)).tolist() == expected


def test_adding_the_step_again_and_again_would_be_wrong() -> None:
    found = expanded((("1", "0.15", 203),))
    assert found[2] == 1.3 != 1 + 0.15 + 0.15
    assert found[-1] == 31.3
    assert Fraction(float(found[2])) == Fraction(1.3)


def test_runs_follow_one_another() -> None:
    found = expanded((("1", "0.5", 2), ("31.25", "0.25", 3), ("500", "1", 1)))
    assert found.tolist() == [1.0, 1.5, 31.25, 31.5, 31.75, 500.0]


def test_listed_frequencies_keep_their_order() -> None:
    assert frequency_mhz(record().document, "list").tolist() == [1.0, 1.15, 1.3, 2.0]
    assert frequency_mhz(record().document, "runs").tolist() == [1.0, 1.15, 1.3]


def test_a_grid_is_worked_out_once_and_cannot_be_changed() -> None:
    one = frequency_mhz(record().document, "runs")
    assert frequency_mhz(record().document, "runs") is one
    with pytest.raises(ValueError, match="read-only"):
        one[0] = 2.0


def test_an_unknown_grid_is_an_error() -> None:
    with pytest.raises(KeyError, match="none"):
        frequency_mhz(record().document, "none")


def test_a_grid_of_a_million_million_points_is_refused_at_once() -> None:
    with pytest.raises(BadGrid, match="1000000000000 points, more than 1000000"):
        expanded((("1", "0.1", 10**12),))
    with pytest.raises(BadGrid, match="1000001 points"):
        expanded((("1", "0.1", grids.MOST_POINTS), ("1", "1", 1)))
    assert np.all(np.diff(expanded((("1", "0.001", grids.MOST_POINTS),))) > 0)


@pytest.mark.parametrize(
    "text", ["1e3", "-1", "1_0", "", "0x1", "1,5", "1.", ".5", "\u0661", "1\n"]
)
def test_a_text_that_is_no_plain_decimal_is_refused(text: str) -> None:
    with pytest.raises(BadGrid, match="no decimal number"):
        expanded(((text, "1", 2),))
    with pytest.raises(BadGrid, match="no decimal number"):
        expanded((("1", text, 2),))
