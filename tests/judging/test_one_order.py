"""ACR-N that is exported once for two pairs: of the order that is named, or the worse of both.

ACR-N_ik = NEXT_ik - IL_k, so that the worse of both orders is NEXT less the greater loss; that some
sources give only that is common practice, no source.
"""

from itertools import combinations
from typing import Any

import numpy as np
import pytest

from sweepbook.judging.assessment import Judgement, Outcome
from sweepbook.judging.bands import Given
from sweepbook.judging.curves import Curves, Key
from sweepbook.judging.one_order import alone, stated_for_both, worse_of_both
from sweepbook.judging.working import Disagreement, LackKind

from .links import (
    ENDS,
    F64,
    ISO,
    PAIRS,
    Change,
    at,
    find,
    grid,
    judged,
    put,
    sweep,
    without,
)

TWO = ("3-6", "1-2")


def crossing(body: dict[str, Any]) -> None:
    """Give each pair its own loss, the first the least above 100 MHz and the greatest below."""
    for row, pair in enumerate(PAIRS):
        values = find(body, "insertion_loss", None, pair)["value_db"]
        high = grid() > 100.0
        values[:] = np.round(values * np.where(high, 1.0 + 0.02 * row, 1.1 - 0.02 * row), 2)


def values(body: dict[str, Any], parameter: str, end: str | None, *pairs: str) -> F64:
    found: F64 = np.array(find(body, parameter, end, *pairs)["value_db"])
    return found


def worse(body: dict[str, Any], end: str, one: str, other: str) -> F64:
    """NEXT less the greater of the two losses."""
    losses = [values(body, "insertion_loss", None, pair) for pair in (one, other)]
    return values(body, "next", end, *sorted((one, other))) - np.maximum(*losses)


def exporting(turned: bool, add_db: float = 0.0) -> Change:
    """Export the worse of both orders of every two pairs, named in one order or the other."""

    def change(body: dict[str, Any]) -> None:
        more = [
            sweep("acr_n", end, two[::-1] if turned else two, worse(body, end, *two) + add_db)
            for end in ENDS
            for two in combinations(PAIRS, 2)
        ]
        body["results"]["sweeps"] += more

    return change


def ordered(end: str, i: str, k: str) -> Change:
    """Export ACR-N of the order that is named."""

    def change(body: dict[str, Any]) -> None:
        talk = values(body, "next", end, *sorted((i, k)))
        own = talk - values(body, "insertion_loss", None, k)
        body["results"]["sweeps"].append(sweep("acr_n", end, (i, k), own))

    return change


def facts(*changes: Change) -> tuple[Disagreement, ...]:
    return judged(crossing, *changes, path=ISO)[1].disagreements


@pytest.mark.parametrize("turned", [False, True])
def test_the_worse_of_both_orders_contradicts_nothing(turned: bool) -> None:
    plain, _ = judged(crossing, path=ISO)
    found, working = judged(crossing, exporting(turned), path=ISO)
    assert working.disagreements == () and working.doubts == ()
    assert found.judgement is plain.judgement is Judgement.UPHELD
    assert found.margins == plain.margins, "the recomputed ones are judged, in both orders"


@pytest.mark.parametrize("i, k", [("1-2", "7-8"), ("7-8", "1-2")])
def test_the_order_that_is_named_contradicts_nothing(i: str, k: str) -> None:
    assert facts(ordered("near", i, k)) == ()


def test_a_curve_of_neither_reading_is_told_by_the_one_that_it_is_nearer_to() -> None:
    (below,) = [fact for fact in facts(exporting(True, -0.5)) if fact.key.pairs == TWO][:1]
    assert below.of_both
    assert below.exported - below.recomputed == pytest.approx(-0.5, abs=1e-9)
    assert below.points == grid().size

    def above(body: dict[str, Any]) -> None:
        ordered("near", *TWO)(body)
        body["results"]["sweeps"][-1]["value_db"][at(300.0)] += 3.0

    (fact,) = facts(above)
    assert (fact.of_both, fact.points, fact.at_mhz) == (False, 1, 300.0)


def test_no_curve_is_of_one_reading_here_and_of_the_other_there() -> None:
    """Below 100 MHz the worse of both is that of the other order; from there on take this one."""

    def change(body: dict[str, Any]) -> None:
        talk = values(body, "next", "near", "1-2", "7-8")
        less = [values(body, "insertion_loss", None, pair) for pair in ("1-2", "7-8")]
        mixed = np.where(grid() < 250.0, talk - np.maximum(*less), talk - np.minimum(*less))
        body["results"]["sweeps"].append(sweep("acr_n", "near", ("7-8", "1-2"), mixed))

    (fact,) = facts(change)
    assert fact.key == Key("acr_n", "near", ("7-8", "1-2"))


def test_with_both_orders_there_each_is_that_of_its_name() -> None:
    found = facts(exporting(False), exporting(True))
    assert {fact.key.end for fact in found} == set(ENDS)
    assert not any(fact.of_both for fact in found)


def test_a_fail_of_neither_reading_keeps_the_pass_from_being_proved() -> None:
    """What is exported fails by itself, so that one of the two figures is wrong."""

    def change(body: dict[str, Any]) -> None:
        exporting(True)(body)
        find(body, "acr_n", "near", *TWO)["value_db"][at(300.0)] = -40.0

    found, working = judged(crossing, change, path=ISO)
    assert [fact.key.pairs for fact in working.disagreements] == [TWO]
    assert found.judgement is Judgement.UNPROVEN
    assert "exported ACR-N 3-6 to 1-2" in found.reason


def test_a_fail_of_the_other_order_is_a_fail_whichever_is_meant() -> None:
    deep = put("next", "near", ("1-2", "3-6"), 300.0, 10.0)
    found, working = judged(crossing, deep, exporting(True), path=ISO)
    assert found.judgement is Judgement.OVERTURNED and working.disagreements == ()


def test_without_next_the_other_order_is_missing_whichever_is_meant() -> None:
    """That of [a, b] leaves that of [b, a] open, and nothing tells that it is the worse of both."""
    _, working = judged(crossing, exporting(False), without("next"), path=ISO)
    gone = [lack for lack in working.lacks if lack.parameter == "acr_n"]
    assert {lack.kind for lack in gone} == {LackKind.PAIRS} and len(gone) == 12


def test_what_is_exported_fills_holes_of_its_own_order_only() -> None:
    def short(body: dict[str, Any]) -> None:
        one = find(body, "next", "near", "1-2", "3-6")
        one["value_db"] = one["value_db"][: at(400.0)]
        last = grid().size - 1
        one["gaps"] = [{"from": at(400.0), "to": last, "reason": "missing"}]

    found, _ = judged(crossing, exporting(False), short, path=ISO)
    outcomes = {
        m.pairs: m.outcome for m in found.margins if (m.parameter, m.end) == ("acr_n", "near")
    }
    assert outcomes["1-2", "3-6"] is Outcome.PASS
    assert outcomes["3-6", "1-2"] is Outcome.UNDECIDED


def test_the_lesser_of_both_by_hand() -> None:
    keys = tuple(Key("acr_n", "near", two) for two in (("a", "b"), ("b", "a"), ("a", "c")))
    values = np.array([[30.0, 20.0, np.nan], [25.0, 24.0, 9.0], [5.0, 6.0, 7.0]])
    band = Given(values - 0.1, values + 0.1)
    made = Curves("acr_n", keys, np.arange(3.0), values, band, ((),) * 3, np.zeros(3, dtype=bool))
    found = worse_of_both(made, [keys[0], keys[2]])
    assert found.keys == (keys[0], keys[2])
    assert found.value == pytest.approx(
        np.array([[25.0, 20.0, np.nan], [5.0, 6.0, 7.0]]), nan_ok=True
    )
    assert found.high[0] == pytest.approx([25.1, 20.1, np.nan], nan_ok=True)
    assert found.low[0] == pytest.approx([24.9, 19.9, np.nan], nan_ok=True)
    assert np.all(np.isneginf(found.low[1])), "the other order is not known: at most this"


def test_what_stands_alone() -> None:
    keys = [Key("acr_n", "near", two) for two in (("a", "b"), ("b", "a"), ("a", "c"))]
    keys += [Key("acr_n", "far", ("b", "a")), Key("acr_f", "far", ("a", "b"))]
    assert alone(tuple(keys)) == {keys[2], keys[3]}


def test_a_stated_worst_curve_by_itself_is_of_the_order_that_it_names() -> None:
    def items(*named: tuple[str, ...]) -> dict[str, Any]:
        of = [{"parameter": "acr_n", "end": "near", "pairs": list(pairs)} for pairs in named]
        return {"results": {"sweeps": []}, "stated": {"items": of}}

    every = list(combinations(PAIRS, 2))
    assert stated_for_both(items(TWO)) == frozenset()
    assert len(stated_for_both(items(*every))) == 6
    assert stated_for_both(items(*every[:5])) == frozenset()
    swept = items(TWO)
    swept["results"]["sweeps"] = [{"parameter": "acr_n", "end": "near", "pairs": list(TWO)}]
    assert stated_for_both(swept) == {Key("acr_n", "near", TWO)}
