"""Digits that an export prints and its tester did not read prove nothing.

Insertion loss limit of the TIA Category 6A permanent link at 100 MHz is 17.9715 dB, see
`test_resolution`: a reading of 17.95 known to half a hundredth passes, one known to half a tenth
may be 18.00.
"""

from typing import Any

import numpy as np
import pytest

from sweepbook.judging.assessment import Judgement, Outcome
from sweepbook.judging.padded import step_of

from .links import Change, at, find, judged, margin


def stepped(step_db: float, decimals: int, **more: Any) -> Change:
    """Insertion loss of 1-2 in steps, printed with so many decimals; 17.95 or 18.0 at 100 MHz."""

    def change(body: dict[str, Any]) -> None:
        one = find(body, "insertion_loss", None, "1-2")
        one["value_db"] = (np.round(one["value_db"] / step_db) * step_db).round(decimals)
        one["value_db"][at(100.0)] = round(round(17.9 / step_db) * step_db, decimals)
        one.update(decimals=decimals, **more)

    return change


@pytest.mark.parametrize("decimals", [2, 4, 9, 15])
@pytest.mark.parametrize("step_db", [0.1, 0.05, 0.25])
def test_a_coarser_step_is_what_readings_are_known_to(step_db: float, decimals: int) -> None:
    found, _ = judged(stepped(step_db, decimals))
    one = margin(found, "insertion_loss", None, "1-2")
    assert one.margin_low_db is not None
    assert one.margin_high_db is not None
    assert one.margin_high_db - one.margin_low_db == pytest.approx(step_db, abs=1e-9)


def test_a_pass_that_hangs_on_padded_digits_is_unproven() -> None:
    found, _ = judged(stepped(0.25, 4))  # 18.00 at 100 MHz: 0.0285 worse, and nearer than 0.125
    assert margin(found, "insertion_loss", None, "1-2").outcome is Outcome.UNDECIDED
    assert found.judgement is Judgement.UNPROVEN
    assert "nearer than the digits of the source can tell" in found.reason


def test_a_finer_resolution_than_the_values_show_is_not_believed() -> None:
    found, _ = judged(stepped(0.1, 1, resolution=1e-9))
    one = margin(found, "insertion_loss", None, "1-2")
    assert (one.margin_high_db or 0.0) - (one.margin_low_db or 0.0) == pytest.approx(0.1)


def test_padded_digits_behind_a_gap_are_padded_all_the_same() -> None:
    def gap(body: dict[str, Any]) -> None:
        one = find(body, "insertion_loss", None, "1-2")
        one["value_db"] = np.delete(one["value_db"], 400)
        one["gaps"] = [{"from": 400, "to": 400, "reason": "missing"}]

    found, _ = judged(stepped(0.1, 4), gap)
    one = margin(found, "insertion_loss", None, "1-2")
    assert (one.margin_high_db or 0.0) - (one.margin_low_db or 0.0) == pytest.approx(0.1)


def test_few_values_or_one_finer_than_the_step_tell_no_step() -> None:
    values = np.arange(30) / 10.0
    assert step_of(values, 4, 30) == pytest.approx(0.1)
    assert step_of(values[:-1], 4, 30) == 0.0
    assert step_of(np.append(values, 1.15), 4, 30) == pytest.approx(0.05)
    assert step_of(np.append(values, 1.1503), 4, 30) == pytest.approx(0.0001)
    assert step_of(np.append(values, 1.15033), 4, 30) == 0.0
    assert step_of(np.append(values, np.inf), 4, 30) == 0.0


def test_a_value_for_no_reading_among_them_hides_no_step() -> None:
    assert step_of(np.append(np.arange(40) / 10.0, 0.0), 3, 30) == pytest.approx(0.1)
