"""The testers' limits at a few frequencies. All values here are recalled, not looked up."""

import numpy as np
import pytest

from sweepbook_demo.limit_lines import LimitSet, curve_parameters, line, scalar_limit

RECALLED = [
    ("tia", "permanent-link", "next", 100.0, 41.8),
    ("tia", "permanent-link", "next", 250.0, 35.3),
    ("tia", "permanent-link", "next", 500.0, 26.7),
    ("tia", "permanent-link", "insertion_loss", 100.0, 18.0),
    ("tia", "permanent-link", "insertion_loss", 500.0, 43.8),
    ("tia", "permanent-link", "return_loss", 500.0, 8.0),
    ("tia", "permanent-link", "propagation_delay", 10.0, 498.0),
    ("tia", "channel", "next", 100.0, 39.9),
    ("tia", "channel", "next", 500.0, 26.1),
    ("tia", "channel", "psnext", 500.0, 23.2),
    ("tia", "channel", "insertion_loss", 500.0, 49.3),
    ("tia", "channel", "acr_f", 100.0, 23.3),
    ("iso", "channel", "next", 500.0, 27.9),
    ("iso", "channel", "insertion_loss", 1.0, 4.0),
    ("iso", "permanent-link", "insertion_loss", 500.0, 42.1),
    ("iso", "permanent-link", "next", 500.0, 29.2),
    ("iso", "channel", "propagation_delay", 10.0, 555.0),
]
RECALLED_6 = [
    ("insertion_loss", 100.0, 18.6),
    ("insertion_loss", 250.0, 31.1),
    ("next", 100.0, 41.8),
    ("next", 250.0, 35.3),
    ("psnext", 250.0, 32.7),
    ("return_loss", 250.0, 10.0),
    ("acr_f", 100.0, 24.2),
    ("acr_f", 250.0, 16.2),
    ("propagation_delay", 10.0, 498.0),
]


@pytest.mark.parametrize(("family", "configuration", "parameter", "mhz", "value"), RECALLED)
def test_recalled_values(
    family: str, configuration: str, parameter: str, mhz: float, value: float
) -> None:
    limit = LimitSet(family, configuration)
    assert line(limit, parameter, np.array([mhz]))[0] == pytest.approx(value, abs=0.06)


@pytest.mark.parametrize(("parameter", "mhz", "value"), RECALLED_6)
def test_recalled_values_of_the_category_6_link(parameter: str, mhz: float, value: float) -> None:
    limit = LimitSet("tia", "permanent-link", "6")
    assert limit.top_khz == 250_000
    assert line(limit, parameter, np.array([mhz]))[0] == pytest.approx(value, abs=0.06)


def test_only_iso_limits_the_near_end_ratio_and_the_loop_and_only_tia_the_length() -> None:
    tia, iso = LimitSet("tia", "channel"), LimitSet("iso", "channel")
    assert "acr_n" in curve_parameters(iso)
    assert "acr_n" not in curve_parameters(tia)
    assert scalar_limit(tia, "length") == 110.0
    assert scalar_limit(iso, "length") is None
    assert scalar_limit(iso, "dc_loop_resistance") == 25.0
    assert scalar_limit(tia, "dc_loop_resistance") is None
