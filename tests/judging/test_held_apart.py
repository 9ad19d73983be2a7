"""A ratio that was exported upholds nothing where the curves it is of can nowhere be held to it."""

from itertools import permutations
from typing import Any

import pytest

from sweepbook.judging.assessment import Judgement

from .links import ENDS, PAIRS, grid, judged, sweep


def moved(body: dict[str, Any], by_mhz: float, first: int = 0) -> None:
    """FEXT 40 dB worse, at frequencies of its own from the given point on."""
    axis = grid().copy()
    axis[first:] += by_mhz
    body["results"]["grids"].append({"id": "h", "frequency_mhz": axis})
    for one in body["results"]["sweeps"]:
        if one["parameter"] == "fext":
            one["grid"] = "h"
            one["value_db"] = one["value_db"] - 40.0


def good_acr_f(body: dict[str, Any]) -> None:
    """ACR-F of all combinations as exported, far from the limit."""
    combinations = [(end, pairs) for end in ENDS for pairs in permutations(PAIRS, 2)]
    for number, (end, pairs) in enumerate(combinations):
        values = 80.0 - 20.0 * number / 300.0 - 0.04 * grid()
        body["results"]["sweeps"].append(sweep("acr_f", end, pairs, values))


def test_fext_of_a_failing_link_beside_its_good_acr_f() -> None:
    found, working = judged(lambda body: moved(body, 1e-5), good_acr_f)
    assert found.judgement is Judgement.UNPROVEN
    assert "FEXT, from 1.00001 MHz on, and insertion loss, from 1 MHz on" in found.reason
    assert [doubt.kind for doubt in working.doubts] == ["contradiction"]


@pytest.mark.parametrize("first", [0, 1])
def test_one_shared_frequency_is_enough_to_hold_them_against_each_other(first: int) -> None:
    found, working = judged(lambda body: moved(body, 1e-5 * first, first), good_acr_f)
    assert found.judgement is Judgement.OVERTURNED
    assert not working.doubts


def test_exported_acr_f_alone_is_taken_as_before() -> None:
    def without(body: dict[str, Any]) -> None:
        sweeps = body["results"]["sweeps"]
        body["results"]["sweeps"] = [one for one in sweeps if one["parameter"] != "fext"]

    found, working = judged(without, good_acr_f)
    assert found.judgement is Judgement.UPHELD
    assert not working.doubts
