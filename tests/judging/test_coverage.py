"""What a full proof needs: curves, ends, range, step; what is missing never hides a fail."""

from typing import Any

import numpy as np
import pytest

from sweepbook.judging.assessment import Judgement, Outcome, Recomputed
from sweepbook.judging.coverage import needed
from sweepbook.judging.working import Lack, LackKind

from .links import Change, at, find, grid, judged, margin, members, put, without


def test_counts_of_the_trade() -> None:
    """field-rules 1.3: IL 4, RL 8, NEXT 12, ACR-F and ACR-N 24, the power sums 8."""
    counts = {
        "insertion_loss": 4,
        "return_loss": 8,
        "next": 12,
        "psnext": 8,
        "acr_n": 24,
        "acr_f": 24,
        "psacr_f": 8,
        "propagation_delay": 4,
    }
    assert {name: len(needed(name)) for name in counts} == counts


def keep(points: "np.ndarray[Any, Any]") -> Change:
    """Leave only some points of the grid, in every sweep."""

    def change(body: dict[str, Any]) -> None:
        results = body["results"]
        results["grids"][0]["frequency_mhz"] = grid()[points]
        for one in results["sweeps"]:
            one["value_db"] = one["value_db"][points]

    return change


def kinds(lacks: tuple[Lack, ...]) -> set[tuple[str, LackKind]]:
    return {(lack.parameter, lack.kind) for lack in lacks}


def test_the_least_dense_grid_allowed_is_enough() -> None:
    found, working = judged()
    assert found.judgement is Judgement.UPHELD
    assert working.lacks == ()


@pytest.mark.parametrize(
    ("change", "lack"),
    [
        (without("insertion_loss"), Lack("insertion_loss", None, (), LackKind.PARAMETER)),
        (without("return_loss", "far"), Lack("return_loss", "far", (), LackKind.END)),
        (without("next", "near"), Lack("next", "near", (), LackKind.END)),
        (
            without("next", "far", "1-2", "7-8"),
            Lack("next", "far", ("1-2", "7-8"), LackKind.PAIRS),
        ),
        (
            without("return_loss", "near", "4-5"),
            Lack("return_loss", "near", ("4-5",), LackKind.PAIRS),
        ),
    ],
)
def test_what_is_missing_leaves_a_pass_unproven(change: Change, lack: Lack) -> None:
    found, working = judged(change)
    assert found.judgement is Judgement.UNPROVEN
    assert lack in working.lacks
    assert "missing" in found.reason


def test_one_end_of_insertion_loss_is_enough() -> None:
    def change(body: dict[str, Any]) -> None:
        for row, pair in enumerate(("1-2", "3-6", "4-5", "7-8")):
            find(body, "insertion_loss", None, pair)["end"] = ("near", "far")[row % 2]

    found, _ = judged(change)
    assert found.judgement is Judgement.UPHELD


def test_next_is_the_same_whichever_pair_is_named_first() -> None:
    def change(body: dict[str, Any]) -> None:
        find(body, "next", "near", "1-2", "3-6")["pairs"] = ["3-6", "1-2"]

    found, _ = judged(change)
    assert found.judgement is Judgement.UPHELD


def test_a_missing_parameter_does_not_hide_a_fail() -> None:
    fail = put("return_loss", "near", ("4-5",), 200.0, 5.0)
    found, _ = judged(without("next"), fail)
    assert found.recomputed is Recomputed.FAIL
    assert found.judgement is Judgement.OVERTURNED


def test_a_sweep_that_starts_too_high() -> None:
    points = np.arange(1, grid().size)
    found, working = judged(keep(points))
    assert found.recomputed is Recomputed.UNDECIDED
    first = next(lack for lack in working.lacks if lack.parameter == "next")
    assert (first.kind, first.at_mhz, first.asked_mhz) == (LackKind.START, 1.15, 1.0)
    assert "starts at 1.15 MHz, the limit at 1 MHz" in found.reason


def test_a_sweep_that_stops_too_low() -> None:
    found, working = judged(keep(np.arange(grid().size - 1)))
    assert found.recomputed is Recomputed.UNDECIDED
    assert ("psnext", LackKind.STOP) in kinds(working.lacks)


def test_within_one_hertz_of_an_end_is_at_the_end() -> None:
    def change(body: dict[str, Any]) -> None:
        axis = grid().copy()
        axis[0], axis[-1] = 1.0 + 9e-7, 500.0 + 9e-7
        body["results"]["grids"][0]["frequency_mhz"] = axis

    found, _ = judged(change)
    assert found.judgement is Judgement.UPHELD
    assert margin(found, "next", "near", "1-2", "3-6").points_evaluated == grid().size


def test_two_hertz_off_is_too_far() -> None:
    def change(body: dict[str, Any]) -> None:
        axis = grid().copy()
        axis[0] = 1.0 + 2e-6
        body["results"]["grids"][0]["frequency_mhz"] = axis

    found, _ = judged(change)
    assert found.recomputed is Recomputed.UNDECIDED


def test_points_beyond_the_range_are_not_judged() -> None:
    def change(body: dict[str, Any]) -> None:
        results = body["results"]
        results["grids"][0]["frequency_mhz"] = np.append(grid(), 501.0)
        for one in results["sweeps"]:
            one["value_db"] = np.append(one["value_db"], 0.0)

    found, _ = judged(change)
    assert found.judgement is Judgement.UPHELD
    assert margin(found, "next", "near", "1-2", "3-6").points_evaluated == grid().size


def test_a_step_too_wide_proves_no_pass() -> None:
    gone = np.delete(np.arange(grid().size), at(200.0))
    found, working = judged(keep(gone))
    assert found.recomputed is Recomputed.UNDECIDED
    one = next(lack for lack in working.lacks if lack.parameter == "return_loss")
    assert (one.kind, one.at_mhz, one.step_mhz, one.asked_mhz) == (LackKind.STEP, 199.5, 1.0, 0.5)
    assert "steps 1 MHz at 199.5 MHz, allowed are 0.5 MHz" in found.reason


def test_steps_too_wide_in_several_ranges_are_told_of_each() -> None:
    """Every fourth point of a grid of the largest steps: 0.15, 0.25, 0.5 and 1 MHz."""
    _, working = judged(keep(np.arange(0, grid().size, 4)))
    steps = [lack for lack in working.lacks if lack.kind is LackKind.STEP]
    of_one = [lack for lack in steps if (lack.parameter, lack.end) == ("return_loss", "near")]
    of_one = [lack for lack in of_one if lack.pairs == ("1-2",)]
    assert [lack.asked_mhz for lack in of_one] == [0.15, 0.25, 0.5, 1.0]
    assert [round(lack.step_mhz or 0.0, 2) for lack in of_one] == [0.6, 1.0, 2.0, 4.0]


def test_the_reason_names_a_curve_with_wide_steps_once() -> None:
    every_fourth = np.unique(np.append(np.arange(0, grid().size, 4), grid().size - 1))
    found, working = judged(keep(every_fourth))
    curves = {(lack.parameter, lack.end, lack.pairs) for lack in working.lacks}
    assert found.reason.endswith(f"; and {len(curves) - 2} more.")


def test_a_step_too_wide_can_prove_a_fail() -> None:
    def change(body: dict[str, Any]) -> None:
        find(body, "return_loss", "near", "4-5")["value_db"][at(210.0)] = 5.0

    every_tenth = np.unique(np.append(np.arange(0, grid().size, 10), at(210.0)))
    found, _ = judged(change, keep(every_tenth))
    assert found.recomputed is Recomputed.FAIL
    assert found.judgement is Judgement.OVERTURNED


def test_a_wide_step_outside_the_range_does_no_harm() -> None:
    def change(body: dict[str, Any]) -> None:
        results = body["results"]
        results["grids"][0]["frequency_mhz"] = np.concatenate(([0.1], grid(), [900.0]))
        for one in results["sweeps"]:
            one["value_db"] = np.concatenate(([0.0], one["value_db"], [0.0]))

    found, _ = judged(change)
    assert found.judgement is Judgement.UPHELD


def gap(first: float, last: float) -> Change:
    """A hole in NEXT 1-2 to 3-6 at the near end."""

    def change(body: dict[str, Any]) -> None:
        one = find(body, "next", "near", "1-2", "3-6")
        here = (at(first), at(last))
        one["gaps"] = [{"from": here[0], "to": here[1], "as_stated": "-", "reason": "missing"}]
        one["value_db"] = np.delete(one["value_db"], np.arange(here[0], here[1] + 1))

    return change


def test_a_gap_is_a_step() -> None:
    found, working = judged(gap(150.0, 152.0))
    assert found.recomputed is Recomputed.UNDECIDED
    one = next(lack for lack in working.lacks if lack.parameter == "next")
    # From 149.5 to 152.5 MHz.
    assert (one.kind, one.at_mhz, one.step_mhz) == (LackKind.STEP, 149.5, 3.0)
    assert kinds(working.lacks) == {("next", LackKind.STEP), ("psnext", LackKind.STEP)}


def test_a_gap_in_a_grid_dense_enough_is_none() -> None:
    def change(body: dict[str, Any]) -> None:
        results = body["results"]
        axis = np.unique(np.append(grid(), 150.25))
        results["grids"].append({"id": "dense", "frequency_mhz": axis})
        one = find(body, "next", "near", "1-2", "3-6")
        place = int(np.searchsorted(axis, 150.25))
        one["grid"] = "dense"
        one["gaps"] = [{"from": place, "to": place, "as_stated": "-", "reason": "missing"}]

    found, _ = judged(change)
    assert found.judgement is Judgement.UPHELD


def test_a_gap_at_the_end_is_a_short_sweep() -> None:
    _, working = judged(gap(499.0, 500.0))
    assert ("next", LackKind.STOP) in kinds(working.lacks)


def test_values_after_a_gap_stay_with_their_frequency() -> None:
    fail = put("next", "near", ("1-2", "3-6"), 300.0, 10.0)
    found, _ = judged(fail, gap(150.0, 152.0))
    one = margin(found, "next", "near", "1-2", "3-6")
    assert one.outcome is Outcome.FAIL
    assert one.worst_margin_mhz == 300.0


def test_a_curve_without_any_point() -> None:
    def change(body: dict[str, Any]) -> None:
        one = find(body, "next", "near", "1-2", "3-6")
        last = grid().size - 1
        one["gaps"] = [{"from": 0, "to": last, "as_stated": "-", "reason": "missing"}]
        one["value_db"] = np.array([])

    found, working = judged(change)
    near = {m.pairs for m in found.margins if (m.parameter, m.end) == ("next", "near")}
    assert len(near) == 5
    assert ("1-2", "3-6") not in near
    assert Lack("next", "near", ("1-2", "3-6"), LackKind.PAIRS) in working.lacks
    assert found.recomputed is Recomputed.UNDECIDED


def test_far_end_crosstalk_that_is_all_gaps_is_taken_from_the_other_end() -> None:
    def change(body: dict[str, Any]) -> None:
        gone = find(body, "fext", "far", "1-2", "3-6")
        other = {**gone, "end": "near", "pairs": ["3-6", "1-2"]}
        last = grid().size - 1
        gone["gaps"] = [{"from": 0, "to": last, "as_stated": "-", "reason": "missing"}]
        gone["value_db"] = np.array([])
        body["results"]["sweeps"].append(other)

    assert judged(change)[0].judgement is Judgement.UPHELD


def repeated(value_db: float) -> Change:
    """A second point of return loss 4-5, near, at 200 MHz."""

    def change(body: dict[str, Any]) -> None:
        results = body["results"]
        place = at(200.0)
        axis = np.insert(grid(), place, 200.0)
        results["grids"].append({"id": "twice", "frequency_mhz": axis})
        one = find(body, "return_loss", "near", "4-5")
        one["grid"] = "twice"
        one["value_db"] = np.insert(one["value_db"], place, value_db)

    return change


@pytest.mark.parametrize("value_db", [22.0, 5.0])
def test_two_values_for_one_frequency_prove_no_pass(value_db: float) -> None:
    found, working = judged(repeated(value_db))
    one = margin(found, "return_loss", "near", "4-5")
    assert one.outcome is Outcome.UNDECIDED
    assert "one frequency twice" in one.reason
    assert any(curve.repeated for curve in working.judged.values())


def test_two_values_that_both_fail_prove_a_fail() -> None:
    fail = put("return_loss", "near", ("4-5",), 200.0, 5.0)
    found, _ = judged(fail, repeated(6.0))
    one = margin(found, "return_loss", "near", "4-5")
    assert one.outcome is Outcome.FAIL
    assert one.worst_value_db == 5.0


def test_nothing_at_all() -> None:
    def change(body: dict[str, Any]) -> None:
        body["results"] = {}

    found, working = judged(change)
    assert found.judgement is Judgement.UNPROVEN
    named = {lack.parameter for lack in working.lacks}
    assert named >= {"insertion_loss", "next", "acr_f", "wire_map", "length", "delay_skew"}
    assert all(lack.kind is LackKind.PARAMETER for lack in working.lacks)
    assert members()["results"]


def next_again(db: float) -> Change:
    """Add NEXT of 1-2 and 3-6 at the near end a second time, in the other order."""

    def change(body: dict[str, Any]) -> None:
        first = find(body, "next", "near", "1-2", "3-6")
        values = first["value_db"] + db
        body["results"]["sweeps"].append({**first, "pairs": ["3-6", "1-2"], "value_db": values})

    return change


@pytest.mark.parametrize(
    ("db", "judgement"),
    [
        (0.0, Judgement.UPHELD),
        (0.01, Judgement.UPHELD),
        (0.75, Judgement.UNPROVEN),
        (-60.0, Judgement.UNPROVEN),
    ],
)
def test_next_twice_in_both_orders_proves_a_pass_only_where_noise_is_between_them(
    db: float, judgement: Judgement
) -> None:
    found, _ = judged(next_again(db))
    assert found.judgement is judgement
    both = [m for m in found.margins if m.parameter == "next" and m.end == "near"]
    assert len(both) == 6
    if judgement is Judgement.UNPROVEN:
        assert margin(found, "next", "near", "1-2", "3-6").outcome is Outcome.UNDECIDED


def test_next_twice_in_both_orders_proves_a_fail_where_both_fail() -> None:
    found, _ = judged(put("next", "near", ("1-2", "3-6"), 100.0, 5.0), next_again(0.5))
    assert margin(found, "next", "near", "1-2", "3-6").outcome is Outcome.FAIL
    assert found.judgement is Judgement.OVERTURNED
