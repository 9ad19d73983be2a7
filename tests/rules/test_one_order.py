"""ACR-N that is stated once for two pairs: of the order that is named, or the worst of both.

ACR-N_ik = NEXT_ik - IL_k; in the clean record each pair loses more than the one before it at every
frequency, so that the worse order of two is the one with the later pair disturbed.
"""

from itertools import combinations
from typing import Any

import numpy as np
import pytest

from sweepbook.limits.interpretations import Interpretations
from sweepbook.limits.library import Library
from sweepbook.limits.shapes import line

from .link import ENDS, PAIRS, clean, grid
from .test_cases import findings, judged

ISO = "iso-11801-1-2017/class-ea/permanent-link"
NAMED = "ISO/IEC 11801-1:2017 Class EA PL"
FIGURES = {"VRD002", "VRD003", "VRD004", "VRD005", "VRD010", "VRD019"}
Changes = list[dict[str, Any]]


def acr_n(end: str, one: str, disturbed: str) -> Any:
    """NEXT less the loss of the disturbed pair."""
    sweeps = {
        (sweep["parameter"], sweep.get("end"), *sweep["pairs"]): np.array(sweep["value_db"])
        for sweep in clean()["results"]["sweeps"]
    }
    talk = sweeps["next", end, *sorted((one, disturbed))]
    return talk - sweeps["insertion_loss", None, disturbed]


def figure(name: str, values: Any, places: Any) -> dict[str, Any]:
    """The least of some values with its frequency, to two decimals."""
    least = float(np.min(values))
    at_mhz = float(places[int(np.argmin(values))])
    return {
        name: round(least, 2),
        "decimals": 2,
        "as_stated": f"{least:.2f}",
        "frequency_mhz": at_mhz,
    }


def item(end: str, one: str, other: str, add_db: float = 0.0) -> dict[str, Any]:
    """An item named with the better order, with the worst of the worse order."""
    values = acr_n(end, one, other)
    limit = line(Library.load().table(ISO), "acr_n", grid(), Interpretations.load()).value
    held = np.isfinite(limit)
    return {
        "parameter": "acr_n",
        "end": end,
        "pairs": [other, one],
        "worst_margin": figure("margin_db", (values - limit)[held] + add_db, grid()[held]),
        "worst_value": figure("value_db", values[held] + add_db, grid()[held]),
    }


def told(items: Changes, *more: dict[str, Any]) -> list[tuple[str, str]]:
    """Rules about stated figures and verdicts that have something to say, with the place."""
    limit = {"set": "test/limit/as_stated", "to": NAMED}
    changes = [limit, *more, {"set": "stated/items", "to": items}]
    found = findings(*judged({"changes": changes}))
    return [(one.rule, one.path) for one in found if one.rule in FIGURES]


def every(add_db: float = 0.0) -> Changes:
    return [item(end, *two, add_db) for end in ENDS for two in combinations(PAIRS, 2)]


def test_figures_given_once_for_two_pairs_may_be_those_of_the_worse_order() -> None:
    assert told(every()) == []


@pytest.mark.parametrize("add_db", [-0.5, 2.0])
def test_figures_of_neither_order_are_told(add_db: float) -> None:
    """Half a decibel below the worse order, and 2 dB above it, which is above the better one."""
    found = told(every(add_db))
    assert [rule for rule, _ in found].count("VRD002") == 12
    assert [rule for rule, _ in found].count("VRD004") == 12


def test_a_worst_figure_by_itself_is_of_the_order_that_it_names() -> None:
    found = told([item("near", "1-2", "7-8")])
    assert ("VRD004", "$.stated.items[0].worst_value") in found


def test_in_a_thinned_sweep_a_figure_may_be_that_of_the_other_order_there() -> None:
    thinned = {"every": 4}
    assert told(every(), thinned) == []
    found = told(every(-0.5), thinned)
    assert {rule for rule, _ in found} >= {"VRD019"}


def test_a_fail_given_once_for_two_pairs_may_be_that_of_the_other_order() -> None:
    """At 56.75 MHz NEXT leaves 18.16 dB to the one order and 18.35 to the other: take 18.25 off."""
    limit = line(
        Library.load().table(ISO), "acr_n", np.array([56.75]), Interpretations.load()
    ).value[0]
    here = grid() == 56.75
    better, worse = (acr_n("near", *two)[here][0] for two in (("3-6", "1-2"), ("1-2", "3-6")))
    assert worse - limit < 18.25 < better - limit
    deep = {
        "add_db": -18.25,
        "curve": {"parameter": "next", "end": "near", "pairs": ["1-2", "3-6"]},
        "from_mhz": 56.75,
        "to_mhz": 56.75,
    }
    fail = {"set": "stated/overall", "to": {"verdict": "fail", "as_stated": "FAIL"}}
    said = [
        {
            "parameter": "acr_n",
            "end": "near",
            "pairs": [other, one],
            "verdict": "fail" if (one, other) == ("1-2", "3-6") else "pass",
        }
        for one, other in combinations(PAIRS, 2)
    ]
    assert told(said, deep, fail) == []
    assert told(said[:1], deep, fail) == [("VRD005", "$.stated.items[0].verdict")]
    said[0]["verdict"], said[1]["verdict"] = "pass", "fail"
    assert told(said, deep, fail) == [("VRD005", "$.stated.items[1].verdict")]


def test_an_asterisk_given_once_for_two_pairs_may_be_that_of_the_other_order() -> None:
    """Margins of 18.16 dB in the worse order and 18.35 in the better: 18.25 dB lie between."""
    accuracy = {"parameter": "acr_n", "constant_db": 18.25}
    declared = {"set": "test/accuracy", "to": [accuracy]}

    def said(first: str) -> Changes:
        two = list(combinations(PAIRS, 2))
        return [
            {"parameter": "acr_n", "end": "near", "pairs": [b, a], "verdict": verdict}
            for (a, b), verdict in zip(two, [first, *["pass"] * 5], strict=True)
        ]

    marked = {"set": "stated/overall", "to": {"verdict": "pass*", "as_stated": "PASS*"}}
    assert told(said("pass*"), declared, marked) == []
    assert told(said("pass"), declared, marked) == []
    assert told(said("pass*")[:1], declared, marked) == [("VRD003", "$.stated.items[0].verdict")]
    accuracy["constant_db"] = 15.0
    assert told(said("pass*"), declared) == [("VRD003", "$.stated.items[0].verdict")]
