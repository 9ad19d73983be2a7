"""Length, delay, skew, resistance: single figures against their limits."""

from typing import Any

import pytest

from sweepbook.judging.assessment import Assessment, Judgement, Origin, Outcome, ScalarMargin
from sweepbook.judging.working import Lack, LackKind

from .links import ISO, PAIRS, TIA, TIA_CHANNEL, Change, grid, judged, scalar


def figure(found: Assessment, parameter: str, pair: str | None) -> ScalarMargin:
    here = [s for s in found.scalars if (s.parameter, s.pair) == (parameter, pair)]
    assert len(here) == 1
    return here[0]


DELAY = "propagation_delay"


def figures(parameter: str, *items: dict[str, Any]) -> Change:
    """Put figures in the place of those of a parameter."""

    def change(body: dict[str, Any]) -> None:
        others = [s for s in body["results"]["scalars"] if s["parameter"] != parameter]
        body["results"]["scalars"] = [*others, *items]

    return change


def lengths(*metres: float, decimals: int = 1) -> Change:
    """These lengths, with delays of 4.8 ns a metre to go with them."""

    def change(body: dict[str, Any]) -> None:
        items = [
            scalar("length", pair, length_m=value, decimals=decimals)
            for pair, value in zip(PAIRS, metres, strict=False)
        ]
        figures("length", *items)(body)
        delays(*(round(4.8 * value) for value in (*metres, *metres[-1:] * 3)[:4]))(body)

    return change


def delays(*ns: float, **more: Any) -> Change:
    items = [
        scalar("propagation_delay", pair, delay_ns=value, **{"decimals": 0, **more})
        for pair, value in zip(PAIRS, ns, strict=False)
    ]
    return figures("propagation_delay", *items)


@pytest.mark.parametrize(
    ("metres", "outcome"),
    [
        ((98.9, 105.0, 105.0, 105.0), Outcome.PASS),  # 99 m: 90 m and 10 % for the NVP
        ((99.0, 105.0, 105.0, 105.0), Outcome.UNDECIDED),  # 98.95 to 99.05 m
        ((99.1, 105.0, 105.0, 105.0), Outcome.FAIL),
        ((105.0, 105.0, 105.0, 98.9), Outcome.PASS),
    ],
)
def test_the_shortest_pair_decides_the_length(metres: tuple[float, ...], outcome: Outcome) -> None:
    found, _ = judged(lengths(*metres))
    (one,) = [s for s in found.scalars if s.parameter == "length"]
    assert one.outcome is outcome
    assert one.limit == pytest.approx(99.0)
    assert one.value == min(metres)
    assert one.pair == PAIRS[metres.index(min(metres))]


def test_the_channel_has_110_m() -> None:
    found, _ = judged(lengths(109.0, 109.5, 109.9, 112.0), path=TIA_CHANNEL)
    assert figure(found, "length", "1-2").limit == pytest.approx(110.0)
    assert found.judgement is Judgement.UPHELD


def test_a_missing_length_can_only_be_shorter() -> None:
    """One pair of 98 m proves that the shortest is not longer; one of 120 m proves nothing."""
    assert judged(lengths(98.0))[0].judgement is Judgement.UPHELD
    found, _ = judged(lengths(120.0))
    (one,) = [s for s in found.scalars if s.parameter == "length"]
    assert one.outcome is Outcome.UNDECIDED
    assert "the length of 3-6, 4-5, 7-8 is missing" in one.reason


def test_a_length_of_the_whole_link_decides() -> None:
    whole = scalar("length", None, length_m=120.0, decimals=0)
    found, _ = judged(figures("length", whole), delays(576, 580, 577, 590))
    assert figure(found, "length", None).outcome is Outcome.FAIL


def test_the_equal_shortest_pair_keeps_the_lower_end_of_all() -> None:
    """Pairs of 99.1 m read to 0.1 m, but one of 99.2 m is known to 1 m only: it may be shorter."""
    items = [scalar("length", pair, length_m=99.1, decimals=1) for pair in PAIRS[:3]]
    items.append(scalar("length", PAIRS[3], length_m=99.2, decimals=1, resolution=1.0))
    found, _ = judged(figures("length", *items))
    assert figure(found, "length", "1-2").outcome is Outcome.UNDECIDED


def test_length_does_not_decide_in_iso() -> None:
    found, _ = judged(lengths(100.0, 100.0, 100.0, 100.0), path=ISO)
    assert figure(found, "length", "1-2").outcome is Outcome.FAIL
    assert found.judgement is Judgement.UPHELD


def test_a_delay_without_frequency_is_judged_at_10_mhz_and_says_so() -> None:
    """TIA permanent link: 0.9 (534 + 36 / sqrt 10) + 3 * 2.5 = 498.3, cut to 498 ns."""
    found, _ = judged(delays(497, 490, 491, 492))
    one = figure(found, "propagation_delay", "1-2")
    assert one.limit == 498.0
    assert one.outcome is Outcome.PASS
    assert "10 MHz" in one.reason
    assert judged(delays(499, 490, 491, 492))[0].judgement is Judgement.OVERTURNED
    found, _ = judged(delays(498, 490, 491, 492))
    assert found.judgement is Judgement.UNPROVEN


@pytest.mark.parametrize("order", [(0, 1), (1, 0)])
def test_of_a_delay_given_twice_both_are_judged_and_the_greater_makes_the_skew(
    order: tuple[int, int],
) -> None:
    twice = [scalar("propagation_delay", "1-2", delay_ns=ns, decimals=0) for ns in (290, 350)]
    others = [scalar("propagation_delay", pair, delay_ns=291, decimals=0) for pair in PAIRS[1:]]
    found, _ = judged(figures("propagation_delay", *(twice[row] for row in order), *others))
    delays_of = [s.value for s in found.scalars if (s.parameter, s.pair) == (DELAY, "1-2")]
    assert sorted(value for value in delays_of if value is not None) == [290, 350]
    skew = figure(found, "delay_skew", "1-2")
    assert skew.value == 350 - 291
    assert skew.outcome is Outcome.UNDECIDED  # with 290 ns there would be none


def test_a_delay_at_its_own_frequency() -> None:
    """ISO at 100 MHz: 0.9 (0.534 + 0.036 / 10) + 3 * 0.0025 = 0.49134 us, rounded 0.491 us."""
    found, _ = judged(delays(490, 480, 480, 480, frequency_mhz=100.0), path=ISO)
    one = figure(found, "propagation_delay", "1-2")
    assert one.limit == pytest.approx(491.0, abs=0.5)
    assert one.reason == ""


def test_a_delay_where_the_limit_does_not_hold_proves_nothing() -> None:
    found, _ = judged(delays(100, 100, 100, 100, frequency_mhz=100.0))
    one = figure(found, "propagation_delay", "1-2")
    assert one.outcome is Outcome.UNDECIDED
    assert "does not hold at 100 MHz" in one.reason
    assert found.judgement is Judgement.UNPROVEN


def test_every_pair_needs_a_delay() -> None:
    found, working = judged(delays(300, 301, 302))
    assert found.judgement is Judgement.UNPROVEN
    assert Lack("propagation_delay", None, ("7-8",), LackKind.PAIRS) in working.lacks
    assert Lack("delay_skew", None, (), LackKind.PARAMETER) in working.lacks


def test_skew_is_recomputed_from_the_delays() -> None:
    found, _ = judged(delays(300, 305, 310, 320))
    shown = {s.pair: (s.value, s.origin) for s in found.scalars if s.parameter == "delay_skew"}
    assert shown == {
        "1-2": (0.0, Origin.RECOMPUTED),
        "3-6": (5.0, Origin.RECOMPUTED),
        "4-5": (10.0, Origin.RECOMPUTED),
        "7-8": (20.0, Origin.RECOMPUTED),
    }


@pytest.mark.parametrize(
    ("slowest", "outcome"),
    [
        (343, Outcome.PASS),  # 43 ns, 42 to 44: the limit of the permanent link is 44 ns
        (344, Outcome.UNDECIDED),  # 43 to 45
        (345, Outcome.UNDECIDED),  # 44 to 46, and 44 itself would pass
        (346, Outcome.FAIL),  # 45 to 47
    ],
)
def test_skew_carries_the_digits_of_both_delays(slowest: int, outcome: Outcome) -> None:
    found, _ = judged(delays(300, 310, 310, slowest))
    assert figure(found, "delay_skew", "7-8").outcome is outcome


def test_skew_is_recomputed_at_every_frequency_with_all_four_delays() -> None:
    def at(mhz: float, *ns: float) -> list[dict[str, Any]]:
        return [
            scalar("propagation_delay", pair, delay_ns=value, decimals=0, frequency_mhz=mhz)
            for pair, value in zip(PAIRS, ns, strict=False)
        ]

    several = [*at(10.0, 300, 300, 300, 310), *at(100.0, 290, 290, 290, 340), *at(200.0, 280)]
    found, _ = judged(figures("propagation_delay", *several), path=ISO)
    skews = [s.value for s in found.scalars if (s.parameter, s.pair) == ("delay_skew", "7-8")]
    assert skews == [10.0, 50.0]
    # 50 ns at 100 MHz is beyond 44 ns, whatever the figure at 10 MHz is.
    assert found.judgement is Judgement.OVERTURNED


def test_an_exported_skew_that_the_delays_do_not_yield() -> None:
    skew = figures(
        "delay_skew",
        scalar("delay_skew", "7-8", delay_ns=10, decimals=0),
        scalar("delay_skew", "4-5", delay_ns=11, decimals=0),
        scalar("delay_skew", None, delay_ns=3, decimals=0),
    )
    found, working = judged(delays(300, 305, 310, 320), skew)
    told = {(f.key.pairs, f.exported, f.recomputed) for f in working.disagreements}
    # 4-5: 9 to 11 from the delays and 10.5 to 11.5 as exported do meet.
    assert told == {(("7-8",), 10.0, 20.0), ((), 3.0, 20.0)}
    assert figure(found, "delay_skew", "7-8").value == 20.0


def test_without_delays_of_all_pairs_the_exported_skew_is_judged() -> None:
    skew = figures("delay_skew", scalar("delay_skew", None, delay_ns=45, decimals=0))
    found, _ = judged(delays(300), skew)
    one = figure(found, "delay_skew", None)
    assert (one.origin, one.outcome) == (Origin.AS_EXPORTED, Outcome.FAIL)


def swept_delays(body: dict[str, Any]) -> None:
    """Delays over frequency in the place of single figures, 3 ns from pair to pair."""
    scalars = body["results"]["scalars"]
    body["results"]["scalars"] = [s for s in scalars if s["parameter"] != "propagation_delay"]
    for row, pair in enumerate(PAIRS):
        body["results"]["sweeps"].append(
            {
                "parameter": "propagation_delay",
                "pairs": [pair],
                "grid": "g",
                "decimals": 0,
                "delay_ns": (290.0 + 3 * row + 36.0 / grid() ** 0.5 * 0.6).round(),
            }
        )


@pytest.mark.parametrize(("path", "points"), [(TIA, 1), (ISO, grid().size)])
def test_swept_delays(path: str, points: int) -> None:
    """TIA holds at 10 MHz only, ISO over all frequencies; skew is recomputed at every point."""
    found, working = judged(swept_delays, path=path)
    assert found.judgement is Judgement.UPHELD, found.reason
    one = [m for m in found.margins if m.parameter == "propagation_delay"]
    assert [m.points_evaluated for m in one] == [points] * 4
    skew = {m.pairs[0]: m for m in found.margins if m.parameter == "delay_skew"}
    assert skew["7-8"].worst_value_db == pytest.approx(9.0, abs=1.0)
    assert skew["7-8"].origin is Origin.RECOMPUTED
    assert working.lacks == ()


def loops(*ohms: float, decimals: int = 1) -> Change:
    items = [
        scalar("dc_loop_resistance", pair, resistance_ohm=value, decimals=decimals)
        for pair, value in zip(PAIRS, ohms, strict=False)
    ]
    return figures("dc_loop_resistance", *items)


@pytest.mark.parametrize(
    ("ohm", "outcome"), [(20.9, Outcome.PASS), (21.0, Outcome.UNDECIDED), (21.1, Outcome.FAIL)]
)
def test_loop_resistance_decides_in_iso(ohm: float, outcome: Outcome) -> None:
    found, _ = judged(loops(ohm, 9.0, 9.0, 9.0), path=ISO)
    assert figure(found, "dc_loop_resistance", "1-2").outcome is outcome
    assert (found.judgement is Judgement.UPHELD) is (outcome is Outcome.PASS)


def test_a_missing_loop_resistance_leaves_iso_unproven_and_not_tia() -> None:
    assert judged(loops(9.0, 9.0, 9.0), path=ISO)[0].judgement is Judgement.UNPROVEN
    assert judged(loops(9.0, 9.0, 9.0), path=TIA)[0].judgement is Judgement.UPHELD


def unbalance(percent: float) -> Change:
    name = "dc_resistance_unbalance_within_pair"
    return figures(name, scalar(name, "1-2", unbalance_percent=percent, decimals=1))


def test_unbalance_of_so_many_percent_or_so_many_ohm() -> None:
    """3 % or 0.15 ohm in the link: of a loop of 2.0 ohm, 0.15 ohm is 7.5 %."""
    options = {"grade_c": True}
    found, _ = judged(unbalance(7.0), loops(2.0, 9.0, 9.0, 9.0), options=options)
    one = figure(found, "dc_resistance_unbalance_within_pair", "1-2")
    assert one.limit == pytest.approx(7.5)
    assert one.outcome is Outcome.PASS
    found, _ = judged(unbalance(7.0), loops(9.0, 9.0, 9.0, 9.0), options=options)
    one = figure(found, "dc_resistance_unbalance_within_pair", "1-2")
    assert one.limit == 3.0
    assert one.outcome is Outcome.FAIL
    # Whether required or not: it is informative, so the record stands.
    assert found.judgement is Judgement.UPHELD


def test_the_digits_of_the_loop_count_too() -> None:
    """Loop 2 ohm to the whole ohm: 1.5 to 2.5 ohm, so the limit is 6 to 10 %."""
    options = {"grade_c": True}
    found, _ = judged(unbalance(7.0), loops(2.0, 9.0, 9.0, 9.0, decimals=0), options=options)
    one = figure(found, "dc_resistance_unbalance_within_pair", "1-2")
    assert one.outcome is Outcome.UNDECIDED


def test_unbalance_without_a_loop_resistance() -> None:
    """Below 3 % it passes whatever the loop is; above, nobody knows."""
    none = figures("dc_loop_resistance")
    low, _ = judged(unbalance(2.0), none, options={"grade_c": True})
    high, _ = judged(unbalance(7.0), none, options={"grade_c": True})
    name = "dc_resistance_unbalance_within_pair"
    assert figure(low, name, "1-2").outcome is Outcome.PASS
    assert figure(high, name, "1-2").outcome is Outcome.UNDECIDED


def test_a_limit_of_grade_c_without_interval_is_used_only_on_request() -> None:
    found, _ = judged(unbalance(1.0))
    one = figure(found, "dc_resistance_unbalance_within_pair", "1-2")
    assert one.outcome is Outcome.UNDECIDED
    assert "grade C" in one.reason
    assert one.limit is None
