"""Power sums and differences against hand arithmetic and a reference library."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from skrf.mathFunctions import db_2_mag, mag_2_db

from sweepbook.judging.derive import Ends, difference, losses, power_sum, powers

LOSSES = st.floats(0.0, 150.0, allow_nan=False)


def test_three_equal_members() -> None:
    # 10 lg 3 = 4.771212547...: the power sum of three equal losses is that much worse.
    found = power_sum(np.full((3, 1), 50.0))
    assert found[0] == pytest.approx(50.0 - 4.771212547196624, abs=1e-12)


def test_by_hand() -> None:
    # 10^-3 + 10^-4 + 10^-5 = 0.00111; -10 lg 0.00111 = 29.546770...
    found = power_sum(np.array([[30.0], [40.0], [50.0]]))
    assert found[0] == pytest.approx(29.546770212133424, abs=1e-12)


def test_like_adding_powers_in_scikit_rf() -> None:
    """scikit-rf's own conversions between dB and magnitude, powers added."""
    rng = np.random.default_rng(7)
    members = rng.uniform(20.0, 90.0, (3, 50))
    added = sum(db_2_mag(-member) ** 2 for member in members)
    assert power_sum(members) == pytest.approx(-mag_2_db(np.sqrt(added)), abs=1e-9)


@given(arrays(np.float64, (3, 5), elements=LOSSES))
def test_never_better_than_its_worst_member(members: np.ndarray) -> None:
    found = power_sum(members)
    assert (found <= members.min(axis=0) + 1e-9).all()
    assert (found >= members.min(axis=0) - 4.772).all()


@given(arrays(np.float64, (3, 5), elements=LOSSES), arrays(np.float64, (3, 5), elements=LOSSES))
def test_better_members_never_make_a_worse_sum(members: np.ndarray, more: np.ndarray) -> None:
    assert (power_sum(members + more) >= power_sum(members) - 1e-9).all()


def test_a_hole_in_a_member_is_a_hole_in_the_sum() -> None:
    found = power_sum(np.array([[30.0, 30.0], [np.nan, 40.0], [50.0, 50.0]]))
    assert np.isnan(found[0])
    assert np.isfinite(found[1])


def test_open_intervals_stay_open_where_they_must() -> None:
    # A member known only as "at least" adds no power at its best and all of it at its worst.
    assert power_sum(np.array([[np.inf], [40.0]]))[0] == pytest.approx(40.0)
    assert power_sum(np.array([[-np.inf], [40.0]]))[0] == -np.inf
    assert losses(powers(np.array([np.inf])))[0] == np.inf


def test_difference_of_intervals() -> None:
    first = Ends(np.array([49.5]), np.array([50.5]))
    second = Ends(np.array([19.9]), np.array([20.1]))
    found = difference(first, second)
    # 49.5 - 20.1 = 29.4 and 50.5 - 19.9 = 30.6
    assert (found.low[0], found.high[0]) == pytest.approx((29.4, 30.6))
