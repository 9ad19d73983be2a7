"""Copies planted in the demo's exports, as files: all of them are found, and nothing else is."""

import json
import shutil
from pathlib import Path
from typing import Any

import pytest

from tests.program import DIALECTS, run

from .planting import EXPORTS, Sheet, ends_swapped, erruk_curves, noise, pairs_swapped

ORIGINALS = ("heron-1A-P1-01", "heron-1A-P1-02", "heron-1A-P1-03", "heron-1A-P1-04")
RULES = ("SET001", "SET002", "SET010", "SET011", "SET012", "SWP020")


def heron(number: int) -> Sheet:
    return Sheet.of(f"{ORIGINALS[number - 1]}.csv")


def planted() -> dict[str, Sheet]:
    """Every kind once, by the label it goes under."""
    swapped = heron(2).titled(ends_swapped).titled(pairs_swapped)
    return {
        "C-EXACT": heron(1),
        "C-NOISE": heron(2).valued(noise(1, 0.03)),
        "C-ROUNDED": heron(3).valued(lambda value: f"{value:.1f}"),
        "C-ENDS": heron(4).titled(ends_swapped),
        "C-PAIRS": heron(1).titled(pairs_swapped),
        "C-OFFSET": heron(2).valued(lambda value: f"{value + 0.5:.2f}"),
        "C-THINNED": heron(3).every(4, first=2),
        "C-LAYOUT": heron(1).with_curves(erruk_curves(0)),
        "C-ALL": swapped.valued(lambda value: f"{value - 0.31:.1f}").every(3),
    }


ORIGINAL_OF = {
    "C-EXACT": "1A-P1-01",
    "C-NOISE": "1A-P1-02",
    "C-ROUNDED": "1A-P1-03",
    "C-ENDS": "1A-P1-04",
    "C-PAIRS": "1A-P1-01",
    "C-OFFSET": "1A-P1-02",
    "C-THINNED": "1A-P1-03",
    "C-LAYOUT": "PW-1-01",
    "C-ALL": "1A-P1-02",
}


@pytest.fixture(scope="module")
def exports(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo's exports that are not packed, and the planted ones beside them."""
    folder = tmp_path_factory.mktemp("planted")
    for name in (*(f"{one}.csv" for one in ORIGINALS), "erruk-printworks-1.xml"):
        shutil.copy(EXPORTS / name, folder)
    for minute, (label, sheet) in enumerate(planted().items()):
        sheet.link(label, minute).save(folder, f"{label}.csv")
    retest = heron(1).fact("started", "2023-03-09T10:00:10+01:00").fact("purpose", "retest")
    retest.save(folder, "retest.csv")
    heron(4).fact("cable reel", "W6A-0000").valued(lambda value: f"{value:.1f}").save(
        folder, "again.csv"
    )
    made = heron(4).column("NEXT B 4-5/7-8", lambda value: f"{value + 1.2:.2f}", "NEXT A 4-5/7-8")
    made.link("C-WITHIN", 40).save(folder, "within.csv")
    return folder


def findings(*paths: Path, dialects: tuple[str, ...] = ()) -> list[dict[str, Any]]:
    """What the rules about copies find, with the label of the record where it is about one."""
    audit = json.loads(run("check", *paths, *dialects, "--json").output)
    about = [
        (record["label"], found) for record in audit["records"] for found in record["findings"]
    ]
    about += [("", found) for found in audit["findings"]]
    return [{"label": label, **found} for label, found in about if found["rule"] in RULES]


def hold(found: list[dict[str, Any]]) -> None:
    """Everything that was planted is told, tied to its original, and nothing else is."""
    ties = [
        {found["arguments"]["first"], found["arguments"]["second"]}
        for found in found
        if found["rule"] == "SET010"
    ]
    ties += [
        {label.strip('"') for label in one["arguments"]["labels"].split(", ")}
        for one in found
        if one["rule"] == "SET002"
    ]
    groups: list[set[str]] = []
    for tie in ties:
        joined = [group for group in groups if group & tie]
        groups = [group for group in groups if not group & tie] + [tie.union(*joined)]
    expected: dict[str, set[str]] = {}
    for copy, original in ORIGINAL_OF.items():
        expected.setdefault(original, {original}).add(copy)
    expected["1A-P1-04"].add("C-WITHIN")
    assert sorted(map(sorted, groups)) == sorted(map(sorted, expected.values()))
    others = [
        (one["rule"], one["label"]) for one in found if one["rule"] not in ("SET002", "SET010")
    ]
    assert sorted(others) == [("SET011", ""), ("SET012", ""), ("SWP020", "C-WITHIN")]
    (retest,) = [one for one in found if one["rule"] == "SET011"]
    assert retest["arguments"]["second_source"].startswith("retest.csv")


def test_in_loose_files_they_are_found_and_nothing_else(exports: Path) -> None:
    hold(findings(exports, dialects=DIALECTS))


def test_in_a_book_they_are_found_and_nothing_else(exports: Path, tmp_path: Path) -> None:
    assert run("gather", tmp_path / "book", exports, *DIALECTS).exit_code == 0
    found = findings(tmp_path / "book")
    hold(found)
    (ends,) = [one for one in found if "C-ENDS" in one["arguments"].values()]
    assert ends["severity"] == "warning"
    assert "C-ENDS.csv" in ends["message"] and "with the ends swapped" in ends["message"]
    assert "20 of 20 curves" in ends["message"]


def test_a_suspicion_changes_no_judgement(exports: Path) -> None:
    """The record of a copy says the same by itself and beside its original."""

    def judged(*paths: Path) -> dict[str, str]:
        audit = json.loads(run("check", *paths, *DIALECTS, "--json").output)
        return {record["record_id"]: record["judgement"] for record in audit["records"]}

    copy = exports / "C-OFFSET.csv"
    together = judged(copy, exports / "heron-1A-P1-02.csv")
    assert len(together) == 2
    assert judged(copy).items() <= together.items()
