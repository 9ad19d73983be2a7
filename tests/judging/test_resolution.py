"""What the digits of an export prove and what they do not.

Insertion loss limit of the TIA Category 6A permanent link at 100 MHz, by its formula:
0.9 (1.82 * 10 + 0.0091 * 100 + 0.25 / 10) + 3 * 0.02 * 10 + 0.00015 * 1000
= 0.9 * 19.135 + 0.6 + 0.15 = 17.9715 dB. One value of pair 1-2 is set beside it.
"""

from typing import Any

import numpy as np
import pytest

from sweepbook.judging.assessment import Judgement, Outcome, Recomputed

from .links import TIA_CHANNEL, at, find, grid, judged, margin, put

LIMIT = 17.9715


def coarse(decimals: int) -> Any:
    """Say that the insertion loss of 1-2 has so many decimals, values rounded to them."""

    def change(body: dict[str, Any]) -> None:
        one = find(body, "insertion_loss", None, "1-2")
        one["decimals"] = decimals
        one["value_db"] = one["value_db"].round(decimals)

    return change


@pytest.mark.parametrize(
    ("decimals", "value", "outcome"),
    [
        (2, 17.96, Outcome.PASS),  # margin 0.0115, at least 0.0065
        (2, 17.97, Outcome.UNDECIDED),  # 0.0015, between -0.0035 and 0.0065
        (2, 17.98, Outcome.FAIL),  # -0.0085, at most -0.0035
        (1, 17.9, Outcome.PASS),  # 0.0715, at least 0.0215
        (1, 18.0, Outcome.UNDECIDED),  # -0.0285, at most 0.0215
        (1, 18.1, Outcome.FAIL),  # -0.1285, at most -0.0785
    ],
)
def test_half_the_last_digit(decimals: int, value: float, outcome: Outcome) -> None:
    found, _ = judged(coarse(decimals), put("insertion_loss", None, ("1-2",), 100.0, value))
    one = margin(found, "insertion_loss", None, "1-2")
    assert one.outcome is outcome
    assert one.worst_margin_mhz == 100.0
    assert one.worst_margin_db == pytest.approx(LIMIT - value, abs=1e-9)
    assert one.limit_at_worst_margin_db == pytest.approx(LIMIT, abs=1e-9)
    half = 0.5 * 10.0**-decimals
    assert one.margin_low_db == pytest.approx(LIMIT - value - half, abs=1e-9)
    assert one.margin_high_db == pytest.approx(LIMIT - value + half, abs=1e-9)


def test_undecided_is_unproven_and_says_why() -> None:
    found, _ = judged(put("insertion_loss", None, ("1-2",), 100.0, 17.97))
    assert found.judgement is Judgement.UNPROVEN
    assert "insertion loss 1-2" in found.reason
    assert "at 100 MHz, nearer than the digits of the source can tell" in found.reason


def test_a_stated_resolution_goes_before_the_decimals() -> None:
    def change(body: dict[str, Any]) -> None:
        find(body, "insertion_loss", None, "1-2")["resolution"] = 0.2

    # 17.90: margin 0.0715, less half of 0.2 is below zero.
    found, _ = judged(change, put("insertion_loss", None, ("1-2",), 100.0, 17.90))
    assert margin(found, "insertion_loss", None, "1-2").outcome is Outcome.UNDECIDED


def test_the_digits_of_both_curves_go_into_a_difference() -> None:
    """ACR-F limit at 100 MHz: -20 lg (10^(-27.8/20) + 3 * 10^(-43.1/20)).

    10^-1.39 = 0.0407380, 10^-2.155 = 0.0069984; 0.0407380 + 0.0209952 = 0.0617332; 24.19 dB.
    FEXT 36.22 less IL 12.02 is 24.20: margin 0.01 of which 0.005 + 0.005 may be rounding.
    """
    found, _ = judged(put("fext", "far", ("1-2", "3-6"), 100.0, 36.22))
    one = margin(found, "acr_f", "far", "1-2", "3-6")
    assert one.worst_margin_db == pytest.approx(0.01, abs=0.001)
    assert one.margin_high_db is not None
    assert one.margin_low_db is not None
    assert one.margin_high_db - one.margin_low_db == pytest.approx(0.02, abs=1e-9)


def up_to(end_db: float) -> Any:
    """NEXT 1-2 to 3-6 of a tester that reads up to so many dB."""

    def change(body: dict[str, Any]) -> None:
        one = find(body, "next", "near", "1-2", "3-6")
        last = int(np.flatnonzero(one["value_db"] > end_db)[-1])
        one["value_db"] = np.minimum(one["value_db"], end_db)
        one["bounds"] = [{"from": 0, "to": last, "bound": "at_least", "as_stated": "x"}]

    return change


def test_a_reading_clipped_below_the_limit_decides_nothing() -> None:
    # Limit of NEXT at 1 MHz is the cap of 65 dB; "at least 60" may be anything above.
    found, working = judged(up_to(60.0))
    one = margin(found, "next", "near", "1-2", "3-6")
    assert one.outcome is Outcome.UNDECIDED
    assert "clipped" in one.reason
    assert one.worst_margin_db == pytest.approx(-5.0)
    assert working.doubts == ()
    plain, _ = judged(put("next", "near", ("1-2", "3-6"), 1.0, 60.0))
    assert margin(plain, "next", "near", "1-2", "3-6").outcome is Outcome.FAIL


def test_a_reading_clipped_above_the_limit_passes() -> None:
    assert judged(up_to(70.0))[0].recomputed is Recomputed.PASS


def test_a_reading_that_is_at_most_below_the_limit_fails() -> None:
    def at_most(body: dict[str, Any]) -> None:
        find(body, "next", "near", "1-2", "3-6")["bounds"] = [
            {"from": at(1.0), "to": at(1.0), "bound": "at_most", "as_stated": "x"}
        ]

    found, _ = judged(put("next", "near", ("1-2", "3-6"), 1.0, 40.0), at_most)
    one = margin(found, "next", "near", "1-2", "3-6")
    assert one.outcome is Outcome.FAIL
    assert one.margin_low_db is None
    assert one.margin_high_db == pytest.approx(-24.995)


def test_a_clipped_member_opens_the_power_sum() -> None:
    found, _ = judged(up_to(60.0))
    assert margin(found, "psnext", "near", "1-2").outcome is Outcome.UNDECIDED
    assert margin(found, "psnext", "near", "4-5").outcome is Outcome.PASS


@pytest.mark.parametrize(
    ("value", "outcome"), [(23.35, Outcome.PASS), (23.22, Outcome.UNDECIDED), (23.1, Outcome.FAIL)]
)
def test_a_limit_known_within_an_interval(value: float, outcome: Outcome) -> None:
    """PSNEXT of the TIA Category 6A channel above 330 MHz is known within 0.05 dB (grade C).

    28 - 26.6 lg (500 / 330) = 28 - 26.6 * 0.180456 = 23.200 dB at 500 MHz. The power sum of pair
    1-2 is made by one combination: 10^(-x/10) with the others 46 dB each and x such that the sum is
    `value`.
    """
    rest = 2 * 10 ** (-46.0 / 10)
    member = round(float(-10 * _lg(10 ** (-value / 10) - rest)), 2)
    found, _ = judged(
        put("next", "near", ("1-2", "3-6"), 500.0, member),
        put("next", "near", ("1-2", "4-5"), 500.0, 46.0),
        put("next", "near", ("1-2", "7-8"), 500.0, 46.0),
        path=TIA_CHANNEL,
    )
    one = margin(found, "psnext", "near", "1-2")
    assert one.worst_margin_db == pytest.approx(value - 23.2, abs=0.01)
    assert one.outcome is outcome
    assert one.grade == "C"
    if outcome is Outcome.UNDECIDED:
        assert "the limit itself is known only within 0.10 dB" in one.reason


def _lg(value: float) -> float:
    import math

    return math.log10(value)


def test_worst_margin_and_worst_value_are_two_things() -> None:
    """The worst value of insertion loss is at the top, the worst margin where it is set."""
    found, _ = judged(put("insertion_loss", None, ("1-2",), 100.0, 17.5))
    one = margin(found, "insertion_loss", None, "1-2")
    assert one.worst_margin_mhz == 100.0
    assert one.worst_margin_db == pytest.approx(0.4715, abs=1e-9)
    assert one.worst_value_mhz == 500.0
    # 1.15 sqrt 500 + 0.0052 * 500 = 25.7148 + 2.6 = 28.31
    assert one.worst_value_db == pytest.approx(28.31)
    # 0.9 (1.82 sqrt 500 + 4.55 + 0.25 / sqrt 500) + 0.06 sqrt 500 + 0.00015 * 500^1.5 = 43.8
    assert one.limit_at_worst_value_db == pytest.approx(43.75, abs=0.05)
    assert one.points_evaluated == grid().size


def test_equal_margins_are_reported_at_the_lowest_frequency() -> None:
    """NEXT limit is capped at 65 dB at the bottom: two readings of 65.5 there are equally near."""
    found, _ = judged(
        put("next", "near", ("1-2", "3-6"), 1.15, 65.5),
        put("next", "near", ("1-2", "3-6"), 1.0, 65.5),
    )
    one = margin(found, "next", "near", "1-2", "3-6")
    assert one.worst_margin_db == pytest.approx(0.5)
    assert one.worst_margin_mhz == 1.0
