"""A value clipped where the same curve reads further, and a curve that is clipped too far.

That a tester clips at the end of its range, and what lies within it, is common practice, no source.
"""

from typing import Any

import numpy as np
import pytest

from sweepbook.judging.assessment import Judgement, Outcome

from .links import Change, at, find, grid, judged, margin, stating

FAILING = slice(at(240.0), at(250.0))
CURVES = [("return_loss", ("4-5",)), ("next", ("1-2", "3-6")), ("fext", ("1-2", "3-6"))]


def clipped(side: str, end_db: float | None, where: slice, *what: Any) -> Change:
    """Give points of one curve as clipped, at a value or at their own."""

    def change(body: dict[str, Any]) -> None:
        one = find(body, *what)
        if end_db is not None:
            one["value_db"][where] = end_db
        first, last, _ = where.indices(grid().size)
        one["bounds"] = [{"from": first, "to": last - 1, "bound": side}]

    return change


def lowered(*what: Any) -> Change:
    def change(body: dict[str, Any]) -> None:
        find(body, *what)["value_db"][FAILING] -= 30.0

    return change


@pytest.mark.parametrize(("parameter", "pairs"), CURVES)
def test_a_bound_in_place_of_the_points_that_fail_proves_no_pass(
    parameter: str, pairs: tuple[str, ...]
) -> None:
    what = (parameter, "far", *pairs)
    assert judged(lowered(*what))[0].judgement is Judgement.OVERTURNED
    end = {"return_loss": 35.0, "next": 65.0, "fext": 65.0}[parameter]
    found, working = judged(lowered(*what), clipped("at_least", end, FAILING, *what))
    assert found.judgement is Judgement.UNPROVEN
    (doubt,) = working.doubts
    assert doubt.text in found.reason
    assert "dB at 1 MHz, and is clipped at" in doubt.text
    assert f"{end:g} dB (at least) or the like at 20 other points" in doubt.text


def test_a_bound_above_which_nothing_is_read_is_the_end_of_the_range() -> None:
    """All exact readings are at the end or below, one last digit above at most."""
    what = ("next", "near", "1-2", "3-6")  # 100 dB at 1 MHz, 75 dB at 17.8 MHz
    low = slice(0, at(17.8))
    for end, judgement in ((75.0, "upheld"), (74.98, "upheld"), (74.96, "unproven")):
        found, working = judged(clipped("at_least", end, low, *what))
        assert found.judgement.value == judgement, end
        assert bool(working.doubts) is (judgement == "unproven")


def test_a_reading_at_most_as_great_as_one_that_is_read_below_proves_no_fail() -> None:
    what = ("next", "near", "1-2", "3-6")  # 46 dB at 500 MHz
    for bound, outcome in ((50.0, Outcome.UNDECIDED), (45.0, Outcome.FAIL)):
        found, _ = judged(clipped("at_most", bound, slice(0, 10), *what), stating("fail"))
        assert margin(found, *what).outcome is outcome


def test_an_insertion_loss_below_the_least_of_the_tester() -> None:
    """1.16 dB at 1 MHz: "at most 1.5" up to 1.45 MHz is its range, and not at 100 MHz."""
    what = ("insertion_loss", None, "4-5")
    found, working = judged(clipped("at_most", 1.1, slice(0, 3), *what))
    assert (found.judgement, working.doubts) == (Judgement.UPHELD, ())
    found, working = judged(clipped("at_most", None, slice(at(100.0), at(110.0)), *what))
    assert found.judgement is Judgement.UNPROVEN
    assert margin(found, *what).outcome is not Outcome.FAIL
    assert "(at most) or the like at 20 other points" in working.doubts[0].text


@pytest.mark.parametrize(("parameter", "pairs"), CURVES)
@pytest.mark.parametrize("first", [1.0, 250.0])
def test_a_curve_clipped_up_to_its_last_point_proves_no_pass(
    parameter: str, pairs: tuple[str, ...], first: float
) -> None:
    what = (parameter, "far", *pairs)
    found, working = judged(clipped("at_least", None, slice(at(first), None), *what))
    assert found.judgement is Judgement.UNPROVEN
    where = "at none of its 1028 points" if first == 1.0 else "at no point from 250.5 MHz on"
    assert any(f"has an exact reading {where}" in doubt.text for doubt in working.doubts)


def test_next_of_a_screened_link_is_out_of_range_at_low_frequencies() -> None:
    """90 dB up to 250 MHz, and read from there on."""

    def change(body: dict[str, Any]) -> None:
        body["link"]["cable"]["construction"] = "S/FTP"
        body["results"]["wire_map"]["screen"] = "continuous"
        for one in body["results"]["sweeps"]:
            if one["parameter"] == "next":
                one["value_db"] = np.minimum(one["value_db"] + 40.0, 90.0).round(2)
                last = int(np.flatnonzero(one["value_db"] == 90.0)[-1])
                assert grid()[last] > 200.0
                one["bounds"] = [{"from": 0, "to": last, "bound": "at_least"}]

    found, working = judged(change)
    assert working.doubts == ()
    assert found.judgement is Judgement.UPHELD
