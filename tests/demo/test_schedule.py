"""The schedule against labels read from the exports themselves, and the outcomes expected of it."""

import csv
import gzip
import json
import re
from collections import Counter
from importlib.resources import files
from typing import Any

from sweepbook_demo.make import LINKS
from sweepbook_demo.schedule import TITLES, write

DEMO = files("sweepbook_demo")
HELD: dict[str, Any] = json.loads((DEMO / "truth.json").read_text(encoding="utf-8"))
EXPECTED: dict[str, Any] = HELD["reconciliation"]
OUTCOMES = {
    "passed", "failed", "retested", "near-miss", "untested", "lesser-limit",
    "other-configuration", "not-on-schedule", "unproven", "overturned",
}  # fmt: skip


def _schedule() -> dict[str, dict[str, str]]:
    lines = (DEMO / "schedule.csv").read_text(encoding="utf-8").splitlines()
    rows = list(csv.DictReader(lines))
    assert tuple(rows[0]) == TITLES
    assert len({row["label"] for row in rows}) == len(rows)
    return {row["label"]: row for row in rows}


def _tested() -> Counter[str]:
    """Labels in the exports and how often each occurs, found without the model's writers."""
    found: Counter[str] = Counter()
    for entry in (DEMO / "exports").iterdir():
        content = entry.read_bytes()
        text = (gzip.decompress(content) if entry.name.endswith(".gz") else content).decode()
        pattern = r"^link,(.+)$|^\d+;link;;;;;(.+)$|<entry [^>]*label=\"([^\"]+)\""
        found.update("".join(match) for match in re.findall(pattern, text, re.MULTILINE))
    return found


def _outcomes() -> dict[str, str]:
    return {entry["label"]: entry["outcome"] for entry in EXPECTED["labels"]}


def test_the_schedule_is_the_one_the_model_writes() -> None:
    assert (DEMO / "schedule.csv").read_bytes() == write(LINKS)


def test_what_is_missing_extra_and_misspelt() -> None:
    scheduled, tested = set(_schedule()), set(_tested())
    assert scheduled - tested == {"1A-P2-06", "PW-1-04"}
    assert tested - scheduled == {"05-32", "PW-1-O4"}
    assert "PW-1-O4".replace("O", "0") == "PW-1-04"


def test_every_row_names_the_ends_and_places_of_its_test() -> None:
    rows = _schedule()
    for link in LINKS:
        facts = link.facts
        row = rows.get(facts["label"].replace("-O", "-0"))
        if row is None:
            continue
        assert (row["from termination"], row["to termination"]) == (
            facts["near_end"],
            facts["far_end"],
        )
        assert (row["from space"], row["to space"]) == (facts["near_space"], facts["far_space"])
        assert row["from building"] == row["to building"] == facts["building"]
    assert all(all(row.values()) for row in rows.values())


def test_a_link_asked_otherwise_than_tested_is_listed_so_and_no_other() -> None:
    rows, differing = _schedule(), {}
    for entry in HELD["links"]:
        row = rows.get(entry["label"])
        if row is None:
            continue
        asked = row["configuration"].replace(" ", "-"), "Category 6A" in row["limit"]
        tested = entry["configuration"], (entry["family"], entry["category"]) == ("tia", "6A")
        if asked != tested:
            differing[entry["label"]] = (asked, tested)
    assert set(differing) == {"PW-1-05", "2A-P1-09"}
    outcomes = _outcomes()
    assert outcomes["PW-1-05"] == "lesser-limit"
    assert outcomes["2A-P1-09"] == "other-configuration"


def test_outcomes_cover_every_label_once_and_agree_with_the_tests() -> None:
    tested, outcomes = _tested(), _outcomes()
    spelled = {entry.get("tested_as", entry["label"]): entry for entry in EXPECTED["labels"]}
    assert len(outcomes) == len(EXPECTED["labels"])
    assert set(outcomes) == set(_schedule()) | {"05-32"}
    assert {label: entry["tests"] for label, entry in spelled.items()} == {
        **tested,
        "1A-P2-06": 0,
    }
    assert set(outcomes.values()) == OUTCOMES
    assert Counter(outcomes.values()) == EXPECTED["totals"]
    last = {entry["label"]: entry for entry in HELD["links"]}
    words = {"pass": "passed", "fail": "failed", "undecided": "unproven"}
    listed = ("retested", "near-miss", "untested", "lesser-limit", "other-configuration",
              "not-on-schedule", "overturned")  # fmt: skip
    for label, outcome in outcomes.items():
        if outcome not in listed:
            assert outcome == words[last[label]["recomputed"]], label
    assert outcomes["04-23"] == "overturned"
    assert [label for label, count in tested.items() if count > 1] == ["PW-1-02"]
    assert outcomes["PW-1-02"] == "retested"


def test_only_passed_and_retested_links_are_closed() -> None:
    for entry in EXPECTED["labels"]:
        assert entry["open"] == (entry["outcome"] not in ("passed", "retested"))
