"""Another unit or a turned sign proves nothing; a link that really fails stays a fail."""

from typing import Any

import numpy as np
import pytest

from sweepbook.judging.assessment import Judgement
from sweepbook.judging.working import DoubtKind

from .links import (
    ENDS,
    ISO,
    PAIRS,
    TIA,
    Change,
    find,
    grid,
    judged,
    loss,
    put,
    scale,
    stating,
    sweep,
    without,
)


def times(factor: float, *parameters: str) -> Change:
    def change(body: dict[str, Any]) -> None:
        for one in body["results"]["sweeps"]:
            if one["parameter"] in parameters:
                one["value_db"] = (one["value_db"] * factor).round(2)

    return change


def exporting(parameter: str) -> Change:
    """Add the ratio as a tester would export it, from FEXT of the good link."""
    lines = 80.0 - 20.0 * np.log10(grid())

    def change(body: dict[str, Any]) -> None:
        number = 0
        for end in ENDS:
            for k in PAIRS:
                each = [[k]] if parameter == "psacr_f" else [[i, k] for i in PAIRS if i != k]
                for pairs in each:
                    number += 1
                    less = 10.0 * np.log10(3.0) if parameter == "psacr_f" else 0.0
                    values = lines - less + 0.01 * number * (np.arange(grid().size) % 11 == 5)
                    body["results"]["sweeps"].append(sweep(parameter, end, pairs, values))

    return change


def loops(*ohm: float) -> Change:
    def change(body: dict[str, Any]) -> None:
        found = [s for s in body["results"]["scalars"] if s["parameter"] == "dc_loop_resistance"]
        for one, value in zip(found, ohm, strict=True):
            one["resistance_ohm"] = value

    return change


def lost(values: Any, *pairs: str) -> Change:
    def change(body: dict[str, Any]) -> None:
        for row, pair in enumerate(pairs):
            one = find(body, "insertion_loss", None, pair)
            one["value_db"] = (values + 0.01 * row * (np.arange(grid().size) % 11 == 5)).round(2)

    return change


@pytest.mark.parametrize("verdict", ["pass", "fail"])
@pytest.mark.parametrize("path", [TIA, ISO])
def test_insertion_loss_in_tenths_proves_nothing(verdict: str, path: str) -> None:
    found, working = judged(times(10.0, "insertion_loss"), stating(verdict), path=path)
    assert found.judgement is Judgement.UNPROVEN
    assert {doubt.kind for doubt in working.doubts} == {DoubtKind.CONTRADICTION}
    assert "times that of thin copper at every point, by 58 m of pair 1-2" in found.reason


def test_another_fail_stands_beside_it_where_the_loss_has_no_part_in_it() -> None:
    def crossed(body: dict[str, Any]) -> None:
        pins = body["results"]["wire_map"]["pins"]
        pins[0][1], pins[1][1] = pins[1][1], pins[0][1]

    tenths = times(10.0, "insertion_loss")
    assert judged(tenths, crossed)[0].judgement is Judgement.OVERTURNED
    # At 6.55 MHz the loss is below 3.0 dB, if it is tenths: return loss is for information there.
    echo = put("return_loss", "near", ("4-5",), 6.55, 5.0)
    assert judged(tenths, echo)[0].judgement is Judgement.UNPROVEN


@pytest.mark.parametrize("verdict", ["pass", "fail"])
def test_loops_in_milliohm_prove_nothing(verdict: str) -> None:
    found, _ = judged(loops(9000.0, 9100.0, 9050.0, 8990.0), stating(verdict), path=ISO)
    assert found.judgement is Judgement.UNPROVEN
    assert "loop resistance is 9000 ohm of pair 1-2, and of every pair" in found.reason


@pytest.mark.parametrize("parameter", ["acr_f", "psacr_f"])
@pytest.mark.parametrize("verdict", ["pass", "fail"])
def test_exported_ratios_with_the_sign_turned_prove_nothing(parameter: str, verdict: str) -> None:
    turned = [exporting(parameter), without("fext"), times(-1.0, parameter), stating(verdict)]
    found, working = judged(*turned)
    assert found.judgement is Judgement.UNPROVEN
    assert "below 0 dB at every point" in working.doubts[0].text


# What really fails, and stays a fail.
OPEN = 62.0 - 4.0 * np.log10(grid()) + 3.0 * np.sin(grid())  # crosstalk past a broken conductor
SERIES = loss(grid()) + 9.0  # a contact of some 360 ohm
WET = 1.8 * loss(grid())  # water in the cable


def of_four_metres(body: dict[str, Any]) -> None:
    scale(body, 4.0 / 58.0)


@pytest.mark.parametrize(
    "change",
    [
        lost(OPEN, "4-5"),
        lost(OPEN, *PAIRS),
        lost(SERIES, "4-5"),
        lost(SERIES, *PAIRS),
        lost(WET, *PAIRS),
        lost(2.9 * loss(grid()), *PAIRS),
        loops(9.0, 9000.0, 9.0, 9.0),
        loops(9.0, 9000.0, 9000.0, 9000.0),
        loops(60.0, 70.0, 80.0, 90.0),
    ],
)
def test_a_link_that_fails_stays_a_fail(change: Change) -> None:
    found, _ = judged(change, stating("fail"), path=ISO)
    assert found.judgement is Judgement.UPHELD


@pytest.mark.parametrize("values", [OPEN, SERIES])
def test_a_short_link_with_an_open_pair_or_a_bad_contact_stays_a_fail(values: Any) -> None:
    found, _ = judged(of_four_metres, lost(values, "4-5"), stating("fail"), path=ISO)
    assert found.judgement is Judgement.UPHELD


def test_a_ratio_below_0_where_the_sweep_begins_high_is_a_fail() -> None:
    """A link so bad that FEXT is above the signal from 250 MHz on; nothing was swept below."""

    def high(body: dict[str, Any]) -> None:
        where = grid() >= 250.0
        body["results"]["grids"][0]["frequency_mhz"] = grid()[where]
        for one in body["results"]["sweeps"]:
            one["value_db"] = one["value_db"][where]

    turned = [exporting("acr_f"), without("fext"), times(-1.0, "acr_f"), high, stating("fail")]
    assert judged(*turned)[0].judgement is Judgement.UPHELD
