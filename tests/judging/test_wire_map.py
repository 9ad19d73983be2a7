"""The wire map and the screen."""

from typing import Any

import pytest

from sweepbook.judging.assessment import Assessment, Judgement, Outcome, ScalarMargin
from sweepbook.judging.screen import is_screened

from .links import Change, judged, straight


def wire_map(found: Assessment) -> ScalarMargin:
    (one,) = [s for s in found.scalars if s.parameter == "wire_map"]
    return one


def pins(*changed: tuple[str, str | None]) -> Change:
    """Connect some pins otherwise."""

    def change(body: dict[str, Any]) -> None:
        body["results"]["wire_map"]["pins"] = [
            [near, dict(changed).get(near, far)] for near, far in straight()
        ]

    return change


def test_straight_pins_pass() -> None:
    found, _ = judged()
    one = wire_map(found)
    assert (one.outcome, one.value, one.margin, one.unit) == (Outcome.PASS, 0.0, 0.0, "faults")


@pytest.mark.parametrize(
    ("change", "faults", "words"),
    [
        (pins(("3", None)), 1, "pin 3 goes to nothing, not to 3"),  # open
        (pins(("1", "2"), ("2", "1")), 2, "pin 1 goes to 2, not to 1"),  # reversed pair
        (
            pins(("1", "3"), ("2", "6"), ("3", "1"), ("6", "2")),  # crossed pairs
            4,
            "pin 1 goes to 3, not to 1",
        ),
    ],
)
def test_faults_are_counted_and_named(change: Change, faults: int, words: str) -> None:
    found, _ = judged(change)
    one = wire_map(found)
    assert (one.outcome, one.value, one.margin) == (Outcome.FAIL, faults, -faults)
    assert words in found.reason
    assert found.judgement is Judgement.OVERTURNED


def test_a_short_is_a_pin_that_reaches_two() -> None:
    def change(body: dict[str, Any]) -> None:
        body["results"]["wire_map"]["pins"].append(["4", "5"])

    found, _ = judged(change)
    assert "pin 4 goes to 4 and 5, not to 4" in wire_map(found).reason
    assert found.judgement is Judgement.OVERTURNED


def test_pins_left_out_prove_nothing() -> None:
    def change(body: dict[str, Any]) -> None:
        del body["results"]["wire_map"]["pins"][-2:]

    found, _ = judged(change)
    assert wire_map(found).reason == "the wire map leaves out pin 7, 8"
    assert found.judgement is Judgement.UNPROVEN


def test_a_word_proves_nothing() -> None:
    def change(body: dict[str, Any]) -> None:
        body["results"]["wire_map"] = {"screen": "none", "as_stated": "PASS"}

    found, _ = judged(change)
    assert wire_map(found).outcome is Outcome.UNDECIDED
    assert found.judgement is Judgement.UNPROVEN
    assert "a word only" in found.reason


def test_no_wire_map_at_all() -> None:
    def change(body: dict[str, Any]) -> None:
        del body["results"]["wire_map"]

    found, _ = judged(change)
    assert found.judgement is Judgement.UNPROVEN
    assert "wire map is missing" in found.reason


def screened(construction: str | None, screen: str | None) -> Change:
    def change(body: dict[str, Any]) -> None:
        body["link"]["cable"] = {"construction": construction} if construction else {}
        if screen:
            body["results"]["wire_map"]["screen"] = screen
        else:
            del body["results"]["wire_map"]["screen"]

    return change


@pytest.mark.parametrize(
    ("construction", "screen", "judgement"),
    [
        ("S/FTP", "continuous", Judgement.UPHELD),
        ("F/UTP", "open", Judgement.OVERTURNED),
        ("S/FTP", "none", Judgement.UNPROVEN),
        ("S/FTP", "not-tested", Judgement.UNPROVEN),
        ("S/FTP", None, Judgement.UNPROVEN),
        ("U/UTP", "none", Judgement.UPHELD),
        ("U/UTP", None, Judgement.UPHELD),
        (None, "continuous", Judgement.UPHELD),
        (None, "open", Judgement.OVERTURNED),
        (None, None, Judgement.UPHELD),
        ("PiMF", None, Judgement.UNPROVEN),
        ("U/UTP-LSZH", None, Judgement.UPHELD),
        ("ribbon", None, Judgement.UNPROVEN),
        ("n/a", None, Judgement.UPHELD),
        ("-", None, Judgement.UPHELD),
        ("Unknown", None, Judgement.UPHELD),
        ("ribbon", "none", Judgement.UPHELD),
        ("ribbon", "continuous", Judgement.UPHELD),
    ],
)
def test_a_screen_must_be_continuous_where_there_is_one(
    construction: str | None, screen: str | None, judgement: Judgement
) -> None:
    found, _ = judged(screened(construction, screen))
    assert found.judgement is judgement, found.reason


def test_a_connector_with_a_screen_wants_the_screen_tested() -> None:
    def change(body: dict[str, Any]) -> None:
        screened(None, None)(body)
        body["link"]["far"] = {"connector": {"screened": True}}

    found, _ = judged(change)
    assert found.judgement is Judgement.UNPROVEN
    assert "the connector at the far end has a screen" in found.reason


@pytest.mark.parametrize(
    ("construction", "expected"),
    [
        ("U/UTP", False),
        ("UTP", False),
        ("u / utp", False),
        ("F/UTP", True),
        ("U/FTP", True),
        ("S/FTP", True),
        ("SF/UTP", True),
        ("FTP", True),
        ("S-FTP", True),
        ("Cat 6A FTP", True),
        ("Unshielded", False),
        ("not screened", False),
        ("non-shielded", False),
        ("U/UTP (unscreened)", False),
        ("PiMF", True),
        ("U/UTP-LSZH", False),
        ("UTP-6A", False),
        ("LSZH S/FTP, 22 AWG", True),
        ("HTP", None),
        ("UTP, FTP", None),
        ("UTP FTP", None),
        ("coaxial", None),
    ],
)
def test_constructions(construction: str, expected: bool | None) -> None:
    assert is_screened({"link": {"cable": {"construction": construction}}}) is expected


def test_a_contact_beyond_the_eight_that_leads_to_one_of_them_is_a_short() -> None:
    def change(body: dict[str, Any]) -> None:
        body["results"]["wire_map"]["pins"] += [["9", "9"], ["10", "1"]]

    found, _ = judged(change)
    assert wire_map(found).reason == "pin 10 goes to 1, where another pin belongs"
    assert found.judgement is Judgement.OVERTURNED


def test_a_far_contact_that_is_reached_and_is_said_to_reach_nothing_proves_no_pass() -> None:
    def change(body: dict[str, Any]) -> None:
        body["results"]["wire_map"]["pins"].append([None, "4"])

    found, _ = judged(change)
    assert wire_map(found).outcome is Outcome.UNDECIDED
    assert found.judgement is Judgement.UNPROVEN
