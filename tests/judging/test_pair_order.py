"""The order of two pairs by ACR-F of both ends, on links of the demo's model.

FEXT is reciprocal (any textbook on two-ports; the model is held to it by tests/demo), and ACR-F is
FEXT less the insertion loss of the disturbed pair (ISO/IEC 11801-1, recalled).
"""

from collections.abc import Callable, Mapping
from functools import cache
from typing import Any

import numpy as np
import pytest

from sweepbook.judging.assessment import Assessment, Judgement, Outcome
from sweepbook.judging.working import Doubt, DoubtKind
from sweepbook_demo.parts import JACK_6A, WEFT_6A
from sweepbook_demo.plant import CablePiece, solve

from .links import ENDS, F64, PAIRS, grid, judged, scale, sweep, without

Pair = tuple[str, str]
OTHER = {"near": "far", "far": "near"}


@cache
def link(metres: float, noise: float) -> tuple[Mapping[str, F64], Mapping[tuple[str, Pair], F64]]:
    """Insertion loss by pair, and FEXT by receiving end and (disturbing, disturbed), in dB.

    The noise is that of the demo's tester, 98 dB down at 100 MHz, times a factor; each curve has
    its own, as units at both ends have.
    """
    net = solve((JACK_6A, CablePiece(WEFT_6A, metres), JACK_6A), grid(), seed=11)
    random = np.random.default_rng(5)
    floor = noise * 10.0 ** (-(98.0 - 10.0 * np.log10(grid() / 100.0)) / 20.0)

    def read(parameter: Any) -> F64:
        hiss = random.standard_normal((2, grid().size)) / np.sqrt(2.0)
        return np.asarray(-20.0 * np.log10(np.abs(parameter + floor * (hiss[0] + 1j * hiss[1]))))

    loss = {pair: read(net.s21[:, at, at]) for at, pair in enumerate(PAIRS)}
    talk = {
        (end, (i, k)): read(block[:, PAIRS.index(k), PAIRS.index(i)])
        for end, block in (("near", net.s12), ("far", net.s21))
        for i in PAIRS
        for k in PAIRS
        if i != k
    }
    return loss, talk


def exported(
    metres: float,
    *,
    turned: bool = False,
    less: str = "disturbed",
    noise: float = 1.0,
    off: Callable[[str, Pair], float] = lambda end, pairs: 0.0,
    decimals: int = 2,
) -> Callable[[dict[str, Any]], None]:
    """A record with ACR-F of both ends in the place of FEXT, and the losses of the model."""
    loss, talk = link(metres, noise)

    def change(body: dict[str, Any]) -> None:
        without("fext")(body)
        without("insertion_loss")(body)
        scale(body, metres / 60.0)
        more = [sweep("insertion_loss", None, [pair], loss[pair]) for pair in PAIRS]
        for (end, (i, k)), crosstalk in talk.items():
            taken = loss[k if less == "disturbed" else i]
            named = (k, i) if turned else (i, k)
            more.append(sweep("acr_f", end, named, crosstalk - taken + off(end, (i, k))))
        for one in more:
            one["value_db"], one["decimals"] = np.round(one["value_db"], decimals), decimals
        body["results"]["sweeps"] += more

    return change


def told(*changes: Callable[[dict[str, Any]], None]) -> tuple[Assessment, list[Doubt]]:
    found, working = judged(*changes)
    return found, [one for one in working.doubts if one.kind is DoubtKind.ORDER]


@pytest.mark.parametrize("metres", [35.0, 60.0, 85.0])
def test_the_other_order_is_told_and_no_pass_rests_on_it(metres: float) -> None:
    found, doubts = told(exported(metres, turned=True))
    (one,) = doubts
    near, far = (float(one.text.split(f"{word} to ")[1].split(" dB")[0]) for word in (",", "only"))
    assert near < 0.1 and far > 0.4, one.text
    assert one.path == "$.results.sweeps[24]"
    assert found.judgement is Judgement.UNPROVEN and one.text in found.reason
    sums = [margin.outcome for margin in found.margins if margin.parameter == "psacr_f"]
    assert sums == [Outcome.UNDECIDED] * 8


def test_the_loss_of_the_disturbing_pair_looks_the_same() -> None:
    _, doubts = told(exported(60.0, less="disturbing"))
    assert len(doubts) == 1


@pytest.mark.parametrize("metres", [5.0, 15.0, 30.0, 60.0, 85.0])
def test_the_right_order_is_not_doubted(metres: float) -> None:
    found, doubts = told(exported(metres))
    assert doubts == []
    assert found.judgement is Judgement.UPHELD, found.reason


@pytest.mark.parametrize("metres", [5.0, 15.0])
def test_where_the_losses_are_alike_nothing_is_told(metres: float) -> None:
    assert told(exported(metres, turned=True))[1] == []


def test_in_whole_tenths_losses_are_apart_only_where_their_digits_tell() -> None:
    assert told(exported(15.0, turned=True, decimals=1))[1] == []
    assert len(told(exported(85.0, turned=True, decimals=1))[1]) == 1
    assert told(exported(85.0, decimals=1))[1] == []


@pytest.mark.parametrize("turned", [False, True])
def test_noise_tells_nothing(turned: bool) -> None:
    assert told(exported(60.0, turned=turned, noise=30.0))[1] == []


@pytest.mark.parametrize("offset_db", [-2.0, -1.0, -0.5, 0.5, 1.0, 2.0])
def test_one_unit_that_reads_apart_is_no_other_order(offset_db: float) -> None:
    """It moves combinations alike whose losses differ one way and the other."""
    assert told(exported(85.0, off=lambda end, _: offset_db * (end == "far")))[1] == []


@pytest.mark.parametrize("offset_db", [-2.0, -1.0, -0.5, 0.5, 1.0, 2.0])
@pytest.mark.parametrize("pair", PAIRS)
def test_one_pair_that_reads_apart_is_no_other_order(pair: str, offset_db: float) -> None:
    def off(end: str, pairs: Pair) -> float:
        return offset_db * (end == "far" and pairs[1] == pair)

    assert told(exported(85.0, off=off))[1] == []


def test_combinations_that_each_read_apart_are_no_other_order() -> None:
    """Half a decibel of its own on each curve, as much as the losses differ by; 40 draws."""
    for seed in range(40):
        random = np.random.default_rng(seed)
        assert told(exported(60.0, off=lambda *_: float(random.normal(0.0, 0.5))))[1] == []  # noqa: B023


def test_one_end_alone_or_fext_beside_it_leaves_nothing_to_ask() -> None:
    turned = exported(85.0, turned=True)
    assert told(turned, without("acr_f", "far"))[1] == []

    def with_fext(body: dict[str, Any]) -> None:
        turned(body)
        _, talk = link(85.0, 1.0)
        body["results"]["sweeps"] += [
            sweep("fext", end, pairs[::-1], values) for (end, pairs), values in talk.items()
        ]

    assert told(with_fext)[1] == []


def test_the_ends_interchanged_are_no_other_order() -> None:
    """The difference of both ends is the same then: FEXT of one end is that of the other."""

    def change(body: dict[str, Any]) -> None:
        exported(85.0)(body)
        for one in body["results"]["sweeps"]:
            if one["parameter"] == "acr_f":
                one["end"] = OTHER[one["end"]]

    assert told(change)[1] == []


def test_a_fail_of_acr_f_stays_one() -> None:
    """Each of the curves is one of the link, whatever it is called."""

    def off(end: str, pairs: Pair) -> float:
        one = pairs if end == "near" else pairs[::-1]
        return -30.0 if one == ("1-2", "3-6") else 0.0

    found, doubts = told(exported(85.0, turned=True, off=off))
    assert len(doubts) == 1
    outcomes = {(m.parameter, m.end, *m.pairs): m.outcome for m in found.margins}
    failing = {key for key, outcome in outcomes.items() if outcome is Outcome.FAIL}
    assert failing == {("acr_f", "near", "3-6", "1-2"), ("acr_f", "far", "1-2", "3-6")}


def test_every_end_has_its_sums() -> None:
    """The premise: without FEXT, PSACR-F is made of exported ACR-F."""
    found, _ = told(exported(60.0))
    sums = {(m.end, *m.pairs) for m in found.margins if m.parameter == "psacr_f"}
    assert sums == {(end, pair) for end in ENDS for pair in PAIRS}
