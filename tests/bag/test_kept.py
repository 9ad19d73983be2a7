"""A bag of 26 November 2026 that stays as it is: every later version has to read and prove it.

Four tests of invented links: exports of the demo's tester up to 100 MHz, two of them at every
twelfth frequency, one at every sixteenth; with a job, a correction, an accepted finding and a
schedule.
"""

import json
import zipfile
from hashlib import sha256
from pathlib import Path
from typing import Any

import bagit
import pytest

from tests.independent import from_bag
from tests.program import run

PACKED = Path(__file__).parent / "kept" / "harbour-office.zip"
DIGEST = "ad9fdfede18f34f26645bd8d57b3423604fa7da8780ca0d33198a215ea5cdcbe"
"""SHA-256 of the file."""

JUDGED = {
    "0G-P3-01": ("pass", "pass", "upheld"),
    "0G-P3-02": ("fail", "fail", "upheld"),
    "0G-P3-03": ("pass", "fail", "overturned"),
    "0G-P3-04": ("pass", "undecided", "unproven"),
}
"""Stated, recomputed and judged by label. The second and the third fail by what was planted in the
demo's exports 1A-P1-03 and 1A-P1-04; the last is too coarse to prove a pass."""


@pytest.fixture(scope="module")
def unpacked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("kept")
    with zipfile.ZipFile(PACKED) as archive:
        archive.extractall(folder)
    return folder / "harbour-office"


def test_the_bag_is_the_one_that_was_kept() -> None:
    assert sha256(PACKED.read_bytes()).hexdigest() == DIGEST


def test_its_form_is_that_of_version_1_and_of_bagit(unpacked: Path) -> None:
    bagit.Bag(str(unpacked)).validate()
    assert (
        json.loads((unpacked / "data/audit.json").read_bytes())["schema"] == "urn:sweepbook:audit-1"
    )
    records = [json.loads(file.read_bytes()) for file in unpacked.glob("data/book/records/*/*")]
    assert [record["schema"] for record in records] == 4 * ["urn:sweepbook:record-1"]


def test_this_version_proves_it_and_comes_to_the_same_judgements() -> None:
    """Rules may be mended and find other things; a judgement or a figure may not become another."""
    document: dict[str, Any] = json.loads(run("archive", "verify", PACKED, "--json").stdout)
    assert document["faults"] == document["book"] == []
    audit = document["audit"]
    assert audit["judgements"] == {"upheld": 2, "overturned": 1, "unproven": 1, "unstated": 0}
    assert {one["kind"] for one in audit["differences"]} <= {"finding", "words"}
    again = document["reconciliation"]
    assert again["same"]
    assert again["links"] == 5


def test_what_it_says_is_what_was_known_then(unpacked: Path) -> None:
    audit = json.loads((unpacked / "data/audit.json").read_bytes())
    told = {e["label"]: (e["stated"], e["recomputed"], e["judgement"]) for e in audit["records"]}
    assert told == JUDGED
    assert audit["job"]["warranty_years"] == 25
    links = json.loads((unpacked / "data/reconciliation.json").read_bytes())["links"]
    assert [link["label"] for link in links][-1] == "0G-P3-05"


def test_the_second_reader_comes_to_the_same_margins(unpacked: Path) -> None:
    answer = from_bag.judge(unpacked)
    assert answer["differences"] == []
    assert answer["compared"] > 250
