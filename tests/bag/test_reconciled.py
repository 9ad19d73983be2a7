"""The reconciliation of a bag is repeated from what lies in it; another standing is told."""

import json
import shutil
from pathlib import Path

import pytest

from tests.program import DEMO, run

from .conftest import Reseal
from .test_verify import Json, change, verified

COLUMNS = ("--column", "label=Circuit ref", "--column", "limit=To be tested to")
SCHEME = """
schema = "urn:sweepbook:label-scheme-0"
name = "demo"
[[labels]]
template = "{from_floor:digits}{from_space:letters}-{from_panel}-{from_port}"
"""


def test_it_is_repeated_and_each_link_stands_where_it_stood(made: Path) -> None:
    document = verified(made, 0)["reconciliation"]
    kept = json.loads((made / "data/reconciliation.json").read_bytes())
    assert document["links"] == len(kept["links"])
    assert document["states"] == kept["summary"]
    assert (document["same"], document["differences"]) == (True, [])
    said = " ".join(run("archive", "verify", made).stdout.split())
    assert "The schedule was held against them again: " in said
    assert "Each stands where it stood." in said


def test_a_standing_that_somebody_embellished_is_told(bag: Path, reseal: Reseal) -> None:
    def proved(document: Json) -> None:
        (link,) = [one for one in document["links"] if one["label"] == "1A-P1-03"]
        assert link["state"] == "failed"
        link["state"], link["open"], link["reason"] = "passed", False, ""

    change(bag / "data/reconciliation.json", proved)
    reseal()
    document = verified(bag, 1)
    assert document["audit"]["same"]
    (one,) = document["reconciliation"]["differences"]
    assert (one["kind"], one["label"], one["grave"]) == ("link", "1A-P1-03", True)
    assert "state was passed and is failed; open was False and is True" in one["message"]
    said = " ".join(run("archive", "verify", bag).stdout.split())
    assert "the link stands elsewhere: 1A-P1-03: " in said
    assert "1 difference from what the bag says." in said


def test_a_row_that_was_taken_out_of_the_schedule_is_told(bag: Path, reseal: Reseal) -> None:
    (file,) = (bag / "data/schedule").iterdir()
    rows = file.read_text("utf-8").splitlines(keepends=True)
    file.write_text("".join(row for row in rows if "1A-P1-02" not in row), "utf-8")
    reseal()
    found = verified(bag, 1)["reconciliation"]["differences"]
    assert {"schedule", "link"} <= {one["kind"] for one in found}
    assert any(one["label"] == "1A-P1-02" and "does not now" in one["message"] for one in found)


def test_other_words_are_told_and_are_no_difference(bag: Path, reseal: Reseal) -> None:
    def otherwise(document: Json) -> None:
        document["links"][0]["reason"] = "It was said otherwise."

    change(bag / "data/reconciliation.json", otherwise)
    reseal()
    (one,) = verified(bag, 0)["reconciliation"]["differences"]
    assert (one["kind"], one["grave"]) == ("words", False)


def test_totals_that_somebody_embellished_are_told(bag: Path, reseal: Reseal) -> None:
    def none_open(document: Json) -> None:
        document["summary"]["failed"] = document["open"] = 0
        document["label_scheme"] = {"name": "x", "sha256": "0" * 64}

    change(bag / "data/reconciliation.json", none_open)
    reseal()
    told = verified(bag, 1)["reconciliation"]["differences"]
    assert {one["message"].partition(" was ")[0] for one in told} >= {"summary.failed", "open"}
    assert all(one["grave"] for one in told)


def test_a_second_row_for_a_link_is_told(bag: Path, reseal: Reseal) -> None:
    def twice(document: Json) -> None:
        (link,) = [one for one in document["links"] if one["label"] == "1A-P1-03"]
        document["links"].insert(0, {**link, "state": "passed", "open": False})

    change(bag / "data/reconciliation.json", twice)
    reseal()
    told = verified(bag, 1)["reconciliation"]["differences"]
    assert {(one["kind"], one["label"]) for one in told} == {("link", "1A-P1-03")}
    assert "state was passed and is failed" in told[0]["message"]
    assert "does not now" in told[1]["message"]


def test_a_schedule_without_its_reconciliation_is_told(bag: Path, reseal: Reseal) -> None:
    (bag / "data/reconciliation.json").unlink()
    reseal()
    why = verified(bag, 1)["reconciliation_not_repeated"]
    assert why.startswith("data/reconciliation.json is missing, and the bag has a cable schedule")


@pytest.mark.parametrize(
    ("lost", "told"),
    [("data/schedule/schedule.csv", "schedule.csv"), ("data/reconciliation.json", "is no recon")],
)
def test_what_is_lost_is_told_and_the_audit_is_repeated_all_the_same(
    bag: Path, reseal: Reseal, lost: str, told: str
) -> None:
    if lost.endswith(".json"):
        (bag / lost).write_text("{}")
    else:
        (bag / lost).unlink()
    reseal()
    document = verified(bag, 1)
    assert document["audit"]["same"]
    assert document["reconciliation"] is None
    assert told in document["reconciliation_not_repeated"]


def test_columns_label_scheme_and_spellings_are_those_of_the_bag(
    book: Path, tmp_path: Path
) -> None:
    """What was said of the schedule when the bag was made is told in it, and used again."""
    rows = (DEMO / "schedule.csv").read_text("utf-8").splitlines()
    titles = rows[0].split(",")
    renamed = {"label": "Circuit ref", "limit": "To be tested to"}
    head = ",".join(renamed.get(title.casefold(), title) for title in titles)
    assert head != rows[0]
    schedule, scheme = tmp_path / "plan.csv", tmp_path / "labels.toml"
    schedule.write_text("\n".join([head, *rows[1:]]) + "\n", "utf-8")
    scheme.write_text(SCHEME, "utf-8")
    own = Path(shutil.copytree(book, tmp_path / "own"))
    (own / "project.toml").write_text(
        'schema = "urn:sweepbook:project-0"\n[places.building]\n"Main House" = "House A"\n'
    )
    words = ("--schedule", schedule, *COLUMNS, "--label-scheme", scheme)
    assert run("archive", "make", own, tmp_path / "bag", *words).exit_code == 0
    about = json.loads((tmp_path / "bag/data/reconciliation.json").read_bytes())
    assert about["schedule"]["columns_named"] == {v: renamed[v] for v in ("label", "limit")}
    assert about["label_scheme"]["name"] == "demo"
    shutil.rmtree(own)
    assert verified(tmp_path / "bag", 0)["reconciliation"]["differences"] == []
