"""A figure that stands for no value proves nothing, declared or not; readings are left alone."""

from typing import Any

import numpy as np
import pytest

from sweepbook.judging.assessment import Judgement, Outcome
from sweepbook.judging.working import DoubtKind

from .links import PAIRS, Change, at, find, grid, judged, loss, margin, put, scale, stating

WORST = slice(at(240.0), at(250.0))


def filled(value: float, where: slice, parameter: str, end: str | None, *pairs: str) -> Change:
    """Put one figure at a run of points."""

    def change(body: dict[str, Any]) -> None:
        find(body, parameter, end, *pairs)["value_db"][where] = value

    return change


def halved(parameter: str, end: str, *pairs: str) -> Change:
    """Take the curve 30 dB down where it will be filled: a fail."""

    def change(body: dict[str, Any]) -> None:
        find(body, parameter, end, *pairs)["value_db"][WORST] -= 30.0

    return change


@pytest.mark.parametrize("value", [99.99, 200.0, 99.0])
@pytest.mark.parametrize(
    ("parameter", "pairs"),
    [("return_loss", ("4-5",)), ("next", ("1-2", "3-6")), ("fext", ("1-2", "3-6"))],
)
def test_a_figure_in_place_of_the_points_that_fail_proves_no_pass(
    parameter: str, pairs: tuple[str, ...], value: float
) -> None:
    bad = halved(parameter, "far", *pairs)
    assert judged(bad)[0].judgement is Judgement.OVERTURNED
    found, working = judged(bad, filled(value, WORST, parameter, "far", *pairs))
    assert found.judgement is Judgement.UNPROVEN
    (doubt,) = working.doubts
    assert doubt.kind is DoubtKind.CONTRADICTION
    assert doubt.text in found.reason
    assert f"at the far end is {value:g} dB in every digit at 20 points" in doubt.text
    assert f"list {value:g} under missing in [numbers] of the dialect" in doubt.text


def test_its_points_prove_nothing_and_hide_no_fail_beside_them() -> None:
    gone = filled(99.99, WORST, "next", "near", "1-2", "3-6")
    assert judged(gone, stating("fail"))[0].judgement is Judgement.UNPROVEN
    fail = put("next", "near", ("1-2", "3-6"), 100.0, 20.0)
    assert judged(gone, fail)[0].judgement is Judgement.OVERTURNED
    sum_fails = put("next", "near", ("1-2", "4-5"), 245.0, 20.0)  # and so does PSNEXT of 1-2
    found, _ = judged(gone, sum_fails)
    assert margin(found, "psnext", "near", "1-2").outcome is Outcome.FAIL
    assert margin(found, "psnext", "near", "3-6").outcome is Outcome.UNDECIDED


def test_zeros_prove_no_fail() -> None:
    found, working = judged(filled(0.0, WORST, "next", "near", "1-2", "3-6"), stating("fail"))
    assert found.judgement is Judgement.UNPROVEN
    assert "NEXT 1-2 to 3-6 at the near end is 0 dB in every digit" in working.doubts[0].text


def test_an_open_pair_is_near_0_and_stays_a_fail() -> None:
    """It reflects everything: some points print as 0.00, and what lies beside them is near 0."""

    def change(body: dict[str, Any]) -> None:
        values = 0.2 + 0.15 * np.sin(np.arange(grid().size))
        values[::5] = 0.0
        find(body, "return_loss", "near", "4-5")["value_db"][:] = values.round(2)

    found, working = judged(change, stating("fail"))
    assert found.judgement is Judgement.UPHELD
    assert working.doubts == ()


def test_two_points_are_enough_where_nothing_of_the_curve_comes_near() -> None:
    two = slice(at(245.0), at(246.0))
    assert judged(filled(99.99, two, "return_loss", "near", "4-5"))[1].doubts
    assert not judged(filled(65.0, two, "return_loss", "near", "4-5"))[1].doubts
    one = slice(at(245.0), at(245.5))
    (doubt,) = judged(filled(99.99, one, "return_loss", "near", "4-5"))[1].doubts
    assert "in every digit at" not in doubt.text  # it is none as a lone reading is


@pytest.mark.parametrize("decimals", [1, 2])
def test_what_an_instrument_clips_without_a_word_is_no_such_figure(decimals: int) -> None:
    """The curve climbs to the end of the instrument's range, and ripples over it: 75 dB here."""

    def change(body: dict[str, Any]) -> None:
        scale(body, 1.0)
        for one in body["results"]["sweeps"]:
            if one["parameter"] in ("next", "fext"):
                ripple = 12.0 * np.sin(grid() * 3.1 + len(one["pairs"][0]))
                one["value_db"] = np.minimum(one["value_db"] + ripple + 8.0, 75.0).round(decimals)
                one["decimals"] = decimals

    words = [doubt.text for doubt in judged(change)[1].doubts]
    assert not [text for text in words if "in every digit at" in text]


def test_a_declared_bound_is_no_such_figure() -> None:
    def change(body: dict[str, Any]) -> None:
        one = find(body, "return_loss", "near", "4-5")
        one["value_db"][WORST] = 75.0
        one["bounds"] = [{"from": WORST.start, "to": WORST.stop - 1, "bound": "at_least"}]

    found, working = judged(change)
    assert working.doubts == ()
    assert found.judgement is Judgement.UPHELD


def test_random_reflections_of_low_digits_are_not_doubted() -> None:
    """Reflections that add at random: |S11| of a Rayleigh distribution, with its notches."""
    random = np.random.default_rng(5)

    def change(body: dict[str, Any]) -> None:
        for one in body["results"]["sweeps"]:
            if one["parameter"] == "return_loss":
                size = random.rayleigh(0.02, grid().size)
                one["value_db"], one["decimals"] = (-20 * np.log10(size)).round(1), 1

    for _ in range(10):
        assert judged(change)[1].doubts == ()


def test_points_outside_the_range_of_the_limit_are_passed_over() -> None:
    def change(body: dict[str, Any]) -> None:
        body["results"]["grids"][0]["frequency_mhz"] = np.append(grid(), 501.0 + np.arange(9))
        for one in body["results"]["sweeps"]:
            one["value_db"] = np.append(one["value_db"], np.full(9, 250.0))

    found, working = judged(change)
    assert working.doubts == ()
    assert found.judgement is Judgement.UPHELD


@pytest.mark.parametrize("value", [70.0, 99.99])
def test_a_curve_of_one_value_proves_no_pass(value: float) -> None:
    found, working = judged(filled(value, slice(None), "next", "near", "1-2", "3-6"))
    assert found.judgement is Judgement.UNPROVEN
    assert f"is {value:g} dB at all of 1028 points" in found.reason
    assert [doubt.kind for doubt in working.doubts] == [DoubtKind.FLAT]


@pytest.mark.parametrize("verdict", ["pass", "fail"])
@pytest.mark.parametrize("value", [20.0, 24.0])
def test_an_insertion_loss_that_stays_level_proves_nothing(value: float, verdict: str) -> None:
    level = filled(value, slice(at(300.0), None), "insertion_loss", None, "4-5")
    found, working = judged(level, stating(verdict))
    assert found.judgement is Judgement.UNPROVEN
    assert "at 201 points in a row, where the loss of a cable rises" in working.doubts[0].text


def test_a_loss_at_the_end_of_the_testers_range_is_a_fail_all_the_same() -> None:
    level = filled(50.0, slice(at(300.0), None), "insertion_loss", None, "4-5")
    found, working = judged(level, stating("fail"))
    assert found.judgement is Judgement.UPHELD
    assert any("in a row" in doubt.text for doubt in working.doubts)


@pytest.mark.parametrize(
    ("decimals", "length_m"), [(1, 0.5), (1, 2.0), (1, 20.0), (2, 0.5), (2, 60.0)]
)
def test_a_loss_that_rises_within_its_digits_is_not_level(decimals: int, length_m: float) -> None:
    """Short links and coarse digits print one value at many points."""

    def change(body: dict[str, Any]) -> None:
        scale(body, length_m / 58.0)
        for row, pair in enumerate(PAIRS):
            one = find(body, "insertion_loss", None, pair)
            one["value_db"] = (length_m / 60.0 * loss(grid())).round(decimals)
            one["value_db"][5::11] += row * 10.0**-decimals
            one["decimals"] = decimals

    words = [doubt.text for doubt in judged(change)[1].doubts]
    assert not [text for text in words if "in a row" in text]


def test_a_plateau_by_reflections_on_a_short_link_is_a_reading() -> None:
    """One value at 50 points, as two connectors a metre apart make it by their reflections."""

    def change(body: dict[str, Any]) -> None:
        scale(body, 1.0 / 58.0)
        for row, pair in enumerate(PAIRS):
            one = find(body, "insertion_loss", None, pair)
            one["value_db"] = (0.4 + loss(grid()) / 60.0 + 0.01 * row).round(2)
        flat = find(body, "insertion_loss", None, "4-5")
        flat["value_db"][at(300.0) : at(350.0)] = 0.87

    words = [doubt.text for doubt in judged(change)[1].doubts]
    assert not [text for text in words if "in a row" in text]
