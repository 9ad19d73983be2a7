"""judging-0.md says what the code does: its truth table, its counts and its worked numbers."""

import re
from importlib.resources import files

import numpy as np
import pytest

from sweepbook.judging.assessment import Judgement, Recomputed
from sweepbook.judging.coverage import needed
from sweepbook.judging.derive import power_sum
from sweepbook.judging.physics import Bounds
from sweepbook.judging.verdict import judgement
from sweepbook.limits.practice import Practice
from sweepbook.limits.shapes import line

from .links import TIA, readings, table

TEXT = files("sweepbook_schemas").joinpath("judging-0.md").read_text(encoding="utf-8")


def rows(heading: str) -> list[list[str]]:
    """Cells of the rows of the first table after a heading, without its head."""
    after = TEXT.split(heading, 1)[1]
    found = re.search(r"(?:^\|.*\n)+", after, re.MULTILINE)
    assert found is not None
    lines = found.group(0).splitlines()[2:]
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in lines]


def test_the_truth_table() -> None:
    order = (Recomputed.FAIL, Recomputed.UNDECIDED, Recomputed.PASS)
    seen = []
    for stated, *cells in rows("## 13."):
        words = re.findall(r"`([^`]+)`", stated) or [None]
        for word in words:
            for recomputed, cell in zip(order, cells, strict=True):
                assert judgement(word, recomputed) is Judgement(cell)
                seen.append((word, recomputed))
    assert len(seen) == 15


def test_the_counts_of_curves() -> None:
    each = {"4, of either end or without end": 4, "4 at each end": 8}
    each["6 combinations at each end, each named in either order"] = 12
    checked = 0
    for parameters, curves in rows("A **parameter** is complete"):
        for parameter in re.findall(r"`([^`]+)`", parameters):
            if curves in each:
                assert len(needed(parameter)) == each[curves]
                checked += 1
            elif curves.startswith("12 ordered"):
                assert len(needed(parameter)) == 24
                checked += 1
    assert checked == 8


@pytest.mark.parametrize(
    ("parameter", "mhz", "shown"), [("insertion_loss", 100.0, "17.9715"), ("next", 243.5, "35.52")]
)
def test_the_limits_worked_by_hand(parameter: str, mhz: float, shown: str) -> None:
    value = line(table(TIA), parameter, np.array([mhz]), readings()).value[0]
    decimals = len(shown.partition(".")[2])
    assert f"{value:.{decimals}f}" == shown
    assert f"{shown} dB" in TEXT


def test_the_loss_of_copper_worked_by_hand() -> None:
    bounds = Bounds.of(Practice.shipped())
    thick = bounds.conductor_thickest_mm
    least = bounds.least_loss_db_per_m(np.array([100.0]), thick)[0] * 50.0
    assert f"{least:.2f} dB" == "5.66 dB"
    assert f"{least / 2.0:.2f}" == "2.83"
    assert "= 5.66 dB" in TEXT
    assert "half of it, 2.83" in TEXT


def test_the_power_sum_worked_by_hand() -> None:
    assert f"{power_sum(np.full((3, 1), 50.0))[0]:.2f}" == "45.23"
    assert "45.23 dB" in TEXT
