"""A pass beside which its own source states a fail: the sweeps prove none (judging-0.md, 12)."""

from typing import Any

import pytest

from sweepbook.judging.assessment import Assessment, Judgement, Recomputed

from .links import Change, find, judged, put, without

NEXT = {"parameter": "next", "end": "near", "pairs": ["1-2", "3-6"]}
"""100 - 20 lg f dB in the good link: at 500 MHz 46.0, better than any limit there."""


def worst(db: float, decimals: int = 1) -> dict[str, Any]:
    return {"worst_margin": {"margin_db": db, "decimals": decimals, "as_stated": str(db)}}


def stating(verdict: str | None, *items: dict[str, Any]) -> Change:
    def change(body: dict[str, Any]) -> None:
        overall = {"overall": {"verdict": verdict, "as_stated": verdict}} if verdict else {}
        body["stated"] = {**overall, "items": list(items)}

    return change


def assessed(
    verdict: str | None, *items: dict[str, Any], more: tuple[Change, ...] = ()
) -> Assessment:
    return judged(stating(verdict, *items), *more)[0]


@pytest.mark.parametrize("verdict", ["pass", "pass*"])
@pytest.mark.parametrize(
    "said", [worst(-2.3), worst(-0.2), {"verdict": "fail"}, {"verdict": "fail*"}]
)
def test_a_stated_pass_beside_a_stated_fail_is_unproven(verdict: str, said: dict[str, Any]) -> None:
    found = assessed(verdict, {**NEXT, **said})
    assert found.judgement is Judgement.UNPROVEN
    assert found.recomputed is Recomputed.UNDECIDED
    assert found.grade is None
    assert found.reason.startswith(f"Neither pass nor fail is proved: beside {verdict} the source")
    assert "NEXT 1-2 to 3-6 at the near end" in found.reason


def test_an_item_without_pairs_is_about_every_curve() -> None:
    found = assessed("pass", {"parameter": "return_loss", "verdict": "fail"})
    assert found.judgement is Judgement.UNPROVEN
    assert "a fail of return loss (recomputed: a pass)" in found.reason


def test_the_figure_of_a_single_value_counts_as_well() -> None:
    skew = {
        "parameter": "delay_skew",
        "worst_margin": {"margin_ns": -3, "decimals": 0, "as_stated": "-3"},
    }
    found = assessed("pass", skew)
    assert found.judgement is Judgement.UNPROVEN
    assert "delay skew 3.00 ns worse than its limit" in found.reason


@pytest.mark.parametrize(
    "item",
    [
        {**NEXT, **worst(-0.1)},  # one last digit: value and limit may have been rounded before
        {**NEXT, **worst(2.0)},  # wrong, but no fail
        {**NEXT, "verdict": "pass"},
        {"parameter": "tcl", "verdict": "fail"},  # no such curve, and none is required
        {"parameter": "acr_n", "end": "near", "pairs": ["1-2", "3-6"], "verdict": "fail"},
    ],
)
def test_what_is_no_fail_of_a_required_part_changes_nothing(item: dict[str, Any]) -> None:
    assert assessed("pass", item).judgement is Judgement.UPHELD


def test_a_margin_of_points_for_information_agrees() -> None:
    """At 4 MHz the loss is 2.3 dB, so return loss is for information there, and may be worse."""

    def worse(body: dict[str, Any]) -> None:
        find(body, "return_loss", "near", "1-2")["value_db"][2] = 17.0

    item = {"parameter": "return_loss", "end": "near", "pairs": ["1-2"]}
    found, working = judged(worse, stating("pass", {**item, **worst(-2.5)}))
    (fact,) = working.stated_figures
    assert fact.agrees
    assert found.judgement is Judgement.UPHELD


def test_a_stated_fail_and_no_verdict_are_judged_by_the_sweeps() -> None:
    assert assessed("fail", {**NEXT, **worst(-2.3)}).judgement is Judgement.OVERTURNED
    assert assessed(None, {**NEXT, **worst(-2.3)}).judgement is Judgement.UNSTATED
    assert assessed(None, {**NEXT, **worst(-2.3)}).recomputed is Recomputed.PASS


def test_what_is_proved_to_fail_and_what_is_missing_are_told_as_that() -> None:
    failing = put("next", "far", ("3-6", "4-5"), 243.5, 20.0)
    assert (
        assessed("pass", {**NEXT, **worst(-2.3)}, more=(failing,)).judgement is Judgement.OVERTURNED
    )
    missing = assessed("pass", {**NEXT, **worst(-2.3)}, more=(without("fext"),))
    assert missing.judgement is Judgement.UNPROVEN
    assert "missing" in missing.reason
