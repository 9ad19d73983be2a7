"""Records that follow the schema and make no sense: an answer all the same, and no warning."""

from typing import Any

import numpy as np
import pytest

from sweepbook.judging.assessment import Judgement, Recomputed

from .links import Change, adding, find, grid, judged, put, sweep


@pytest.mark.parametrize("value", [1e308, -1e308, 5e-324, -0.0])
@pytest.mark.parametrize("parameter", ["next", "fext", "insertion_loss", "return_loss"])
def test_values_beyond_all_measure(parameter: str, value: float) -> None:
    def change(body: dict[str, Any]) -> None:
        for one in body["results"]["sweeps"]:
            if one["parameter"] == parameter:
                one["value_db"] = np.full(grid().size, value)

    found, _ = judged(change)
    numbers = [
        number
        for margin in found.margins
        for number in (margin.worst_margin_db, margin.worst_value_db, margin.margin_low_db)
        if number is not None
    ]
    assert np.isfinite(numbers).all()
    if value < -1.0:  # no loss is below 0 at every point, so that these prove nothing
        assert found.recomputed is Recomputed.UNDECIDED


@pytest.mark.parametrize(
    "axis", [np.array([]), np.array([100.0]), np.zeros(3), np.full(4, 250.0), np.array([1e-9, 1e9])]
)
def test_odd_axes_prove_no_pass(axis: "np.ndarray[Any, Any]") -> None:
    def change(body: dict[str, Any]) -> None:
        results = body["results"]
        results["grids"] = [{"id": "g", "frequency_mhz": axis}]
        for one in results["sweeps"]:
            one["value_db"] = np.full(
                axis.size, 90.0 if one["parameter"] != "insertion_loss" else 1
            )

    found, _ = judged(change)
    assert found.judgement is Judgement.UNPROVEN


def test_a_resolution_wider_than_any_margin() -> None:
    def change(body: dict[str, Any]) -> None:
        for one in body["results"]["sweeps"]:
            one["resolution"] = 1e6

    assert judged(change)[0].judgement is Judgement.UNPROVEN


def test_everything_clipped_both_ways_proves_nothing() -> None:
    def change(body: dict[str, Any]) -> None:
        last = grid().size - 1
        for row, one in enumerate(body["results"]["sweeps"]):
            side = ("at_least", "at_most")[row % 2]
            one["bounds"] = [{"from": 0, "to": last, "bound": side}]

    assert judged(change)[0].recomputed is Recomputed.UNDECIDED


def test_unknown_parameters_and_pairs_do_no_harm() -> None:
    values = np.full(grid().size, 1.0)
    found, _ = judged(
        adding(sweep("org_example_loss", "near", ["1-2"], values)),
        adding(sweep("tcl", "near", ["9-10"], values)),
    )
    assert found.judgement is Judgement.UPHELD


def test_a_stray_pair_with_a_bad_curve_is_judged_too() -> None:
    """Without its insertion loss it may be for information; with it, it fails."""
    values = np.full(grid().size, 1.0)
    bad = adding(sweep("return_loss", "near", ["2-7"], values))
    assert judged(bad)[0].recomputed is Recomputed.UNDECIDED
    loss = adding(sweep("insertion_loss", None, ["2-7"], values + 3.0))
    assert judged(bad, loss)[0].recomputed is Recomputed.FAIL


def same_curve_again(value: float) -> Change:
    def change(body: dict[str, Any]) -> None:
        one = find(body, "return_loss", "near", "4-5")
        copy = {**one, "value_db": one["value_db"].copy()}
        copy["value_db"][500] = value
        body["results"]["sweeps"].append(copy)

    return change


def test_the_same_curve_twice_with_another_value_proves_no_pass() -> None:
    found, _ = judged(same_curve_again(50.0))
    assert found.recomputed is Recomputed.UNDECIDED
    assert "one frequency twice" in found.reason


def test_a_good_copy_does_not_hide_a_fail_elsewhere() -> None:
    fail = put("next", "far", ("3-6", "4-5"), 243.5, 20.0)
    assert judged(same_curve_again(50.0), fail)[0].recomputed is Recomputed.FAIL
