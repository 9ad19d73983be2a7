"""Readings left out of an even grid are told, and uphold no pass where one may have failed."""

from itertools import product
from typing import Any

import numpy as np
import pytest

from sweepbook.judging.assessment import Judgement, Recomputed
from sweepbook.judging.lost_readings import MOST, lost
from sweepbook.judging.working import LackKind

from .links import F64, Change, grid, judged, stating, sweeps

FINE = np.round(np.interp(np.arange(0, 1027, 0.1), np.arange(1028), grid()), 4)
"""Ten times as fine as a limit table asks."""
EVEN = np.round(np.arange(1.0, 500.05, 0.1), 4)
DIP_MHZ, DEPTH_DB = 400.5, 20.0
NEAR_DB = 15.0
"""The link has 48 dB of NEXT there and its limit is some 29 dB; over 80 MHz it comes near."""


def dip(axis: F64, at_mhz: float, db: float) -> F64:
    """A dip 1 MHz wide between its ends."""
    return db * np.maximum(0.0, 1.0 - 2.0 * np.abs(axis - at_mhz))


def on(axis: F64, left_out: tuple[float, float] = (0.0, 0.0), others_db: float = 0.0) -> Change:
    """The good link on another axis, NEXT failing at one dip, without what lies between."""
    kept = ~((axis > left_out[0]) & (axis < left_out[1]))

    def change(body: dict[str, Any]) -> None:
        results = body["results"]
        results["grids"][0]["frequency_mhz"] = axis[kept]
        results["sweeps"] = sweeps(axis)
        for one in results["sweeps"]:
            if one["parameter"] == "next" and one["pairs"] == ["3-6", "4-5"]:
                one["value_db"] -= dip(axis, DIP_MHZ, DEPTH_DB).round(2)
                one["value_db"] -= dip(axis / 80.0, DIP_MHZ / 80.0, NEAR_DB).round(2)
                for mhz in (120.5, 250.5, 330.5):
                    one["value_db"] -= dip(axis, mhz, others_db).round(2)
            one["value_db"] = one["value_db"][kept]

    return change


HOLE = (400.01, 400.99)


@pytest.mark.parametrize("others_db", [1.0, 10.0])
def test_the_whole_grid_proves_the_fail(others_db: float) -> None:
    found, _ = judged(on(EVEN, others_db=others_db), stating("pass"))
    assert found.judgement is Judgement.OVERTURNED


def test_a_fail_that_was_left_out_within_the_step_allowed_upholds_no_pass() -> None:
    """As deep as the curve dips elsewhere, it may have dipped there."""
    found, working = judged(on(EVEN, HOLE, 10.0), stating("pass"))
    assert (found.recomputed, found.judgement) == (Recomputed.UNDECIDED, Judgement.UNPROVEN)
    lacks = [lack for lack in working.lacks if lack.kind is LackKind.LOST]
    assert {lack.parameter for lack in lacks} >= {"next"}
    (first, *_) = (lack for lack in lacks if lack.parameter == "next")
    assert (first.at_mhz, first.asked_mhz, first.step_mhz) == pytest.approx((400.0, 0.1, 1.0))
    assert "NEXT 3-6 to 4-5 at the near end lacks readings above 400 MHz" in found.reason


def test_a_curve_that_dips_nowhere_so_far_may_not_have_failed_there() -> None:
    """That readings are missing is told by a rule, and the pass stands."""
    found, working = judged(on(EVEN, HOLE, 1.0), stating("pass"))
    assert found.judgement is Judgement.UPHELD
    assert working.lacks == ()


def test_of_very_many_places_one_may_have_failed_whatever_the_curve_does_elsewhere() -> None:
    places = np.arange(100, EVEN.size - 1500, 50)
    axis = np.delete(EVEN, np.concatenate([places, places + 1]))
    assert len(lost(axis)) == places.size > MOST
    found, _ = judged(on(axis, HOLE, 1.0), stating("pass"))
    assert found.judgement is Judgement.UNPROVEN


def test_a_gap_of_one_curve_upholds_no_pass_either() -> None:
    whole = on(EVEN, others_db=10.0)
    gap = {
        "from": int(np.searchsorted(EVEN, HOLE[0])),
        "to": int(np.searchsorted(EVEN, HOLE[1])) - 1,
    }

    def change(body: dict[str, Any]) -> None:
        whole(body)
        for one in body["results"]["sweeps"]:
            if one["parameter"] == "next" and one["pairs"] == ["3-6", "4-5"]:
                values = one["value_db"]
                one["value_db"] = np.delete(values, np.s_[gap["from"] : gap["to"] + 1])
                one["gaps"] = [gap]

    found, working = judged(change, stating("pass"))
    assert found.judgement is Judgement.UNPROVEN
    assert LackKind.LOST in {lack.kind for lack in working.lacks}


@pytest.mark.parametrize(
    "axis",
    [
        grid(),
        FINE,
        EVEN,
        np.geomspace(1.0, 500.0, 800),
        np.geomspace(1.0, 500.0, 40),
        np.sort(np.random.default_rng(3).uniform(1.0, 500.0, 1000)),
        np.union1d(grid(), [16.0, 62.4, 99.9]),
        np.union1d(np.arange(1.0, 500.0), np.arange(100.0, 101.0, 0.1)),
        np.concatenate([[0.1], grid(), [600.0]]),
        grid()[::-1],
        np.full(40, 7.0),
        np.arange(1.0, 9.0),
    ],
    ids=lambda axis: f"{axis.size} points",
)
def test_grids_as_testers_step_lack_nothing(axis: F64) -> None:
    assert lost(axis) == ()


@pytest.mark.parametrize("decimals", [0, 1, 2, 3])
@pytest.mark.parametrize("points", [200, 400, 990, 1601])
def test_frequencies_that_were_rounded_lack_nothing(points: int, decimals: int) -> None:
    for axis in (np.linspace(1.0, 500.0, points), np.geomspace(1.0, 500.0, points)):
        assert lost(np.unique(np.round(axis, decimals))) == ()


@pytest.mark.parametrize(
    ("axis", "count"),
    [
        *product([grid(), FINE, np.geomspace(1.0, 500.0, 800)], [1, 2, 9]),
        *product([EVEN], [2, 9]),  # its steps are of one last digit: rounding may leave out one
    ],
    ids=lambda one: str(np.size(one) if np.ndim(one) else one),
)
def test_what_was_left_out_is_counted(axis: F64, count: int) -> None:
    """By what was taken out."""
    for place in (20, axis.size // 3, axis.size * 3 // 5):
        found = lost(np.delete(axis, np.s_[place : place + count]))
        assert [(one.place, one.readings) for one in found] == [(place - 1, count)]
        assert (found[0].from_mhz, found[0].to_mhz) == (axis[place - 1], axis[place + count])
