"""truth.json against the plan: what is expected follows from the margins and what was planted."""

import json
from importlib.resources import files
from typing import Any

import pytest

DOCUMENT = json.loads((files("sweepbook_demo") / "truth.json").read_text(encoding="utf-8"))
LINKS: list[dict[str, Any]] = DOCUMENT["links"]
INCOMPLETE = {
    "no-far-next",
    "no-far-talk",
    "no-return-loss",
    "coarse-grid",
    "missing-points",
    "one-decimal",
}


def _smallest(link: dict[str, Any]) -> float:
    return min(_margin(entry) for entry in link["margins"])


def _margin(entry: dict[str, Any]) -> float:
    return next(float(v) for k, v in entry.items() if k.startswith("margin_"))


def _codes(link: dict[str, Any]) -> set[str]:
    return {item["code"] for item in link["planted"]}


@pytest.mark.parametrize("link", LINKS, ids=lambda link: f"{link['label']}-{link['purpose']}")
def test_expected_judgement_follows(link: dict[str, Any]) -> None:
    stated_pass = link["stated"].startswith("pass")
    failing = _smallest(link) < 0.0
    if failing:
        expected = ("fail", "overturned" if stated_pass else "upheld")
    elif _codes(link) & INCOMPLETE:
        expected = ("undecided", "unproven")
    else:
        expected = ("pass", "upheld" if stated_pass else "overturned")
    assert (link["recomputed"], link["judgement"]) == expected


def test_failing_links_fail_by_far_more_than_the_resolution() -> None:
    for link in LINKS:
        if link["recomputed"] == "fail":
            assert _smallest(link) < -1.0, link["label"]


def test_passing_links_have_room() -> None:
    """No passing link hangs on the last digit or on the 0.05 dB a recalled limit is known to."""
    for link in LINKS:
        if link["recomputed"] == "pass":
            assert _smallest(link) > 0.3, link["label"]


def test_the_rounded_link_lies_within_half_a_digit_of_the_limit() -> None:
    rounded = [link for link in LINKS if "one-decimal" in _codes(link)]
    assert len(rounded) == 1
    assert abs(_smallest(rounded[0])) < 0.05


def test_each_kind_of_outcome_and_limit_occurs() -> None:
    assert {link["judgement"] for link in LINKS} == {"upheld", "overturned", "unproven"}
    kinds = {(link["family"], link["configuration"], link["category"]) for link in LINKS}
    assert kinds == {
        *(
            (family, kind, "6A")
            for family in ("tia", "iso")
            for kind in ("channel", "permanent-link")
        ),
        ("tia", "permanent-link", "6"),
    }


@pytest.mark.parametrize(("label", "end"), [("1A-P1-03", "near"), ("PW-1-02", "far")])
def test_the_untwisted_jack_spoils_the_split_pair(label: str, end: str) -> None:
    """3-6 straddles 4-5 in the jack, so that combination suffers first (common practice)."""
    link = next(link for link in LINKS if link["label"] == label)
    assert "bad-jack" in _codes(link)
    below = [entry for entry in link["margins"] if entry["parameter"] == "next"]
    failing = [(entry["end"], entry["pairs"]) for entry in below if _margin(entry) < 0.0]
    assert failing == [(end, ["3-6", "4-5"])]


def test_the_repaired_link_fails_first_and_passes_later() -> None:
    twice = [link for link in LINKS if link["label"] == "PW-1-02"]
    assert [link["purpose"] for link in twice] == ["initial", "retest"]
    assert [link["stated"] for link in twice] == ["fail", "pass"]
    assert [link["purpose"] for link in LINKS].count("retest") == 1
