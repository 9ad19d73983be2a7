"""What an exported derived curve leaves for the curves that it is made of, held against the limit.

A curve that was exchanged for a better one is told by what was made of it before, where that came
along: the definitions of power sum, ACR-N and ACR-F, solved for one member.
"""

from typing import Any

import numpy as np
import pytest

from sweepbook.judging.assessment import Judgement, Outcome
from sweepbook.judging.compose import recompute
from sweepbook.judging.curves import Curves, Key
from sweepbook.judging.derive import losses, powers
from sweepbook.judging.implied import implied

from .links import ISO, TIA, Change, adding, find, grid, judged, margin, put, sweep
from .test_compose import curves, value

TWO = ("3-6", "4-5")
AT_MHZ = 100.0


def limit(parameter: str, end: str | None, *pairs: str, path: str = TIA) -> float:
    """The limit of a curve at 100 MHz, as the judge has it where a curve fails by far."""
    found, _ = judged(put(parameter, end, pairs, AT_MHZ, 5.0), path=path)
    at_worst = margin(found, parameter, end, *pairs).limit_at_worst_margin_db
    assert at_worst is not None
    return at_worst


def kept(parameter: str, end: str | None, pairs: tuple[str, ...], *before: Change) -> Change:
    """Add a derived curve that was made of curves with other changes."""
    made = recompute(curves(*before))[parameter]
    return adding(sweep(parameter, end, pairs, value(made, end, *pairs)))


def test_a_curve_that_failed_when_the_power_sum_was_made_of_it_upholds_no_pass() -> None:
    failing = put("next", "near", TWO, AT_MHZ, limit("next", "near", *TWO) - 0.5)
    power_sum = kept("psnext", "near", ("4-5",), failing)
    fail, _ = judged(failing, power_sum)
    assert fail.judgement is Judgement.OVERTURNED
    assert margin(fail, "psnext", "near", "4-5").outcome is Outcome.PASS  # the sum by itself
    found, working = judged(power_sum)  # and NEXT as if nothing had been
    assert [fact.key for fact in working.disagreements] == [Key("psnext", "near", ("4-5",))]
    assert found.judgement is Judgement.UNPROVEN
    assert "NEXT 1-2 to 4-5 at the near end: 0.50 dB worse than the limit" in found.reason
    assert "at 100 MHz, or another in its sum," in found.reason
    assert "if exported PSNEXT 4-5 at the near end is right" in found.reason


def test_a_power_sum_that_leaves_each_curve_a_pass_changes_nothing() -> None:
    passing = put("next", "near", TWO, AT_MHZ, limit("next", "near", *TWO) + 1.0)
    found, working = judged(kept("psnext", "near", ("4-5",), passing))
    assert working.disagreements
    assert found.judgement is Judgement.UPHELD


def test_a_power_sum_better_than_its_curves_leaves_nothing() -> None:
    better = recompute(curves())["psnext"]
    exported = sweep("psnext", "near", ["4-5"], value(better, "near", "4-5") + 1.0)
    found, working = judged(adding(exported))
    assert working.disagreements
    assert found.judgement is Judgement.UPHELD


@pytest.mark.parametrize("parameter", ["acr_n", "psacr_n"])
def test_a_ratio_tells_of_the_crosstalk_it_was_made_of(parameter: str) -> None:
    """ISO/IEC 11801-1 asks for both; the ratio itself has 10 dB to spare at 100 MHz."""
    pairs = TWO if parameter == "acr_n" else TWO[1:]
    least = limit("next", "near", *TWO, path=ISO) - 0.5
    down = least if parameter == "acr_n" else least - 3.0
    failing = put("next", "near", TWO, AT_MHZ, down)
    found, working = judged(kept(parameter, "near", pairs, failing), path=ISO)
    assert [fact.key.parameter for fact in working.disagreements] == [parameter]
    assert found.judgement is Judgement.UNPROVEN
    whole = "NEXT 3-6 to 4-5" if parameter == "acr_n" else "PSNEXT 4-5"
    assert f"{whole} at the near end: " in found.reason and "is right" in found.reason


def test_a_ratio_tells_of_the_insertion_loss_it_was_made_with() -> None:
    failing = put("insertion_loss", None, ("4-5",), AT_MHZ, limit_of_loss() + 0.5)
    found, working = judged(kept("acr_f", "far", TWO, failing))
    assert [fact.key.parameter for fact in working.disagreements] == ["acr_f"]
    assert found.judgement is Judgement.UNPROVEN
    assert "insertion loss 4-5: " in found.reason
    assert "if exported ACR-F 3-6 to 4-5 at the far end is right" in found.reason


def limit_of_loss() -> float:
    found, _ = judged(put("insertion_loss", None, ("4-5",), AT_MHZ, 80.0))
    at_worst = margin(found, "insertion_loss", None, "4-5").limit_at_worst_margin_db
    assert at_worst is not None
    return at_worst


def left(power_sum: str, *changes: Change) -> Curves:
    """What one disagreeing power sum leaves for its members."""
    _, working = judged(*changes)
    (fact,) = working.disagreements
    assert fact.key.parameter == power_sum
    (found,) = implied(fact, working.measured_curves, working.judged_curves)
    return found


def test_what_is_left_is_the_curve_that_went_into_the_sum() -> None:
    """By hand: 10^(-PSNEXT/10) less the other two is the power of the third."""
    was = put("next", "near", TWO, AT_MHZ, 45.0)
    found = left("psnext", kept("psnext", "near", ("4-5",), was))
    assert found.parameter == "next"
    row = found.keys.index(Key("next", "near", TWO))
    at = int(np.flatnonzero(grid() == AT_MHZ)[0])
    there = ~np.isnan(found.value[row])
    assert np.flatnonzero(there).tolist() == [at]
    assert found.low[row, at] <= 45.0 <= found.high[row, at]
    assert found.high[row, at] - found.low[row, at] < 0.05
    others = [m for m in found.keys if m.pairs != TWO]
    assert len(others) == 2
    for other in others:
        known = curves()["next"]
        one, two, three = (
            value(known, "near", *key.pairs)[at] for key in (*others, Key("next", "near", TWO))
        )
        total = losses(powers(np.array([one, two, 45.0])).sum()).round(2)
        apart = one if other is others[1] else two
        expected = -10 * np.log10(10 ** (-total / 10) - 10 ** (-apart / 10) - 10 ** (-three / 10))
        assert found.value[found.keys.index(other), at] == pytest.approx(expected, abs=1e-9)


def test_acr_f_is_told_by_its_power_sum() -> None:
    """Exported ACR-F alone, one of them better than when the power sum was made."""

    def only_ratios(body: dict[str, Any]) -> None:
        made = recompute(curves())["acr_f"]
        kept_ones = [s for s in body["results"]["sweeps"] if s["parameter"] != "fext"]
        ratios = []
        for row, key in enumerate(made.keys):
            own = value(made, key.end, *key.pairs)
            own[5::7] += 0.01 * row  # no two measurements are the same
            ratios.append(sweep("acr_f", key.end, key.pairs, own))
        body["results"]["sweeps"] = [*kept_ones, *ratios]

    def was(body: dict[str, Any]) -> None:
        only_ratios(body)
        find(body, "acr_f", "far", *TWO)["value_db"][grid() == AT_MHZ] = 24.0

    power_sum = recompute(curves(was))["psacr_f"]
    exported = sweep("psacr_f", "far", ["4-5"], value(power_sum, "far", "4-5"))
    good, _ = judged(only_ratios)
    assert good.judgement is Judgement.UPHELD
    found, _ = judged(only_ratios, adding(exported))
    assert found.judgement is Judgement.UNPROVEN
    assert "ACR-F 1-2 to 4-5 at the far end: 0.19 dB worse than the limit" in found.reason
