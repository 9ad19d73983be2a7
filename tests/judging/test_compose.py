"""Which raw curves make which derived one."""

from itertools import permutations
from typing import Any

import numpy as np
import pytest

from sweepbook.judging.assessment import Judgement, Origin, Outcome, Recomputed
from sweepbook.judging.compose import acr_f, recompute
from sweepbook.judging.curves import Curves, Key
from sweepbook.judging.directions import reciprocal_fext
from sweepbook.judging.measured import measured
from sweepbook.judging.working import LackKind

from .links import (
    ISO,
    ORDERS_DB,
    PAIRS,
    Change,
    adding,
    find,
    grid,
    judged,
    loss,
    margin,
    put,
    record,
    scalar,
    sweep,
    without,
)


def curves(*changes: Change) -> dict[str, Curves]:
    return measured(record(*changes).document, ORDERS_DB)[0]


def value(found: Curves, end: str | None, *pairs: str) -> np.ndarray:
    return found.curve(found.keys.index(Key(found.parameter, end, pairs))).value


def level(parameter: str, end: str | None, pairs: tuple[str, ...], db: float) -> Change:
    """Set a whole curve to one value."""

    def change(body: dict[str, Any]) -> None:
        find(body, parameter, end, *pairs)["value_db"][:] = db

    return change


def test_psnext_takes_the_three_combinations_of_its_pair_at_its_end() -> None:
    changes = [
        level("next", "far", ("1-2", "3-6"), 30.0),
        level("next", "far", ("3-6", "4-5"), 40.0),
        level("next", "far", ("3-6", "7-8"), 50.0),
    ]
    made = recompute(curves(*changes))["psnext"]
    assert len(made.keys) == 8
    # -10 lg (10^-3 + 10^-4 + 10^-5), see test_derive.
    assert value(made, "far", "3-6") == pytest.approx(29.546770212, abs=1e-9)
    near = np.array([curves()["next"].value[0, 0]])
    assert value(made, "near", "3-6")[0] == pytest.approx(near[0] - 4.771212547, abs=1e-9)


def test_acr_n_takes_the_insertion_loss_of_the_disturbed_pair() -> None:
    changes = [
        level("next", "near", ("1-2", "3-6"), 60.0),
        level("insertion_loss", None, ("1-2",), 7.0),
        level("insertion_loss", None, ("3-6",), 11.0),
    ]
    made = recompute(curves(*changes))["acr_n"]
    assert len(made.keys) == 24
    assert value(made, "near", "1-2", "3-6") == pytest.approx(60.0 - 11.0)
    assert value(made, "near", "3-6", "1-2") == pytest.approx(60.0 - 7.0)


def test_far_end_crosstalk_of_the_other_end_by_reciprocity() -> None:
    changes = [
        level("fext", "far", ("1-2", "3-6"), 70.0),
        level("insertion_loss", None, ("1-2",), 7.0),
        level("insertion_loss", None, ("3-6",), 11.0),
    ]
    made = recompute(curves(*changes))["acr_f"]
    assert len(made.keys) == 24
    # Driven on 1-2 at the near end and received on 3-6 at the far end, 70 dB; the other way
    # round it is the same 70 dB, received on 1-2 at the near end.
    assert value(made, "far", "1-2", "3-6") == pytest.approx(70.0 - 11.0)
    assert value(made, "near", "3-6", "1-2") == pytest.approx(70.0 - 7.0)


def test_what_was_measured_at_an_end_goes_before_reciprocity() -> None:
    own = sweep("fext", "near", ("3-6", "1-2"), np.full(grid().size, 66.0))
    found = curves(adding(own), level("fext", "far", ("1-2", "3-6"), 70.0))
    rows = reciprocal_fext(found["fext"].keys)
    assert found["fext"].value[rows["near", "3-6", "1-2"], 0] == 66.0
    assert found["fext"].value[rows["far", "1-2", "3-6"], 0] == 70.0


def test_of_next_in_both_orders_the_smaller_counts_and_far_apart_they_prove_no_pass() -> None:
    turned = sweep("next", "near", ("3-6", "1-2"), np.full(grid().size, 58.0))
    changes = [adding(turned), level("next", "near", ("1-2", "3-6"), 60.0)]
    changes += [level("insertion_loss", None, (pair,), 7.0) for pair in PAIRS]
    made = recompute(curves(*changes))["acr_n"]
    for pairs in (("1-2", "3-6"), ("3-6", "1-2")):
        assert value(made, "near", *pairs) == pytest.approx(58.0 - 7.0)
        assert made.repeated[made.keys.index(Key("acr_n", "near", pairs))]


def test_psacr_f_by_the_disturbed_pair_is_psfext_less_its_insertion_loss() -> None:
    """field-rules: with IL of the disturbed pair PSACR-F equals PSFEXT - IL exactly."""
    found = curves()
    made = recompute(found)
    ratio = acr_f(found["fext"], found["insertion_loss"])
    assert ratio is not None
    for end, pair in (("near", "4-5"), ("far", "1-2")):
        powers = sum(10 ** (-value(ratio, end, i, pair) / 10) for i in PAIRS if i != pair)
        assert value(made["psacr_f"], end, pair) == pytest.approx(-10 * np.log10(powers), abs=1e-9)


def test_the_insertion_loss_of_the_same_end_is_taken_where_there_is_one() -> None:
    own = sweep("insertion_loss", "near", ["3-6"], np.full(grid().size, 9.0))
    changes = [adding(own), level("next", "near", ("1-2", "3-6"), 60.0)]
    changes.append(level("insertion_loss", None, ("3-6",), 11.0))
    changes.append(level("next", "far", ("1-2", "3-6"), 60.0))
    made = recompute(curves(*changes))["acr_n"]
    assert value(made, "near", "1-2", "3-6") == pytest.approx(60.0 - 9.0)
    assert value(made, "far", "1-2", "3-6") == pytest.approx(60.0 - 11.0)


def test_a_power_sum_with_a_combination_missing_is_refused() -> None:
    made = recompute(curves(without("next", "near", "3-6", "4-5")))["psnext"]
    keys = {(key.end, key.pairs[0]) for key in made.keys}
    assert ("near", "3-6") not in keys
    assert ("near", "4-5") not in keys
    assert ("near", "1-2") in keys
    assert ("far", "3-6") in keys


def test_a_fifth_disturber_is_not_left_out_of_the_sum() -> None:
    stray = sweep("next", "near", ("1-2", "2-7"), np.full(grid().size, 10.0))
    made = recompute(curves(adding(stray)))["psnext"]
    # 10 dB drowns the rest; and the other pairs lack their combination with it.
    assert value(made, "near", "1-2")[-1] == pytest.approx(10.0, abs=0.01)
    assert Key("psnext", "near", ("3-6",)) not in made.keys


def test_the_missing_sum_leaves_the_record_unproven() -> None:
    found, working = judged(without("next", "near", "3-6", "4-5"))
    assert found.recomputed is Recomputed.UNDECIDED
    kinds = {(lack.parameter, lack.end, lack.pairs, lack.kind) for lack in working.lacks}
    assert ("next", "near", ("3-6", "4-5"), LackKind.PAIRS) in kinds
    assert ("psnext", "near", ("3-6",), LackKind.PAIRS) in kinds
    assert ("psnext", "near", ("4-5",), LackKind.PAIRS) in kinds
    assert len(kinds) == 3


def exported_acr_f() -> list[dict[str, Any]]:
    """ACR-F of both ends, as a source without raw FEXT would export it."""
    lines = 80.0 - 20.0 * np.log10(grid())
    found = [
        sweep("acr_f", end, ik, lines) for end in ("near", "far") for ik in permutations(PAIRS, 2)
    ]
    for number, one in enumerate(found):
        one["value_db"][5::11] += 0.01 * number  # no two measurements are the same
    return found


def test_exported_acr_f_under_two_names_proves_no_pass() -> None:
    exported = exported_acr_f()
    exported[1]["value_db"] = exported[0]["value_db"].copy()
    found, working = judged(without("fext"), adding(*exported))
    assert found.judgement is Judgement.UNPROVEN
    assert [doubt.kind for doubt in working.doubts] == ["copy"]


def test_without_raw_curves_the_exported_ones_are_judged_and_say_so() -> None:
    found, _ = judged(without("fext"), adding(*exported_acr_f()))
    assert found.recomputed is Recomputed.PASS
    assert margin(found, "acr_f", "near", "1-2", "3-6").origin is Origin.AS_EXPORTED
    # Power sums are arithmetic of ours, on exported ACR-F.
    assert margin(found, "psacr_f", "near", "1-2").origin is Origin.RECOMPUTED


def test_exported_acr_f_of_one_end_is_not_turned_round() -> None:
    """Whose insertion loss the source took is not known, so there is no way to the other end."""
    found, working = judged(without("fext"), adding(*exported_acr_f()[12:]))
    assert found.recomputed is Recomputed.UNDECIDED
    ends = {(lack.parameter, lack.end, lack.kind) for lack in working.lacks}
    assert ("acr_f", "near", LackKind.END) in ends


@pytest.mark.parametrize(
    ("raw", "power_sum", "ratio"),
    [("next", "psnext", "psacr_n"), ("fext", "psfext", "psacr_f")],
)
def test_an_exported_power_sum_hides_no_fail_of_the_ratio_made_from_it(
    raw: str, power_sum: str, ratio: str
) -> None:
    """A power sum of 5 dB less an insertion loss of some dB is below any limit."""
    poor = [sweep(power_sum, "near", [pair], np.full(grid().size, 5.0)) for pair in PAIRS]
    good = [sweep(ratio, "near", [pair], np.full(grid().size, 90.0)) for pair in PAIRS]
    found, _ = judged(without(raw), adding(*poor, *good), path=ISO)
    for pair in PAIRS:
        one = margin(found, ratio, "near", pair)
        assert one.outcome is Outcome.FAIL
        assert one.origin is Origin.AS_EXPORTED
        assert one.worst_value_db == pytest.approx(5.0 - loss(grid()).max(), abs=0.02)


def test_exported_power_sums_fill_the_gaps_of_the_raw_ones_only() -> None:
    def change(body: dict[str, Any]) -> None:
        one = find(body, "next", "near", "1-2", "3-6")
        one["gaps"] = [{"from": 0, "to": 9, "as_stated": "-", "reason": "missing"}]
        one["value_db"] = one["value_db"][10:]

    exported = sweep("psnext", "near", ["1-2"], np.full(grid().size, 70.0))
    found, working = judged(change, adding(exported), path=ISO)
    judged_curve = working.judged[Key("psacr_n", "near", ("1-2",))]
    assert judged_curve.value[:10] == pytest.approx(70.0 - loss(grid()[:10]), abs=0.01)
    rest = working.recomputed[Key("psacr_n", "near", ("1-2",))]
    assert judged_curve.value[10:] == pytest.approx(rest.value)
    assert margin(found, "psacr_n", "near", "1-2").origin is Origin.AS_EXPORTED


def test_recomputed_and_exported_agree_within_their_digits() -> None:
    made = recompute(curves())["psnext"]
    exported = sweep("psnext", "far", ["1-2"], value(made, "far", "1-2"))
    _, working = judged(adding(exported))
    assert working.disagreements == ()


def test_where_they_differ_the_recomputed_one_decides() -> None:
    made = recompute(curves())["psnext"]
    better = sweep("psnext", "far", ["1-2"], value(made, "far", "1-2") + 3.0)
    found, working = judged(adding(better))
    (fact,) = working.disagreements
    assert (fact.key, fact.points) == (Key("psnext", "far", ("1-2",)), grid().size)
    assert fact.path == "$.results.sweeps[36]"
    assert fact.exported - fact.recomputed == pytest.approx(3.0, abs=0.006)
    assert fact.cause == ""
    one = margin(found, "psnext", "far", "1-2")
    assert one.origin is Origin.RECOMPUTED
    assert one.worst_value_db == pytest.approx(value(made, "far", "1-2").min())


def test_an_exported_curve_that_fails_and_is_not_reproduced_leaves_a_pass_unproven() -> None:
    """One of the two is wrong, and nothing tells which: the order of the pairs may be mistaken."""
    exported = exported_acr_f()
    exported[0]["value_db"] = np.full(grid().size, 20.0)
    found, working = judged(adding(*exported))
    assert working.disagreements
    assert found.judgement is Judgement.UNPROVEN
    assert "exported ACR-F 1-2 to 3-6 at the near end" in found.reason
    assert "worse than the limit" in found.reason
    assert "the raw figures do not yield that" in found.reason
    fail, _ = judged(adding(*exported), put("next", "near", ("1-2", "3-6"), 100.0, 20.0))
    assert fail.judgement is Judgement.OVERTURNED


def test_an_exported_curve_that_passes_too_changes_nothing() -> None:
    exported = exported_acr_f()
    for one in exported:
        one["value_db"] = one["value_db"] + 20.0
    found, working = judged(adding(*exported))
    assert working.disagreements
    assert found.judgement is Judgement.UPHELD


def test_an_exported_skew_that_fails_and_is_not_reproduced_leaves_a_pass_unproven() -> None:
    def change(body: dict[str, Any]) -> None:
        body["results"]["scalars"] += [
            scalar("delay_skew", "7-8", delay_ns=70, decimals=0),
            scalar("delay_skew", "7-8", delay_ns=30, decimals=0),
        ]

    found, _ = judged(change)
    assert found.judgement is Judgement.UNPROVEN
    assert "exported delay skew 7-8" in found.reason


def test_an_export_by_the_disturbing_pair_is_told_so() -> None:
    changes = []
    for row, pair in enumerate(PAIRS):
        lines = (1.0 + 0.05 * row) * loss(grid())

        def change(body: dict[str, Any], pair: str = pair, lines: np.ndarray = lines) -> None:
            find(body, "insertion_loss", None, pair)["value_db"][:] = lines.round(2)

        changes.append(change)
    found = curves(*changes)
    swapped = acr_f(found["fext"], found["insertion_loss"], by="disturbing")
    assert swapped is not None
    exported = sweep("acr_f", "far", ("1-2", "7-8"), value(swapped, "far", "1-2", "7-8"))
    _, working = judged(*changes, adding(exported))
    (fact,) = working.disagreements
    assert fact.cause == "disturbing pair's insertion loss"
    # At 500 MHz the losses differ by 0.15 * (1.15 sqrt 500 + 0.0052 * 500) = 4.25 dB.
    assert fact.exported - fact.recomputed == pytest.approx(4.25, abs=0.02)


def test_arithmetic_across_grids_only_at_shared_points() -> None:
    def change(body: dict[str, Any]) -> None:
        other = np.append(grid()[::2], 500.5)
        body["results"]["grids"].append({"id": "h", "frequency_mhz": other})
        one = find(body, "insertion_loss", None, "3-6")
        one.update(grid="h", value_db=loss(other).round(2))

    made = recompute(curves(change))["acr_n"]
    one = made.curve(made.keys.index(Key("acr_n", "near", ("1-2", "3-6"))))
    assert np.array_equal(one.frequency_mhz, grid()[::2])
    two = made.curve(made.keys.index(Key("acr_n", "near", ("3-6", "1-2"))))
    assert np.array_equal(two.frequency_mhz, grid())


def noisy_next(body: dict[str, Any]) -> None:
    """All NEXT in the other order too, a digit off, as a tester that drives every pair has it."""
    for row, one in enumerate([s for s in body["results"]["sweeps"] if s["parameter"] == "next"]):
        noise = np.random.default_rng(row).integers(-1, 2, grid().size) * 0.01
        other = {**one, "pairs": one["pairs"][::-1], "value_db": (one["value_db"] + noise).round(2)}
        body["results"]["sweeps"].append(other)


def test_next_measured_in_both_orders_passes_where_both_do_and_fails_where_both_do() -> None:
    found, working = judged(noisy_next)
    assert found.judgement is Judgement.UPHELD
    assert working.doubts == ()
    one = put("next", "near", ("1-2", "3-6"), 100.0, 20.0)
    other = put("next", "near", ("3-6", "1-2"), 100.0, 20.0)
    assert judged(noisy_next, one)[0].recomputed is Recomputed.UNDECIDED
    assert judged(noisy_next, other)[0].recomputed is Recomputed.UNDECIDED
    assert judged(noisy_next, one, other)[0].recomputed is Recomputed.FAIL
