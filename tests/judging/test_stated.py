"""Stated worst margins and values beside the recomputed ones."""

from typing import Any

import numpy as np
import pytest

from sweepbook.judging.working import StatedFigure

from .links import Change, grid, judged, put

PUT = put("insertion_loss", None, ("1-2",), 100.0, 17.5)
"""Margin 17.9715 - 17.5 = 0.4715 dB at 100 MHz (see test_resolution), between 0.4665 and 0.4765."""


def stating(item: dict[str, Any]) -> Change:
    def change(body: dict[str, Any]) -> None:
        body["stated"]["items"] = [item]

    return change


def worst_margin(db: float, decimals: int = 2, **more: Any) -> dict[str, Any]:
    head = {"margin_db": db, "decimals": decimals, "as_stated": str(db)}
    return {"parameter": "insertion_loss", "pairs": ["1-2"], "worst_margin": {**head, **more}}


def told(item: dict[str, Any], *changes: Change) -> StatedFigure:
    _, working = judged(*changes, stating(item))
    (fact,) = working.stated_figures
    return fact


@pytest.mark.parametrize(
    ("db", "decimals", "agrees"),
    [(0.47, 2, True), (0.5, 1, True), (0.48, 2, True), (0.49, 2, False), (0.6, 1, False)],
)
def test_a_stated_margin_agrees_within_the_digits_of_both(
    db: float, decimals: int, agrees: bool
) -> None:
    fact = told(worst_margin(db, decimals), PUT)
    assert fact.agrees is agrees
    assert fact.path == "$.stated.items[0].worst_margin"
    assert (fact.low, fact.high) == pytest.approx((0.4665, 0.4765))
    assert fact.recomputed == pytest.approx(0.4715)
    assert (fact.stated_mhz, fact.recomputed_mhz, fact.frequency_agrees) == (None, 100.0, None)
    assert fact.unit == "dB"


@pytest.mark.parametrize(("mhz", "agrees"), [(100.0, True), (99.75, False), (400.0, False)])
def test_a_stated_frequency_must_be_one_that_may_be_the_worst(mhz: float, agrees: bool) -> None:
    assert told(worst_margin(0.47, frequency_mhz=mhz), PUT).frequency_agrees is agrees


def test_a_frequency_that_ties_within_the_digits_agrees() -> None:
    """At 100.5 MHz the limit is 0.9 (18.2454 + 0.91455 + 0.0249) + 0.6015 + 0.15113 = 18.0189 dB.

    With 17.55 there the margin is 0.4689: either may be the worst one.
    """
    tie = put("insertion_loss", None, ("1-2",), 100.5, 17.55)
    fact = told(worst_margin(0.47, frequency_mhz=100.0), PUT, tie)
    assert fact.recomputed_mhz == 100.5
    assert fact.frequency_agrees is True


def test_what_an_item_leaves_open_is_about_all_of_it() -> None:
    item = {"parameter": "insertion_loss", "worst_margin": worst_margin(0.47)["worst_margin"]}
    assert told(item, PUT).agrees


def test_worst_value_of_an_insertion_loss_is_the_greatest() -> None:
    figure = {"value_db": 28.31, "decimals": 2, "as_stated": "28.31", "frequency_mhz": 500.0}
    fact = told({"parameter": "insertion_loss", "worst_value": figure})
    # 1.15 sqrt 500 + 0.0052 * 500 = 28.3148, exported as 28.31
    assert fact.agrees
    assert fact.recomputed == 28.31
    assert fact.frequency_agrees is True
    assert (fact.low, fact.high) == pytest.approx((28.305, 28.315))


def test_worst_value_of_a_crosstalk_is_the_least_whichever_pair_is_named_first() -> None:
    figure = {"value_db": 33.0, "decimals": 1, "as_stated": "33.0"}
    item = {"parameter": "next", "end": "far", "pairs": ["4-5", "3-6"], "worst_value": figure}
    fact = told(item, put("next", "far", ("3-6", "4-5"), 400.0, 33.02))
    assert fact.agrees
    assert (fact.recomputed, fact.recomputed_mhz) == (33.02, 400.0)


def test_single_figures_are_compared_too() -> None:
    figure = {"margin_m": 32.1, "decimals": 1, "as_stated": "32.1"}
    fact = told({"parameter": "length", "worst_margin": figure})
    # 99 m less the shortest, 58.0 m: 41.0 m; the source did not count the 10 %.
    assert fact.recomputed == pytest.approx(41.0)
    assert not fact.agrees
    assert fact.unit == "m"


def test_a_figure_of_a_parameter_without_limit_is_passed_over() -> None:
    figure = {"margin_db": 3.0, "decimals": 1, "as_stated": "3.0"}
    _, working = judged(stating({"parameter": "acr_n", "worst_margin": figure}))
    assert working.stated_figures == ()


def test_a_source_may_count_the_points_for_information() -> None:
    """Return loss of 3 dB at 6.55 MHz is for information; a source may state it all the same."""
    bad = put("return_loss", "near", ("4-5",), 6.55, 3.0)
    item = {"parameter": "return_loss", "end": "near", "pairs": ["4-5"]}
    figure = {"value_db": 3.0, "decimals": 1, "as_stated": "3.0", "frequency_mhz": 6.55}
    fact = told({**item, "worst_value": figure}, bad)
    assert fact.agrees
    assert fact.frequency_agrees is True
    # Shown beside it is the judged figure: 40 - 8 lg 500 = 18.41 dB.
    assert fact.recomputed == pytest.approx(18.41)
    other = {**figure, "value_db": 12.0}
    assert not told({**item, "worst_value": other}, bad).agrees


@pytest.mark.parametrize(("ns", "agrees"), [(9, True), (15, True), (12, False)])
def test_a_stated_skew_may_be_the_printed_or_the_recomputed_one(ns: int, agrees: bool) -> None:
    """Delays of 290 to 299 ns make 9 ns, 8 to 10; the source prints 15 ns."""

    def change(body: dict[str, Any]) -> None:
        skew = {"parameter": "delay_skew", "pairs": [], "delay_ns": 15, "decimals": 0}
        body["results"]["scalars"].append(skew)

    figure = {"value_ns": ns, "decimals": 0, "as_stated": str(ns)}
    fact = told({"parameter": "delay_skew", "worst_value": figure}, change)
    assert fact.agrees is agrees
    assert (fact.recomputed, fact.low, fact.high) == (9.0, 8.0, 10.0)


@pytest.mark.parametrize(
    ("db", "mhz", "agrees", "there"),
    [
        (14.29, 300.0, True, True),  # by NEXT: between 14.284 and 14.294 dB at 300 MHz
        (14.18, 200.0, True, True),  # as exported: between 14.130 and 14.230 dB at 200 MHz
        (14.14, 200.0, True, True),
        (14.25, 200.0, False, True),
        (14.18, 250.0, True, False),
    ],
)
def test_a_figure_of_a_power_sum_may_be_that_of_the_exported_curve(
    db: float, mhz: float, agrees: bool, there: bool
) -> None:
    """Three NEXT of 50.46 dB at 300 MHz make 45.6888 dB, 14.2888 above the limit of 31.4 dB.

    Exported is the same in tenths, but 48.5 dB at 200 MHz, where the limit is 34.3204 dB.
    """

    def change(body: dict[str, Any]) -> None:
        values = np.round(100.0 - 20.0 * np.log10(grid()) - 10.0 * np.log10(3.0), 1)
        values[grid() == 200.0] = 48.5
        own = {"parameter": "psnext", "end": "near", "pairs": ["1-2"], "grid": "g"}
        body["results"]["sweeps"].append({**own, "decimals": 1, "value_db": values})

    figure = {"margin_db": db, "decimals": 2, "as_stated": str(db), "frequency_mhz": mhz}
    item = {"parameter": "psnext", "end": "near", "pairs": ["1-2"], "worst_margin": figure}
    fact = told(item, change)
    assert (fact.agrees, fact.frequency_agrees) == (agrees, there)
    assert (fact.low, fact.high) == pytest.approx((14.2838, 14.2938), abs=1e-4)
