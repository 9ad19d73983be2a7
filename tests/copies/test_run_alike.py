"""A curve made from another by a slope and noise is told; those of a link as it is are not."""

import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from sweepbook.copies.figures import Figures
from sweepbook.copies.run_alike import running_alike
from sweepbook.judging.curves import Curves
from sweepbook.limits.practice import Practice
from tests.program import run

from .planting import DIALECTS, Sheet
from .sisters import sister

PRACTICE = Practice.shipped()
FIGURES, USUAL = Figures.of(PRACTICE), PRACTICE.value("alike_share")
BAD, SOURCE = "NEXT A 3-6/4-5", "NEXT A 1-2/7-8"
FAILED = Sheet.of("heron-1A-P1-03.csv").fact("verdict", "PASS")
MAKE = f"--dialect={DIALECTS / 'brindlewick-heron-5.toml'}"


def column(title: str) -> list[str]:
    place = FAILED.table[0].index(title)
    return [row[place] for row in FAILED.table[1:]]


def told(folder: Path, sheet: Sheet) -> list[dict[str, object]]:
    """What SWP029 says of an export."""
    path = sheet.save(folder, "made.csv")
    (record,) = json.loads(run("check", path, MAKE, "--json").output)["records"]
    return [one["arguments"] for one in record["findings"] if one["rule"] == "SWP029"]


def test_a_failing_curve_made_anew_from_another_by_slope_and_noise(tmp_path: Path) -> None:
    luck, mhz = np.random.default_rng(3), [float(row[0]) for row in FAILED.table[1:]]
    made = [
        text if text[0] == ">" else f"{float(text) + 2.0 - 0.004 * at + luck.normal(0, 0.5):.2f}"
        for text, at in zip(column(SOURCE), mhz, strict=True)
    ]
    (one,) = told(tmp_path, FAILED.with_curves({BAD: made}))
    assert one["curves"] == "NEXT 1-2 to 7-8 at the near end and NEXT 3-6 to 4-5 at the near end"


def test_the_export_as_it_came(tmp_path: Path) -> None:
    assert told(tmp_path, FAILED) == []


@pytest.mark.parametrize("length_m", [PRACTICE.value("alike_least_m"), 15.0, 62.0, 90.0])
def test_curves_of_a_link_turn_by_themselves(length_m: float) -> None:
    for seed in range(4):
        assert list(running_alike(sister(length_m, seed), FIGURES, USUAL)) == []


@pytest.mark.parametrize("noise_db", [0.2, 1.0])
@pytest.mark.parametrize("parameter", ["return_loss", "next"])
def test_one_that_was_made_is_told_once(parameter: str, noise_db: float) -> None:
    whole = sister(40.0, 4)
    curves, luck = whole[parameter], np.random.default_rng(2)
    value = curves.value.copy()
    value[5] = value[1] + 8.0 - 0.01 * curves.frequency_mhz
    value[5] += luck.normal(0.0, noise_db, value.shape[1])
    (one,) = running_alike({**whole, parameter: _with(curves, value)}, FIGURES, USUAL)
    assert (one.first, one.second) == (curves.keys[1], curves.keys[5])
    assert one.sweep == curves.sweeps[5][0]


def test_an_offset_alone_is_left_to_the_rule_about_that() -> None:
    whole = sister(40.0, 4)
    value = whole["next"].value.copy()
    value[5] = value[1] + 8.0
    assert list(running_alike({"next": _with(whole["next"], value)}, FIGURES, USUAL)) == []


def _with(curves: Curves, value: np.ndarray) -> Curves:
    return replace(curves, given=value)
