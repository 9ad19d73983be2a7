"""A sheet for each overturned verdict, and for no other."""

import json
from pathlib import Path

import pytest

from tests.program import DEMO, DIALECTS, run

from .arithmetic import sums, worked_out


@pytest.fixture(scope="module")
def sheets(demo_book: Path, tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    folder = tmp_path_factory.mktemp("objections") / "out"
    done = run("check", demo_book, "--objections", folder)
    assert "2 objections written to" in done.stderr
    return {path.name: path.read_text(encoding="utf-8") for path in folder.iterdir()}


def test_each_overturned_verdict_has_its_sheet(demo_book: Path, sheets: dict[str, str]) -> None:
    records = json.loads(run("check", "--json", demo_book).stdout)["records"]
    overturned = [one for one in records if one["judgement"] == "overturned"]
    assert len(overturned) == 2
    assert set(sheets) == {f"{one['label']}-{one['record_id'][4:12]}.txt" for one in overturned}
    for one in overturned:
        text = sheets[f"{one['label']}-{one['record_id'][4:12]}.txt"]
        failing = {m["parameter"] for m in one["margins"] if m["outcome"] == "fail"}
        assert text.count("\njudged   ") == max(1, len(failing))
        assert "please" in text.casefold()
        assert "local codes" in text


def test_a_contractor_can_work_out_what_the_sheet_says(sheets: dict[str, str]) -> None:
    (text,) = [text for name, text in sheets.items() if name.startswith("1A-P1-04")]
    whole = " ".join(text.split())
    assert "value less limit: 12.7100 - 18.0868 = -5.3768 dB" in whole
    for left, right in sums(whole.replace("MHz: ", "MHz; ")):
        assert worked_out(left) == pytest.approx(right, abs=6e-4)


def test_no_sheet_is_written_into_a_book_or_among_the_exports(demo_book: Path) -> None:
    refused = run("check", demo_book, "--objections", demo_book / "sheets")
    assert refused.exit_code == 3
    assert "Name a place outside of the book" in refused.stderr
    among = run("check", DEMO / "exports", *DIALECTS, "--objections", DEMO / "exports")
    assert among.exit_code == 3
    assert not list((DEMO / "exports").glob("*.txt"))


def test_against_a_stated_fail_speak_the_nearest_curve_and_the_sources_own_passes(
    demo_book: Path, sheets: dict[str, str]
) -> None:
    (text,) = [text for name, text in sheets.items() if name.startswith("04-23")]
    records = json.loads(run("check", "--json", demo_book).stdout)["records"]
    (entry,) = [one for one in records if one["label"] == "04-23"]
    nearest = min(
        (one for one in entry["margins"] if one["obligation"] == "required"),
        key=lambda one: one["worst_margin_db"],
    )
    assert (nearest["parameter"], nearest["pairs"]) == ("insertion_loss", ["3-6"])
    assert "\njudged            insertion loss 3-6, required" in text
    assert "stated pass       wire map, insertion loss, return loss" in text
    assert "stated fail       no part of it" in text


def test_sheets_of_a_former_run_stay_and_are_told_of(demo_book: Path, tmp_path: Path) -> None:
    run("check", demo_book, "--objections", tmp_path / "to")
    (tmp_path / "to" / "former-00000000.txt").write_text("former\n")
    again = run("check", demo_book, "--objections", tmp_path / "to")
    assert "1 other file lay in that folder" in again.stderr
    assert (tmp_path / "to" / "former-00000000.txt").read_text() == "former\n"
