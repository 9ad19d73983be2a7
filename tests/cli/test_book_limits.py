"""A limit table that lies in the book is at hand for every command on it."""

import json
import shutil
from pathlib import Path

import pytest

from .conftest import Run

PATH = "our-contract/cat6a/permanent-link"
TABLE = {
    "schema": "urn:sweepbook:limits-0",
    "path": PATH,
    "title": "Our contract",
    "document": "Our contract",
    "edition": "1",
    "published_year": 2020,
    "based_on": "tia-568.2-d/cat6a/permanent-link",
    "adjustments": [
        {"parameters": ["insertion_loss"], "tighter_by": 1.5, "unit": "dB", "source": "c"}
    ],
    "sources": {"c": "Clause 1"},
}


@pytest.fixture
def own(book: Path, tmp_path: Path) -> Path:
    folder = shutil.copytree(book, tmp_path / "book")
    (folder / "limits").mkdir()
    (folder / "limits" / "contract.json").write_text(json.dumps(TABLE))
    return folder


def test_it_is_judged_by_when_asked_for(run: Run, own: Path) -> None:
    audit = json.loads(run("check", own, "--against", PATH, "--json").stdout)
    told = {record["label"]: record["recomputed"] for record in audit["records"]}
    assert told["1A-P1-01"] == "fail"  # its margin under the base is 0.91 dB
    assert PATH in audit["digests"]["limits"]
    assert run("show", own, "1A-P1-01", "--against", PATH).exit_code == 1
    assert run("doctor", own).exit_code == 0


def test_a_limit_may_be_corrected_to_it(run: Run, own: Path) -> None:
    words = ("1A-P1-01", "limit", PATH, "--who", "K. Orme", "--why", "the contract says so")
    assert run("correct", own, *words).exit_code == 0
    (own / "limits" / "contract.json").unlink()
    refused = run("correct", own, "1A-P1-03", *words[1:])
    assert refused.exit_code == 3
    assert "into the folder `limits` of the book" in " ".join(refused.stderr.split())


def test_named_as_well_it_is_one_table(run: Run, own: Path) -> None:
    file = own / "limits" / "contract.json"
    assert run("check", own, "--against", PATH, "--limits", file).exit_code == 1


def test_a_faulty_one_is_told(run: Run, own: Path) -> None:
    (own / "limits" / "contract.json").write_text("{}")
    result = run("check", own)
    assert result.exit_code == 3
    assert str(own / "limits" / "contract.json") in result.stderr


def test_doctor_lists_every_faulty_one_and_no_sound_one(run: Run, own: Path) -> None:
    folder = own / "limits"
    first = {**TABLE, "path": "our-contract/a", "title": "A", "based_on": PATH}
    (folder / "a-is-based-on-the-next.json").write_text(json.dumps(first))
    assert run("doctor", own).exit_code == 0
    (folder / "bad.json").write_text(json.dumps({**TABLE, "path": "b/b", "titel": "B"}))
    (folder / "worse.json").write_text("{")
    result = run("doctor", own, "--json")
    assert result.exit_code == 1
    faults = {fault["place"]: fault["message"] for fault in json.loads(result.stdout)["faults"]}
    assert faults.keys() == {"limits/bad.json", "limits/worse.json"}
    assert "perhaps title is meant" in faults["limits/bad.json"]
