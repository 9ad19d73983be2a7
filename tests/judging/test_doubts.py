"""Figures that no link can have keep a pass from being proved; those that are usual do not."""

from typing import Any

import numpy as np
import pytest

from sweepbook.judging.assessment import Judgement, Outcome
from sweepbook.judging.physics import LIGHT_M_PER_NS
from sweepbook.judging.working import DoubtKind
from sweepbook_demo.parts import JACK_6A, WEFT_6A, WEFT_CORD
from sweepbook_demo.plant import CablePiece, Piece, solve, wire_resistance_ohm

from .links import F64, ISO, PAIRS, TIA, Change, at, find, grid, judged, put, scalar, scale, stating
from .test_physics import BOUNDS, round_wire_loop_ohm_per_m


def figure(parameter: str, position: int = 0, **values: Any) -> Change:
    """Change members of one figure of a parameter."""

    def change(body: dict[str, Any]) -> None:
        found = [one for one in body["results"]["scalars"] if one["parameter"] == parameter]
        found[position].update(values)

    return change


def every(parameter: str, **values: Any) -> Change:
    def change(body: dict[str, Any]) -> None:
        for one in body["results"]["scalars"]:
            if one["parameter"] == parameter:
                one.update(values)

    return change


def without_figures(*parameters: str) -> Change:
    def change(body: dict[str, Any]) -> None:
        kept = [s for s in body["results"]["scalars"] if s["parameter"] not in parameters]
        body["results"]["scalars"] = kept

    return change


def losing(values: F64 | float, *pairs: str) -> Change:
    """Give pairs another insertion loss, or all of them."""

    def change(body: dict[str, Any]) -> None:
        for row, pair in enumerate(pairs or PAIRS):
            one = find(body, "insertion_loss", None, pair)
            one["value_db"] = np.round(np.zeros(grid().size) + values, 2)
            one["value_db"][5::11] += 0.01 * row  # no two measurements are the same

    return change


def divided(by: float) -> Change:
    def change(body: dict[str, Any]) -> None:
        for row, pair in enumerate(PAIRS):
            one = find(body, "insertion_loss", None, pair)
            one["value_db"] = (one["value_db"] / by).round(2)
            one["value_db"][5::11] += 0.01 * row

    return change


def test_the_good_link_is_not_doubted() -> None:
    found, working = judged()
    assert found.judgement is Judgement.UPHELD
    assert working.doubts == ()


@pytest.mark.parametrize(
    ("change", "kind", "words"),
    [
        (figure("propagation_delay", delay_ns=0), "impossible", "delay 1-2 is 0 ns"),
        (figure("propagation_delay", delay_ns=-290), "impossible", "delay 1-2 is -290 ns"),
        (figure("length", 1, length_m=0.0), "impossible", "length 3-6 is 0 m"),
        (figure("dc_loop_resistance", 2, resistance_ohm=0.0), "impossible", "4-5 is 0 ohm"),
        (
            put("insertion_loss", None, ("3-6",), 100.0, -0.01),
            "impossible",
            "insertion loss 3-6 is -0.01 dB at 100 MHz, and no link amplifies",
        ),
        (losing(0.0, "7-8"), "impossible", "insertion loss 7-8 is above 0 dB nowhere"),
        # 58 m of 290 ns called 190 m, as 58 m are 190 feet
        (figure("length", length_m=190.0), "impossible", "2.19 times the speed of light"),
        (figure("propagation_delay", delay_ns=0.29, decimals=2), "impossible", "0.29 ns"),
        # 58 m called 17.7 m, as 58 feet are 17.7 m
        (figure("length", length_m=17.7), "contradiction", "0.20 times the speed of light"),
        (figure("propagation_delay", delay_ns=290000), "contradiction", "0.00 times"),
        (figure("length", length_m=0.058, decimals=3), "contradiction", "no link is below 0.3 m"),
        # a hundredth, and a tenth, of what the cable loses
        (divided(100.0), "contradiction", "insertion loss 1-2, 0.28 dB at 500 MHz, and 58 m"),
        (divided(10.0), "contradiction", "copper alone loses 14.59 dB"),
        (put("insertion_loss", None, ("1-2",), 100.0, 0.02), "contradiction", "0.02 dB at 100 MHz"),
        (
            figure("dc_loop_resistance", resistance_ohm=0.0076, decimals=4),
            "contradiction",
            "0.0076 ohm in the loop and 58 m of pair 1-2 contradict each other",
        ),
    ],
)
def test_no_pass_is_upheld_by_figures_that_no_link_has(
    change: Change, kind: str, words: str
) -> None:
    found, working = judged(change)
    assert found.judgement in (Judgement.UNPROVEN, Judgement.OVERTURNED)
    assert [doubt for doubt in working.doubts if doubt.kind == kind and words in doubt.text]
    if found.judgement is Judgement.UNPROVEN:
        assert any(doubt.text in found.reason for doubt in working.doubts)


def test_the_delay_in_another_unit_is_seen_beside_the_loss_where_no_length_is_stated() -> None:
    """2900 ns are 478 m at least: copper of 478 m loses more than these sweeps show."""
    found, working = judged(without_figures("length"), every("propagation_delay", delay_ns=2900))
    assert any("2900 ns of pair 1-2 contradict" in doubt.text for doubt in working.doubts)
    assert found.judgement is Judgement.UNPROVEN  # and no fail either, by such delays


def test_a_delay_in_microseconds_is_seen_without_a_length() -> None:
    """0.65 ns, as 0.65 us were called: light goes 0.19 m in it."""
    short = every("propagation_delay", delay_ns=0.65, decimals=2)
    found, working = judged(without_figures("length"), short, path=ISO)
    assert found.judgement is Judgement.UNPROVEN
    assert any("light goes 0.19 m" in doubt.text for doubt in working.doubts)


def test_an_impossible_length_proves_no_fail() -> None:
    """190 m fail the limit of 99 m, but 290 ns say that they are feet."""
    changes = [figure("length", row, length_m=190.0) for row in range(4)]
    found, _ = judged(*changes, stating("fail"))
    assert found.judgement is Judgement.UNPROVEN
    (length,) = [one for one in found.scalars if one.parameter == "length"]
    assert length.outcome is Outcome.UNDECIDED
    assert "speed of light" in length.reason


def test_a_fail_of_another_figure_stands_beside_an_impossible_one() -> None:
    fail = put("next", "near", ("1-2", "3-6"), 100.0, 20.0)
    found, working = judged(fail, figure("length", length_m=190.0), stating("fail"))
    assert found.judgement is Judgement.UPHELD
    assert any(doubt.kind is DoubtKind.IMPOSSIBLE for doubt in working.doubts)


@pytest.mark.parametrize("parameter", ["return_loss", "next", "fext"])
def test_losses_with_the_sign_of_a_gain_prove_nothing(parameter: str) -> None:
    def change(body: dict[str, Any]) -> None:
        for one in body["results"]["sweeps"]:
            if one["parameter"] == parameter:
                one["value_db"] = -one["value_db"]

    for verdict in ("pass", "fail"):
        found, working = judged(change, stating(verdict))
        assert found.judgement is Judgement.UNPROVEN
        assert "below 0 dB at every point" in working.doubts[0].text


@pytest.mark.parametrize("path", [ISO, TIA])
def test_one_reflection_below_0_is_noise_and_still_fails(path: str) -> None:
    """An open pair reflects everything: its return loss is 0 dB, and noise takes it below."""
    change = put("return_loss", "near", ("1-2",), 100.0, -0.05)
    found, working = judged(change, path=path)
    assert found.judgement is Judgement.OVERTURNED
    assert working.doubts == ()


@pytest.mark.parametrize(
    ("parameter", "times", "words"),
    [
        ("return_loss", 10.0, "dB or more at every point, and no tester reads 60 dB throughout"),
        ("next", 10.0, "no tester reads 120 dB throughout"),
        ("fext", 10.0, "no tester reads 120 dB throughout"),
    ],
)
def test_a_loss_beyond_every_tester_proves_no_pass(
    parameter: str, times: float, words: str
) -> None:
    def change(body: dict[str, Any]) -> None:
        for one in body["results"]["sweeps"]:
            if one["parameter"] == parameter:
                one["value_db"] = (times * one["value_db"]).round(2)

    found, working = judged(change)
    assert found.judgement is Judgement.UNPROVEN
    assert words in working.doubts[0].text
    assert words in found.reason


def test_a_loss_that_is_great_at_some_points_is_not_doubted() -> None:
    """A resonance that cancels: return loss of a matched pair has deep notches."""

    def change(body: dict[str, Any]) -> None:
        find(body, "return_loss", "near", "1-2")["value_db"][100:900] = 75.0 + 0.01 * np.arange(800)

    assert judged(change)[1].doubts == ()


def copied(parameter: str, end: str, first: tuple[str, ...], second: tuple[str, ...]) -> Change:
    """Give one curve the figures of another."""

    def change(body: dict[str, Any]) -> None:
        source = find(body, parameter, end, *first)["value_db"]
        find(body, parameter, end, *second)["value_db"] = source.copy()

    return change


def test_two_curves_that_are_the_same_prove_no_pass_and_hide_no_fail() -> None:
    copy = copied("next", "far", ("1-2", "3-6"), ("4-5", "7-8"))
    found, working = judged(copy)
    assert found.judgement is Judgement.UNPROVEN
    (doubt,) = working.doubts
    assert (doubt.kind, doubt.path) == (DoubtKind.COPY, "$.results.sweeps[18]")
    assert doubt.text == (
        "NEXT 1-2 to 3-6 at the far end and NEXT 4-5 to 7-8 at the far end are the same at all of "
        "1028 points, and no two measurements are"
    )
    fail = put("next", "near", ("1-2", "3-6"), 100.0, 20.0)
    assert judged(copy, fail)[0].judgement is Judgement.OVERTURNED


def test_a_column_read_for_another_parameter_is_a_twin_too() -> None:
    """Return loss as NEXT has it passes every limit of return loss, and was not measured."""

    def change(body: dict[str, Any]) -> None:
        source = find(body, "next", "near", "1-2", "3-6")["value_db"]
        find(body, "return_loss", "near", "1-2")["value_db"] = source.copy()

    found, working = judged(change)
    assert found.judgement is Judgement.UNPROVEN
    assert "return loss 1-2 at the near end and NEXT 1-2 to 3-6" in working.doubts[0].text


def test_twins_are_told_once_for_all_of_their_names() -> None:
    def change(body: dict[str, Any]) -> None:
        first = find(body, "return_loss", "near", "1-2")["value_db"]
        for one in body["results"]["sweeps"]:
            if one["parameter"] == "return_loss":
                one["value_db"] = first.copy()

    (doubt,) = judged(change)[1].doubts
    assert "(and 6 more curves)" in doubt.text


def test_insertion_loss_of_one_pair_under_the_name_of_another() -> None:
    """60 m run through 1028 different values: two pairs of a cable are never alike in all."""

    def copy(body: dict[str, Any]) -> None:
        source = find(body, "insertion_loss", None, "1-2")["value_db"]
        find(body, "insertion_loss", None, "7-8")["value_db"] = source.copy()

    found, working = judged(copy)
    assert found.judgement is Judgement.UNPROVEN
    (doubt,) = working.doubts
    assert doubt.kind is DoubtKind.COPY
    assert "insertion loss 1-2 and insertion loss 7-8 are the same at all of" in doubt.text


def test_insertion_loss_of_a_pair_may_be_the_same_from_both_ends() -> None:
    def both(body: dict[str, Any]) -> None:
        for pair in PAIRS:
            one = find(body, "insertion_loss", None, pair)
            one["end"] = "near"
            body["results"]["sweeps"].append({**one, "end": "far"})

    found, working = judged(both)
    assert working.doubts == ()
    assert found.judgement is Judgement.UPHELD


@pytest.mark.parametrize(("every", "alike"), [(25, True), (15, False)])
@pytest.mark.parametrize("off_db", [0.0, 0.03, -0.04])
@pytest.mark.parametrize("what", [("next", "far", ("1-2", "3-6"), ("4-5", "7-8"))])
def test_a_copy_with_a_few_points_changed_or_a_little_added_is_a_copy(
    what: tuple[str, str, tuple[str, ...], tuple[str, ...]], off_db: float, every: int, alike: bool
) -> None:
    """96 percent of the points are the same, or 93; the offset is three last digits, or four."""

    def change(body: dict[str, Any]) -> None:
        one = find(body, what[0], what[1], *what[3])
        one["value_db"] = (one["value_db"] + off_db).round(2)
        one["value_db"][::every] += 1.0

    found, working = judged(copied(*what), change)
    assert bool(working.doubts) is (alike and off_db > -0.04)
    if working.doubts:
        assert found.judgement is Judgement.UNPROVEN
        assert "at 986 of 1028 points" in working.doubts[0].text
        assert ("the same but for 0.03 dB at" in working.doubts[0].text) is (off_db != 0.0)


def test_a_copy_given_as_clipped_is_a_copy() -> None:
    """Each number of the one as "at least" under the name of the other."""

    def clipped(body: dict[str, Any]) -> None:
        one = find(body, "next", "far", "4-5", "7-8")
        one["bounds"] = [{"from": 0, "to": grid().size - 1, "bound": "at_least"}]

    doubts = judged(copied("next", "far", ("1-2", "3-6"), ("4-5", "7-8")), clipped)[1].doubts
    assert [doubt.kind for doubt in doubts].count(DoubtKind.COPY) == 1


def two_metres(body: dict[str, Any]) -> None:
    """All four pairs with the same loss in every digit: no more than 93 different values."""
    scale(body, 2.0 / 58.0)
    for pair in PAIRS:
        one = find(body, "insertion_loss", None, pair)
        one["value_db"] = (2.0 / 60.0 * (1.15 * np.sqrt(grid()) + 0.0052 * grid())).round(2)


def test_insertion_losses_and_clipped_readings_may_be_the_same() -> None:
    """Short pairs agree in their loss, and two that are beyond the tester's range say so alike."""

    def clipped(body: dict[str, Any]) -> None:
        for pairs in (("1-2", "3-6"), ("4-5", "7-8")):
            one = find(body, "next", "far", *pairs)
            one["value_db"][: at(250.0)] = 90.0
            one["bounds"] = [{"from": 0, "to": at(250.0) - 1, "bound": "at_least"}]

    assert judged(two_metres, clipped)[1].doubts == ()


@pytest.mark.parametrize(
    ("parameter", "values", "words"),
    [
        ("delay_skew", {"delay_ns": -9, "decimals": 0}, "delay skew 1-2 is -9 ns"),
        (
            "dc_resistance_unbalance_within_pair",
            {"unbalance_percent": -4.0, "decimals": 1},
            "DC resistance unbalance within the pair 1-2 is -4 %",
        ),
    ],
)
def test_a_magnitude_below_0_proves_no_pass(
    parameter: str, values: dict[str, float], words: str
) -> None:
    def change(body: dict[str, Any]) -> None:
        body["results"]["scalars"].append(scalar(parameter, "1-2", **values))

    found, _ = judged(change)
    assert found.judgement is Judgement.UNPROVEN
    assert words in found.reason


def link_of(length_m: float, nvp: float, loop_ohm: float, loss_db: F64, decimals: int) -> Change:
    """A link with these figures on every pair, printed as testers do."""

    def change(body: dict[str, Any]) -> None:
        scalars: list[dict[str, Any]] = []
        delay = length_m / (nvp * LIGHT_M_PER_NS)
        for pair in PAIRS:
            scalars.append(scalar("length", pair, length_m=round(length_m, 1), decimals=1))
            scalars.append(scalar("propagation_delay", pair, delay_ns=round(delay), decimals=0))
            ohm = round(loop_ohm, decimals)
            item = scalar("dc_loop_resistance", pair, resistance_ohm=ohm, decimals=decimals)
            scalars.append(item)
        body["results"]["scalars"] = scalars
        for row, pair in enumerate(PAIRS):
            one = find(body, "insertion_loss", None, pair)
            one["value_db"], one["decimals"] = loss_db.round(decimals), decimals
            one["value_db"][5::11] += row * 10.0**-decimals

    return change


@pytest.mark.parametrize("decimals", [1, 2])
@pytest.mark.parametrize("length_m", [2.0, 5.0, 30.0, 88.0])
@pytest.mark.parametrize("nvp", [0.61, 0.69, 0.85])
def test_the_best_cable_that_can_be_is_not_doubted(
    length_m: float, nvp: float, decimals: int
) -> None:
    """Solid copper of 22 AWG, nothing lost in the insulation: exact solution for round wires."""
    loop = round_wire_loop_ohm_per_m(BOUNDS.conductor_thickest_mm, np.append(grid(), 1e-9))
    loss = 10.0 / np.log(10.0) * loop[:-1] / 100.0 * length_m
    change = link_of(length_m, nvp, loop[-1] * length_m, loss, decimals)
    found, working = judged(change)
    assert working.doubts == ()
    assert found.judgement is Judgement.UPHELD


@pytest.mark.parametrize(
    ("cable", "length_m"), [(WEFT_CORD, 0.5), (WEFT_CORD, 2.0), (WEFT_6A, 5.0), (WEFT_6A, 80.0)]
)
def test_links_of_the_model_are_not_doubted(cable: Any, length_m: float) -> None:
    """Between two connectors, by a transmission-line model that knows nothing of these bounds."""
    pieces: list[Piece] = [JACK_6A, CablePiece(cable, length_m), JACK_6A]
    through = solve(pieces, grid(), seed=7).s21
    loss = -20.0 * np.log10(np.abs(through[:, 0, 0]))
    loop = float(wire_resistance_ohm(pieces, seed=7)[0].sum())
    _, working = judged(link_of(length_m, cable.velocity, loop, loss, 2))
    assert [doubt for doubt in working.doubts if doubt.bars] == []
    if length_m >= 2.0:
        assert working.doubts == ()


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (figure("length", length_m=82.0), "0.94 times the speed of light, outside the usual"),
        (figure("length", length_m=43.0), "0.49 times the speed of light, outside the usual"),
        (figure("dc_loop_resistance", resistance_ohm=5.0), "5 ohm in the loop and 58 m"),
        (figure("dc_loop_resistance", resistance_ohm=60.0), "even a thin conductor"),
        (divided(2.8), "hardly agree"),
    ],
)
def test_what_is_only_unusual_is_said_and_changes_nothing(change: Change, words: str) -> None:
    found, working = judged(change)
    assert {doubt.kind for doubt in working.doubts} == {DoubtKind.IMPLAUSIBLE}
    assert any(words in doubt.text for doubt in working.doubts)
    assert found.judgement is Judgement.UPHELD


def test_points_outside_the_range_of_the_limit_are_not_doubted() -> None:
    def change(body: dict[str, Any]) -> None:
        results = body["results"]
        results["grids"][0]["frequency_mhz"] = np.append(grid(), 501.0)
        for one in results["sweeps"]:
            one["value_db"] = np.append(one["value_db"], -1.0)

    found, working = judged(change)
    assert found.judgement is Judgement.UPHELD
    assert working.doubts == ()


def test_a_swept_delay_of_0_is_impossible_and_names_the_frequency() -> None:
    def change(body: dict[str, Any]) -> None:
        others = [s for s in body["results"]["scalars"] if s["parameter"] != "propagation_delay"]
        body["results"]["scalars"] = others
        for pair in PAIRS:
            values = np.full(grid().size, 290.0)
            if pair == "4-5":
                values[at(200.0)] = 0.0
            head = {"parameter": "propagation_delay", "pairs": [pair], "grid": "g", "decimals": 0}
            body["results"]["sweeps"].append({**head, "delay_ns": values})

    found, working = judged(change)
    assert [doubt.text for doubt in working.doubts] == [
        "propagation delay 4-5 is 0 ns at 200 MHz, and no link has that"
    ]
    assert found.judgement is Judgement.UNPROVEN


@pytest.mark.parametrize("form", ["real-imaginary", "magnitude-phase"])
def test_an_s_parameter_of_zeros_is_an_empty_field_and_proves_no_pass(form: str) -> None:
    zeros = np.zeros(grid().size)
    names = {"real-imaginary": ("real", "imaginary"), "magnitude-phase": ("magnitude", "phase_deg")}

    def change(body: dict[str, Any]) -> None:
        one = find(body, "return_loss", "near", "1-2")
        del one["value_db"]
        one["decimals"] = 6
        one["complex"] = {"form": form, "reference_ohm": 100, **dict.fromkeys(names[form], zeros)}

    found, _ = judged(change)
    assert found.judgement is Judgement.UNPROVEN
    assert "return loss 1-2 at the near end is zero at every point" in found.reason


def test_a_loss_beyond_all_bounds_at_some_points_hides_no_nearest_margin() -> None:
    def change(body: dict[str, Any]) -> None:
        one = find(body, "return_loss", "near", "1-2")
        size = 10.0 ** (-one.pop("value_db") / 20.0)
        size[5] = 0.0
        one["decimals"] = 6
        one["complex"] = {
            "form": "magnitude-phase",
            "reference_ohm": 100,
            "magnitude": size.round(6),
            "phase_deg": np.zeros(size.size),
        }

    found, _ = judged(change)
    assert found.judgement is Judgement.UPHELD
    assert "dB better than the limit" in found.reason
