"""Frequencies that rise and fall prove nothing, neither a pass nor a fail."""

from typing import Any

import numpy as np

from sweepbook.judging.assessment import Judgement, Outcome
from sweepbook.judging.disorder import disordered
from sweepbook.judging.working import DoubtKind

from .links import PAIRS, Change, at, grid, judged, put, stating

FAILING = put("next", "near", ("1-2", "3-6"), 100.0, 20.0)


def printed(f_mhz: float, as_mhz: float, name: str = "g") -> Change:
    """Misprint one frequency of a grid."""

    def change(body: dict[str, Any]) -> None:
        (one,) = [of for of in body["results"]["grids"] if of["id"] == name]
        one["frequency_mhz"] = one["frequency_mhz"].copy()
        one["frequency_mhz"][at(f_mhz)] = as_mhz

    return change


def lossy_at(f_mhz: float) -> Change:
    """A misprint as it is made: the value of a high frequency stands at a low one."""
    return printed(f_mhz, 3.33)


def told_from_its_end(body: dict[str, Any]) -> None:
    """Grid and curves in the opposite order."""
    for one in body["results"]["grids"]:
        one["frequency_mhz"] = one["frequency_mhz"][::-1].copy()
    for one in body["results"]["sweeps"]:
        one["value_db"] = one["value_db"][::-1].copy()


def of_its_own(parameter: str) -> Change:
    """Give the curves of a parameter a grid of their own, as of yet the same."""

    def change(body: dict[str, Any]) -> None:
        body["results"]["grids"].append({"id": "h", "frequency_mhz": grid().copy()})
        for one in body["results"]["sweeps"]:
            if one["parameter"] == parameter:
                one["grid"] = "h"

    return change


def test_a_good_link_is_not_overturned_by_a_misprinted_frequency() -> None:
    """28 dB of insertion loss, which it has at 490 MHz, are no loss at 3.33 MHz."""
    found, working = judged(lossy_at(490.0))
    assert found.judgement is Judgement.UNPROVEN
    (doubt,) = [one for one in working.doubts if one.kind is DoubtKind.DISORDER]
    assert doubt.text in found.reason
    assert "fall from 489 MHz to 3.33 MHz" in doubt.text
    assert not any(one.outcome is Outcome.FAIL for one in found.margins)


def test_no_fail_is_proved_at_a_frequency_that_nobody_measured() -> None:
    found, _ = judged(lossy_at(490.0), stating("fail"))
    assert found.judgement is Judgement.UNPROVEN
    failing, _ = judged(FAILING, lossy_at(490.0), stating("fail"))
    assert failing.judgement is Judgement.UNPROVEN  # which of the values are right nobody knows


def test_what_stands_on_another_grid_is_judged_as_ever() -> None:
    """Return loss is on a grid of its own, which is broken: NEXT fails as it did."""
    own = of_its_own("return_loss")
    found, working = judged(FAILING, own, printed(490.0, 3.33, "h"), stating("fail"))
    assert found.judgement is Judgement.UPHELD
    (doubt,) = [one for one in working.doubts if one.kind is DoubtKind.DISORDER]
    assert doubt.discredits == (("return_loss", ()),)


def test_an_insertion_loss_out_of_order_leaves_no_return_loss_out() -> None:
    """Below 3 dB of insertion loss a return loss is for information; which is not known."""
    poor = [put("return_loss", "near", (pair,), 2.05, 5.0) for pair in PAIRS]
    own, fail = of_its_own("insertion_loss"), stating("fail")
    assert judged(*poor)[0].judgement is Judgement.UPHELD
    found, _ = judged(*poor, own, printed(490.0, 3.33, "h"))
    assert found.judgement is Judgement.UNPROVEN
    again, _ = judged(*poor, own, printed(490.0, 3.33, "h"), fail)
    assert again.judgement is Judgement.UNPROVEN


def test_a_sweep_told_from_its_end_is_judged_as_one_from_its_beginning() -> None:
    straight, _ = judged(FAILING, stating("fail"))
    turned, working = judged(FAILING, told_from_its_end, stating("fail"))
    assert not [one for one in working.doubts if one.kind is DoubtKind.DISORDER]
    assert turned.judgement is straight.judgement is Judgement.UPHELD
    worst = [[one.worst_margin_db for one in of.margins] for of in (straight, turned)]
    assert worst[0] == worst[1]


def test_a_frequency_that_stands_twice_is_another_matter() -> None:
    double = printed(490.0, float(grid()[at(490.0) - 1]))
    found, working = judged(double)
    assert found.judgement is Judgement.UNPROVEN
    assert not [one for one in working.doubts if one.kind is DoubtKind.DISORDER]


def interchanged(body: dict[str, Any]) -> None:
    """Two neighbours, beside which no step is too wide."""
    (one,) = body["results"]["grids"]
    place = at(490.0)
    one["frequency_mhz"] = one["frequency_mhz"].copy()
    one["frequency_mhz"][[place - 1, place]] = one["frequency_mhz"][[place, place - 1]]


def test_no_part_passes_by_it_either() -> None:
    """So a stated fail of a part is not contradicted."""
    found, _ = judged(interchanged)
    assert found.judgement is Judgement.UNPROVEN
    assert {one.outcome for one in found.margins} == {Outcome.UNDECIDED}


def delayed(body: dict[str, Any]) -> None:
    """Delays as curves, which all have a point at 489.5 MHz: one pair has it in place of 1 MHz."""
    place = at(490.0)
    right, wrong = np.insert(grid(), place, 489.5), grid().copy()
    wrong[0] = 489.5
    results = body["results"]
    results["grids"] += [{"id": "d", "frequency_mhz": right}, {"id": "e", "frequency_mhz": wrong}]
    delays = [one for one in results["scalars"] if one["parameter"] == "propagation_delay"]
    results["scalars"] = [one for one in results["scalars"] if one not in delays]
    for number, one in enumerate(delays):
        axis, own = (wrong, "e") if number == 3 else (right, "d")
        values = (one["delay_ns"] + 60.0 / np.sqrt(grid() if own == "e" else axis)).round(1)
        told = {"parameter": "propagation_delay", "pairs": one["pairs"], "decimals": 1}
        results["sweeps"].append({**told, "grid": own, "delay_ns": values})


def test_a_skew_fails_by_no_delay_that_stands_at_another_frequency() -> None:
    found, _ = judged(delayed, stating("fail"))
    assert found.judgement is Judgement.UNPROVEN


def test_what_is_made_of_a_curve_proves_no_more_than_the_curve() -> None:
    for parameter, made in (("propagation_delay", "delay_skew"), ("tctl", "eltctl")):
        (doubt,) = disordered(
            {
                "results": {
                    "grids": [{"id": "g", "frequency_mhz": np.array([1.0, 3.0, 2.0])}],
                    "sweeps": [{"parameter": parameter, "grid": "g"}],
                }
            }
        )
        assert {name for name, _ in doubt.discredits} == {parameter, made}


def test_a_grid_without_curves_is_not_doubted() -> None:
    def spare(body: dict[str, Any]) -> None:
        body["results"]["grids"].append({"id": "z", "frequency_mhz": np.array([1.0, 3.0, 2.0])})

    assert judged(spare)[0].judgement is Judgement.UPHELD
