"""Corrections in a book: entered, shown wherever they tell, never in the evidence."""

import csv
import json
import shutil
import sqlite3
from pathlib import Path

import openpyxl
import pytest

from sweepbook.audit import document
from sweepbook.book import corrections, lock, store
from sweepbook.book.layout import open_book
from sweepbook.cli import correct
from sweepbook.corrections.model import Correction
from tests.program import DEMO, run

from .conftest import BY, EXPORTS


def _bytes(folder: Path) -> dict[str, bytes]:
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for kind in ("records", "sources", "dialects")
        for path in (folder / kind).rglob("*")
        if path.is_file()
    }


def test_the_evidence_stays_byte_for_byte(book: Path, gathered: Path, tmp_path: Path) -> None:
    assert _bytes(book) == _bytes(gathered)
    for folder in (book, gathered):
        run("export", folder, "--to", "json", "-o", tmp_path / f"{folder.parent.name}.json")
    one, two = (
        sorted(json.loads(path.read_bytes()), key=lambda record: record["record_id"])
        for path in (tmp_path / f"{folder.parent.name}.json" for folder in (book, gathered))
    )
    assert one == two
    shown = json.loads(run("show", book, "1A-P1-11", "--json").stdout)
    assert shown["link"]["label"] == "1A-P1-01"


def test_it_is_shown_wherever_the_corrected_value_shows(book: Path, tmp_path: Path) -> None:
    told = 'link.label from "1A-P1-01" to "1A-P1-11" (K. Orme,'
    checked = run("check", book)
    assert told in " ".join(checked.stdout.split())
    assert "1A-P1-11  " in checked.stdout
    assert told in " ".join(run("show", book, "1A-P1-11").stdout.split())
    assert "1A-P1-11" in run("correct", book).stdout
    audit = json.loads(run("check", book, "--json").stdout)
    assert list(document.problems(audit)) == []
    (entry,) = [record for record in audit["records"] if record["corrections"]]
    assert entry["label"] == "1A-P1-11"
    assert entry["corrections"][0]["from"] == "1A-P1-01"
    assert len(audit["digests"]["corrections"]) == 64
    sheet = tmp_path / "o.xlsx"
    run("export", book, "--to", "xlsx", "-o", sheet)
    rows = list(openpyxl.load_workbook(sheet)["Corrections"].iter_rows(values_only=True))
    assert rows[1][:5] == ("1A-P1-11", "link.label", "1A-P1-01", "1A-P1-11", "K. Orme")
    database = tmp_path / "o.sqlite"
    run("export", book, "--to", "as-built", "-o", database)
    with sqlite3.connect(database) as connection:
        query = "SELECT label, said_before, said_now FROM correction JOIN test ON id = test_id"
        assert connection.execute(query).fetchall() == [("1A-P1-11", "1A-P1-01", "1A-P1-11")]


def test_a_corrected_limit_is_the_one_judged_under(book: Path) -> None:
    lesser = "TIA-568.2-D Category 6 Permanent Link"
    assert run("correct", book, "1A-P1-11", "limit", lesser, *BY).exit_code == 0
    audit = json.loads(run("check", book, "--json").stdout)
    (entry,) = [record for record in audit["records"] if record["label"] == "1A-P1-11"]
    assert entry["limit"]["path"] == "tia-568.2-d/cat6/permanent-link"
    assert "COR002" in {finding["rule"] for finding in entry["findings"]}


def test_one_that_no_longer_fits_is_a_finding(book: Path) -> None:
    table = book / "corrections.csv"
    table.write_bytes(table.read_bytes().replace(b",1A-P1-01,", b",1A-P1-09,"))
    checked = run("check", book)
    assert checked.exit_code == 1
    assert "COR001" in checked.stdout
    listed = run("correct", book)
    assert listed.exit_code == 1
    assert "not in use: 1A-P1-01" in listed.stdout
    assert run("doctor", book).exit_code == 1  # the journal tells of another correction


def test_the_journal_knows_what_the_command_entered_and_not_what_a_hand_did(book: Path) -> None:
    assert run("doctor", book).exit_code == 0
    with (book / "corrections.csv").open("a", newline="") as stream:
        record_id = next((book / "records").rglob("*.json")).stem
        by_hand = [record_id, "test.operator", "", "op-9", "T. Vane", "2024-05-02", "asked"]
        csv.writer(stream).writerow(by_hand)
    told = run("doctor", book)
    assert told.exit_code == 0
    assert "wrote it by hand" in " ".join(told.stdout.split())
    assert run("check", book).exit_code in (0, 1)


def test_one_that_waits_for_another_corrects_what_that_made(
    book: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The other enters its correction of the same field while this one waits for the lock."""
    held = lock.held(book / ".lock")
    held.__enter__()

    def meanwhile() -> None:
        opened = open_book(book)
        current = store.contents_of(opened).entries()
        record_id = next(one.listed.record_id for one in current if one.listed.label == "1A-P1-03")
        words = ("test.operator", "op-17", "op-18", "T. Vane", "2024-05-02", "asked")
        corrections.enter(opened, Correction(record_id, *words))
        held.__exit__(None, None, None)

    monkeypatch.setattr(correct, "say_waiting", meanwhile)
    assert run("correct", book, "1A-P1-03", "operator", "op-19", *BY).exit_code == 0
    listed = run("correct", book)
    assert listed.exit_code == 0, listed.output
    assert 'from "op-18" to "op-19"' in " ".join(listed.output.split())
    assert run("doctor", book).exit_code == 0


def test_a_correction_outlives_a_better_reading(book: Path, tmp_path: Path) -> None:
    before = {path.name for path in book.rglob("sb0-*.json")}
    changed = tmp_path / "heron.toml"
    text = (DEMO / "dialects" / "brindlewick-heron-5.toml").read_text("utf-8")
    changed.write_text(text.replace("test.operator", "link.near.place.unit", 1), "utf-8")
    again = run("gather", book, EXPORTS[0], f"--dialect={changed}")
    assert again.exit_code == 0, again.output
    assert {path.name for path in book.rglob("sb0-*.json")} > before
    assert "1A-P1-11  " in run("check", book).stdout
    assert run("correct", book).exit_code == 0


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("1A-P1-09", "label", "X", *BY), "no test has the label"),
        (("1A-P1-03", "floor", "2", *BY), "may mean"),
        (("1A-P1-03", "stated.overall", "pass", *BY), "is evidence"),
        (("1A-P1-03", "label", "X"), "needs LABEL, FIELD, NEW, --who and --why"),
        (("1A-P1-03", "label", "1A-P1-03", *BY), "already"),
        (("1A-P1-03", "label", "X", *BY, "--from", "Y"), "not 'Y'"),
        (("1A-P1-03", "purpose", "fun", *BY), "is no purpose"),
        (("1A-P1-03", "configuration", "chanel", *BY), "is no configuration"),
    ],
)
def test_what_cannot_be_entered_is_told_and_nothing_is_written(
    book: Path, arguments: tuple[str, ...], told: str
) -> None:
    before = (book / "corrections.csv").read_bytes(), (book / "journal.jsonl").read_bytes()
    result = run("correct", book, *arguments)
    assert result.exit_code == 3
    assert told in result.stderr
    after = (book / "corrections.csv").read_bytes(), (book / "journal.jsonl").read_bytes()
    assert after == before


def test_two_tests_of_one_label_are_told_apart_by_their_ids(book: Path) -> None:
    run("correct", book, "1A-P1-03", "label", "1A-P1-11", *BY)
    result = run("correct", book, "1A-P1-11", "operator", "op-9", *BY)
    assert result.exit_code == 3
    assert "2 tests are of 1A-P1-11" in result.stderr
    ids = [path.stem for path in book.rglob("sb0-*.json")]
    assert run("correct", book, ids[0][:16], "operator", "op-9", *BY).exit_code == 0


def test_what_was_stated_under_another_limit_is_not_held_against_the_corrected_one(
    book: Path,
) -> None:
    lesser = "tia-568.2-d/cat6/permanent-link"
    for said in (False, True):
        told = json.loads(run("check", book, "--json").stdout)
        (entry,) = [record for record in told["records"] if record["label"] == "1A-P1-03"]
        rules = {finding["rule"] for finding in entry["findings"]}
        skipped = {rule["rule"] for rule in entry["rules_not_run"]}
        assert ("COR002" in rules) is said
        assert ("VRD002" in skipped) is said
        assert "VRD002" not in rules
        assert ("as corrected by K. Orme" in entry["reason"]) is said
        assert run("correct", book, "1A-P1-03", "limit", lesser, *BY).exit_code in (0, 3)
    against = json.loads(run("check", book, "--json", "--against", lesser).stdout)
    assert not any("as corrected by" in record["reason"] for record in against["records"])


@pytest.mark.parametrize(
    ("limit", "said"),
    [
        ("iso class zeta", "No limit table goes by 'iso class zeta'"),
        ("tia-568.2-d/cat6a/chanel", "Perhaps tia-568.2-d/cat6a/channel"),
        ("Cat 6A", ""),
        ("Cat 8 channel", ""),
    ],
)
def test_a_limit_that_leads_to_no_table_is_refused(book: Path, limit: str, said: str) -> None:
    """The limits of Category 8 are too doubtful to judge by, and a link may have been tested to
    them all the same. A name without configuration is narrowed by the record's own."""
    result = run("correct", book, "1A-P1-11", "limit", limit, *BY)
    assert result.exit_code == (3 if said else 0), result.output
    assert said in " ".join(result.stderr.split())


def test_a_correction_that_was_taken_back_tells_and_changes_nothing(
    gathered: Path, tmp_path: Path
) -> None:
    """Both entries stay for whoever asks later; the test is judged as if there were none."""
    folder = shutil.copytree(gathered, tmp_path / "book")
    told = ("reason", "judgement", "limit", "findings", "rules_not_run", "label")

    def judged() -> dict[str, object]:
        (one, *_) = json.loads(run("check", folder, "--json").stdout)["records"]
        return {name: one[name] for name in told}

    before = judged()
    stated = json.loads(run("show", folder, "1A-P1-01", "--json").stdout)["test"]["limit"]
    for field, other, own in (
        ("label", "1A-P1-99", "1A-P1-01"),
        ("limit", "tia-568.2-d/cat6/permanent-link", stated["as_stated"]),
    ):
        assert run("correct", folder, "1A-P1-01", field, other, *BY).exit_code == 0
        named = other if field == "label" else "1A-P1-01"
        assert judged() != before
        assert run("correct", folder, named, field, own, *BY).exit_code == 0
    assert judged() == before
    listed = run("correct", folder)
    assert listed.exit_code == 0
    assert listed.stdout.count("taken back: ") == 4
    shown = " ".join(run("show", folder, "1A-P1-01").stdout.split())
    assert shown.count("; taken back since") == shown.count("; this takes it back") == 2
    assert run("export", folder, "--to", "tables", "-o", tmp_path / "t").exit_code == 0
    with (tmp_path / "t/corrections.csv").open(newline="", encoding="utf-8") as stream:
        assert [row["in_use"] for row in csv.DictReader(stream)] == 4 * ["taken back"]
    with (tmp_path / "t/links.csv").open(newline="", encoding="utf-8") as stream:
        assert {row["corrected"] for row in csv.DictReader(stream)} == {""}


def test_an_operator_who_is_left_out_is_not_taken_back(book: Path, tmp_path: Path) -> None:
    assert run("correct", book, "1A-P1-11", "operator", "op-99", *BY).exit_code == 0
    asked = ("--to", "tables", "--without-people", "-o", tmp_path / "t")
    assert run("export", book, *asked).exit_code == 0
    with (tmp_path / "t/corrections.csv").open(newline="", encoding="utf-8") as stream:
        assert [row["in_use"] for row in csv.DictReader(stream)] == ["yes", "yes"]
