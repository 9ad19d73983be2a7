"""Points for information only, relaxed limits, rounding: reading by reading, with hand arithmetic.

In the record of these tests the insertion loss is 1.15 sqrt f + 0.0052 f on every pair:
3.0 dB at 6.67 MHz, 4.0 dB at 11.7 MHz.
"""

from typing import Any

import numpy as np
import pytest

from sweepbook.judging.assessment import Judgement, Outcome, Recomputed

from .links import (
    ISO,
    PAIRS,
    Change,
    at,
    find,
    grid,
    judged,
    loss,
    margin,
    put,
    readings,
    scale,
    stating,
    without,
)

RL_3_DB = "return-loss-below-3-db"
RELAXED = "class-ea-short-link-both"
ACR_F_200 = 17.5
"""Below the limit of ACR-F at 200 MHz, 64.2 - 20 lg 200 = 18.18 dB, and power sums still pass."""


def level(f_mhz: float, db: float, *pairs: str) -> Change:
    """Set the insertion loss of pairs at one frequency."""

    def change(body: dict[str, Any]) -> None:
        for pair in pairs:
            find(body, "insertion_loss", None, pair)["value_db"][at(f_mhz)] = db

    return change


def bad_return_loss(f_mhz: float) -> Change:
    return put("return_loss", "near", ("4-5",), f_mhz, 3.0)


def test_the_3_db_rule_is_on_by_default() -> None:
    """Up to 6.55 MHz, 2.977 dB, return loss is for information: (6.55 - 1) / 0.15 + 1 = 38 points.

    At 6.7 MHz the loss is 1.15 * 2.58844 + 0.03484 = 3.0115 dB.
    """
    found, _ = judged()
    one = margin(found, "return_loss", "near", "4-5")
    assert one.points_for_information == 38
    assert one.points_evaluated == grid().size - 38


def test_points_for_information_do_not_decide() -> None:
    found, _ = judged(bad_return_loss(6.55))
    assert found.judgement is Judgement.UPHELD
    one = margin(found, "return_loss", "near", "4-5")
    assert one.worst_value_db != 3.0


def test_the_next_point_decides() -> None:
    found, _ = judged(bad_return_loss(6.7))
    assert found.judgement is Judgement.OVERTURNED


def test_the_rule_goes_by_the_pair_itself() -> None:
    changes = [bad_return_loss(6.55), level(6.55, 3.5, "4-5")]
    assert judged(*changes)[0].judgement is Judgement.OVERTURNED
    changes = [bad_return_loss(6.55), level(6.55, 3.5, "3-6")]
    assert judged(*changes)[0].judgement is Judgement.UPHELD


@pytest.mark.parametrize(
    ("insertion_loss", "outcome"),
    [
        (2.99, Outcome.PASS),  # at most 2.995: certainly for information
        (3.00, Outcome.UNDECIDED),  # 2.995 to 3.005: evaluated, yet no fail is certain
        (3.01, Outcome.FAIL),  # at least 3.005: certainly not for information
    ],
)
def test_an_uncertain_exclusion_proves_neither(insertion_loss: float, outcome: Outcome) -> None:
    found, _ = judged(bad_return_loss(6.55), level(6.55, insertion_loss, "4-5"))
    one = margin(found, "return_loss", "near", "4-5")
    assert one.outcome is outcome
    if outcome is Outcome.UNDECIDED:
        assert "does not tell whether the point is for information only" in one.reason
        assert one.worst_value_db == 3.0


def test_a_loss_that_may_be_just_3_db_is_not_certainly_below() -> None:
    """2.75 dB known to half a dB may be 3.00 dB, which is not below 3.0 dB."""

    def change(body: dict[str, Any]) -> None:
        find(body, "insertion_loss", None, "4-5")["resolution"] = 0.5

    found, _ = judged(bad_return_loss(6.55), level(6.55, 2.75, "4-5"), change)
    assert margin(found, "return_loss", "near", "4-5").outcome is Outcome.UNDECIDED


def test_without_insertion_loss_return_loss_cannot_fail() -> None:
    found, _ = judged(bad_return_loss(200.0), without("insertion_loss"))
    assert margin(found, "return_loss", "near", "4-5").outcome is Outcome.UNDECIDED
    assert found.recomputed is Recomputed.UNDECIDED


def short_link(body: dict[str, Any]) -> None:
    """6 m: under 3 dB up to 500 MHz."""
    for row, pair in enumerate(PAIRS):
        one = find(body, "insertion_loss", None, pair)
        one["value_db"] = (loss(grid()) * 0.1).round(2)
        one["value_db"][5::11] += 0.01 * row  # no two measurements are the same
    scale(body, 0.1)


def few_metres(body: dict[str, Any]) -> None:
    """Lengths and delays that a loss of 4 dB at 200 MHz does not contradict."""
    scale(body, 0.2)


def test_a_doubted_insertion_loss_leaves_nothing_out_for_certain() -> None:
    """At 20 m copper alone loses 2.3 dB at 100 MHz; 2.0 dB hardly agree with that."""

    def twenty_metres(body: dict[str, Any]) -> None:
        scale(body, 20.0 / 58.0)
        level(100.0, 2.0, "4-5")(body)

    found, working = judged(twenty_metres)
    assert [doubt.kind for doubt in working.doubts] == ["implausible"]
    assert found.recomputed is Recomputed.PASS
    bad = put("return_loss", "near", ("4-5",), 100.0, 5.0)
    found, _ = judged(twenty_metres, bad)
    assert found.recomputed is Recomputed.UNDECIDED
    one = margin(found, "return_loss", "near", "4-5")
    assert one.outcome is Outcome.UNDECIDED
    assert "for information only" in one.reason
    assert one.worst_margin_mhz != 100.0
    believed, _ = judged(few_metres, level(100.0, 2.0, "4-5"), bad)
    assert believed.recomputed is Recomputed.PASS


def test_all_points_for_information_is_not_evaluated_and_no_pass() -> None:
    found, _ = judged(short_link)
    one = margin(found, "return_loss", "far", "7-8")
    assert one.outcome is Outcome.NOT_EVALUATED
    assert one.points_evaluated == 0
    assert one.points_for_information == grid().size
    assert one.worst_margin_db is None
    assert one.grade is None
    # The requirement does not reach the curves, so they do not stand in the way of the rest.
    assert found.judgement is Judgement.UPHELD
    assert "Not evaluated" in found.reason
    assert "return loss, 8 curves" in found.reason


def test_a_reading_that_is_off_and_would_save_a_fail_leaves_it_unproven() -> None:
    """NEXT fails at 5.05 MHz, where the insertion loss is 2.6 dB: below 4 dB."""
    fail = put("next", "far", ("3-6", "4-5"), 5.05, 50.0)
    found, working = judged(fail, stating("fail"))
    assert margin(found, "next", "far", "3-6", "4-5").outcome is Outcome.FAIL
    assert found.recomputed is Recomputed.UNDECIDED
    assert found.judgement is Judgement.UNPROVEN
    assert found.grade is None
    named = [trial.interpretation for trial in working.trials]
    assert named
    assert all(name.startswith("next-below-4-db") for name in named)
    assert named[0] in found.reason
    assert "--interpretation" in found.reason


def test_fixed_readings_are_not_tried() -> None:
    fail = put("next", "far", ("3-6", "4-5"), 5.05, 50.0)
    fixed = readings().fix("next-below-4-db", on=False)
    found, working = judged(fail, options={"interpretations": fixed})
    assert found.recomputed is Recomputed.FAIL
    assert working.trials == ()


def test_a_second_fail_that_no_reading_touches_stands() -> None:
    found, working = judged(
        put("next", "far", ("3-6", "4-5"), 5.05, 50.0),
        put("next", "far", ("3-6", "4-5"), 243.5, 20.0),
    )
    assert found.recomputed is Recomputed.FAIL
    assert working.trials == ()


def test_leaving_points_out_of_a_pass_changes_nothing() -> None:
    """On a link of 4 m the 4 dB rule would leave out NEXT altogether; a pass stays a pass."""
    found, working = judged(short_link)
    assert working.trials == ()
    assert found.recomputed is Recomputed.PASS


@pytest.mark.parametrize(
    ("reading", "low_pairs", "left_out"),
    [
        ("next-below-4-db-disturbed", ("3-6", "4-5"), True),
        ("next-below-4-db-disturbed", ("4-5",), False),
        ("next-below-4-db-both", ("3-6", "4-5"), True),
        ("next-below-4-db-both", ("4-5",), False),
        ("next-below-4-db-either", ("4-5",), True),
        ("next-below-4-db-either", ("1-2",), False),
    ],
)
def test_whose_insertion_loss_is_below_4_db(
    reading: str, low_pairs: tuple[str, ...], left_out: bool
) -> None:
    """One NEXT curve stands for both directions: the disturbed pair is each pair in its turn."""
    high = [pair for pair in ("1-2", "3-6", "4-5", "7-8") if pair not in low_pairs]
    changes = [few_metres, level(200.0, 3.9, *low_pairs), level(200.0, 4.1, *high)]
    changes.append(put("next", "far", ("3-6", "4-5"), 200.0, 30.0))
    chosen = readings().with_(reading)
    found, _ = judged(*changes, options={"interpretations": chosen})
    outcome = margin(found, "next", "far", "3-6", "4-5").outcome
    assert outcome is (Outcome.PASS if left_out else Outcome.FAIL)


def test_acr_n_goes_by_the_pair_whose_loss_was_subtracted() -> None:
    chosen = readings().with_("next-below-4-db-disturbed")
    changes = [few_metres, level(200.0, 3.9, "4-5"), level(200.0, 20.0, "3-6")]
    changes.append(put("next", "far", ("3-6", "4-5"), 200.0, 10.0))
    found, _ = judged(*changes, path=ISO, options={"interpretations": chosen})
    assert margin(found, "acr_n", "far", "3-6", "4-5").outcome is Outcome.PASS
    assert margin(found, "acr_n", "far", "4-5", "3-6").outcome is Outcome.FAIL


def test_acr_f_where_fext_is_above_70_db() -> None:
    """FEXT 71 dB less an insertion loss of 60 dB is 11 dB, a fail unless it is left out."""
    changes = [
        put("fext", "far", ("1-2", "3-6"), 200.0, 71.0),
        level(200.0, 60.0, "3-6"),
    ]
    chosen = readings().with_("acr-f-fext-above-70-db")
    on, _ = judged(*changes, options={"interpretations": chosen})
    off, _ = judged(*changes)
    assert margin(off, "acr_f", "far", "1-2", "3-6").outcome is Outcome.FAIL
    assert margin(on, "acr_f", "far", "1-2", "3-6").outcome is Outcome.PASS
    # The same crosstalk received on 1-2 at the near end, by reciprocity.
    assert margin(on, "acr_f", "near", "3-6", "1-2").points_for_information > 0


def only_ratios(*more: Change) -> Change:
    """Export ACR-F of the far end in place of all FEXT: that less the disturbed pair's loss."""

    def change(body: dict[str, Any]) -> None:
        for one in more:
            one(body)
        sweeps = body["results"]["sweeps"]
        for one in [one for one in sweeps if one["parameter"] == "fext"]:
            own = find(body, "insertion_loss", None, one["pairs"][-1])["value_db"]
            one["parameter"], one["value_db"] = "acr_f", (one["value_db"] - own).round(2)

    return change


@pytest.mark.parametrize(
    "far, lost, outcome",
    [
        (69.97, 60.0, Outcome.FAIL),  # 9.97 + 60 dB: both digits leave it below 70.01
        (70.00, 60.0, Outcome.UNDECIDED),  # 70 dB, and 0.01 to each side of it
        (70.02, 60.0, Outcome.PASS),
    ],
)
def test_fext_is_told_by_acr_f_and_insertion_loss(
    far: float, lost: float, outcome: Outcome
) -> None:
    """ACR-F is FEXT less a loss, so that FEXT is both together, known to the digits of both."""
    key = ("acr_f", "far", "1-2", "3-6")
    changes = only_ratios(
        put("fext", "far", ("1-2", "3-6"), 200.0, far), level(200.0, lost, "1-2", "3-6")
    )
    chosen = readings().with_("acr-f-fext-above-70-db")
    found, _ = judged(changes, options={"interpretations": chosen})
    assert margin(found, *key).outcome is outcome
    off, _ = judged(changes)
    assert margin(off, *key).outcome is Outcome.FAIL


@pytest.mark.parametrize("whose", ["1-2", "3-6"])
def test_fext_that_hangs_on_whose_loss_was_taken_is_not_known(whose: str) -> None:
    """ACR-F of 9 dB and losses of 60 and 62 dB: FEXT of 69 or 71 dB, either side of 70 dB."""
    other = "3-6" if whose == "1-2" else "1-2"
    changes = only_ratios(level(200.0, 60.0, whose), level(200.0, 62.0, other))
    nine = put("acr_f", "far", ("1-2", "3-6"), 200.0, 9.0)
    chosen = readings().with_("acr-f-fext-above-70-db")
    found, _ = judged(changes, nine, options={"interpretations": chosen})
    assert margin(found, "acr_f", "far", "1-2", "3-6").outcome is Outcome.UNDECIDED


def test_psfext_is_told_by_power_sums_of_exported_acr_f() -> None:
    """Three of 11 dB: 11 - 10 lg 3 = 6.23 dB, and with losses of 60 dB PSFEXT is below 67 dB."""
    pairs = [pair for pair in PAIRS if pair != "3-6"]
    eleven = [put("acr_f", "far", (pair, "3-6"), 200.0, 11.0) for pair in pairs]
    chosen = readings().with_("psacr-f-psfext-above-67-db")
    for lost, outcome in ((60.0, Outcome.FAIL), (61.0, Outcome.PASS)):
        changes = only_ratios(level(200.0, lost, *PAIRS))
        found, _ = judged(changes, *eleven, options={"interpretations": chosen})
        assert margin(found, "psacr_f", "far", "3-6").outcome is outcome


def test_a_fail_of_exported_acr_f_is_proved_where_fext_is_far_below_the_disputed_70_db() -> None:
    """Without a loss nobody knows whether the disputed reading leaves the point out."""
    between = put("acr_f", "far", ("1-2", "3-6"), 200.0, ACR_F_200)
    found, working = judged(only_ratios(), between, stating("fail"))
    assert margin(found, "acr_f", "far", "1-2", "3-6").outcome is Outcome.FAIL
    assert found.judgement is Judgement.UPHELD and not working.trials
    gone = without("insertion_loss", None, "1-2")
    blind, working = judged(only_ratios(), between, gone, stating("fail"))
    assert blind.recomputed is Recomputed.UNDECIDED
    assert [one.interpretation for one in working.trials] == ["acr-f-fext-above-70-db"]


def test_the_relaxation_of_a_short_link() -> None:
    """Class EA permanent link, NEXT at 500 MHz: 87.46 - 21.57 lg 500 = 29.24 dB.

    With less than 12 dB at 450 MHz it is 1.4 (500 - 450) / 50 = 1.4 dB less: 27.84 dB.
    """

    def short(body: dict[str, Any]) -> None:
        for one in body["results"]["sweeps"]:
            if one["parameter"] == "insertion_loss":
                one["value_db"] = (loss(grid()) * 0.4).round(2)

    assert 0.4 * loss(np.array([450.0]))[0] == pytest.approx(10.69, abs=0.01)
    between = put("next", "near", ("1-2", "3-6"), 500.0, 28.5)
    chosen = readings().with_(RELAXED)
    on, _ = judged(short, between, path=ISO, options={"interpretations": chosen})
    one = margin(on, "next", "near", "1-2", "3-6")
    assert one.outcome is Outcome.PASS
    assert one.limit_at_worst_margin_db == pytest.approx(27.84, abs=0.01)
    off, working = judged(short, between, path=ISO)
    assert margin(off, "next", "near", "1-2", "3-6").outcome is Outcome.FAIL
    assert off.recomputed is Recomputed.UNDECIDED
    assert RELAXED in [trial.interpretation for trial in working.trials]
    long, _ = judged(between, path=ISO, options={"interpretations": chosen})
    assert margin(long, "next", "near", "1-2", "3-6").outcome is Outcome.FAIL


def test_a_relaxation_that_hangs_on_a_point_that_is_not_there() -> None:
    """Without a point at 450 MHz nobody knows: it proves no pass and forbids the fail."""

    def change(body: dict[str, Any]) -> None:
        place = at(450.0)
        for one in body["results"]["sweeps"]:
            if one["parameter"] == "insertion_loss":
                one["gaps"] = [{"from": place, "to": place, "as_stated": "-", "reason": "missing"}]
                one["value_db"] = np.delete((loss(grid()) * 0.4).round(2), place)

    chosen = readings().with_(RELAXED)
    between = put("next", "near", ("1-2", "3-6"), 500.0, 28.5)
    found, _ = judged(change, between, path=ISO, options={"interpretations": chosen})
    assert margin(found, "next", "near", "1-2", "3-6").outcome is Outcome.UNDECIDED


def test_rounded_measured_values_can_save_a_fail() -> None:
    """Limit 17.9715 dB at 100 MHz (see test_resolution): 18.00 fails by 0.03, 17.9 passes.

    Rounded to 0.1 dB, 17.99 becomes 18.0 and still fails; 17.94 becomes 17.9.
    """
    chosen = readings().with_("values-rounded-to-one-decimal")
    for value, shown in ((17.99, 18.0), (17.94, 17.9), (17.95, 18.0)):
        found, _ = judged(
            put("insertion_loss", None, ("1-2",), 100.0, value),
            options={"interpretations": chosen},
        )
        one = margin(found, "insertion_loss", None, "1-2")
        assert one.worst_margin_db == pytest.approx(17.9715 - shown, abs=1e-9)


def test_a_rounding_that_would_turn_a_pass_leaves_it_unproven() -> None:
    """17.96 dB passes by 0.01; rounded to 18.0 it fails by 0.03."""
    found, working = judged(put("insertion_loss", None, ("1-2",), 100.0, 17.96))
    assert margin(found, "insertion_loss", None, "1-2").outcome is Outcome.PASS
    assert found.judgement is Judgement.UNPROVEN
    assert [trial.into for trial in working.trials] == ["fail"]


@pytest.mark.parametrize(("value", "unsettled"), [(17.84, True), (17.86, False)])
def test_rounding_is_tried_on_a_fail_that_it_could_save(value: float, unsettled: bool) -> None:
    """Limit of Class EA at 100 MHz: 17.2215 + 0.6 = 17.8215 dB.

    17.84 fails by 0.02, and passes as 17.8; 17.86 fails by 0.04, and as 17.9 by 0.08. With the
    limit rounded to 17.8 both fail.
    """
    found, working = judged(put("insertion_loss", None, ("1-2",), 100.0, value), path=ISO)
    assert margin(found, "insertion_loss", None, "1-2").outcome is Outcome.FAIL
    told = [trial.interpretation for trial in working.trials]
    assert told == (["values-rounded-to-one-decimal"] if unsettled else [])


def test_the_3_db_rule_is_not_tried_off() -> None:
    found, working = judged(bad_return_loss(3.1))
    assert found.recomputed is Recomputed.PASS
    assert working.trials == ()
    assert RL_3_DB in readings().ids()
