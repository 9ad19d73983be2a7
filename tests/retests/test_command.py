"""The command and the sheet, on the demo's book: the list is what the planted faults leave."""

import csv
import json
from importlib.resources import files
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from jsonschema import Draft202012Validator
from openpyxl import load_workbook

from sweepbook.cli import main

DEMO = Path(str(files("sweepbook_demo")))
DIALECTS = tuple(f"--dialect={path}" for path in sorted((DEMO / "dialects").glob("*.toml")))
SCHEMA = files("sweepbook_schemas").joinpath("retests-0.schema.json")


def _run(*arguments: str | Path) -> Result:
    result = CliRunner().invoke(main, [str(argument) for argument in arguments])
    assert "Traceback" not in result.output
    return result


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """All of the demo."""
    folder = tmp_path_factory.mktemp("retests") / "book"
    assert _run("gather", folder, DEMO / "exports", *DIALECTS).exit_code == 0
    return folder


def test_the_document_the_table_and_the_sheet_hold_the_same_links(
    book: Path, tmp_path: Path
) -> None:
    result = _run("retests", book, "--json", "-o", tmp_path / "list.csv")
    assert result.exit_code == 1
    told = json.loads(result.stdout)
    assert list(Draft202012Validator(json.loads(SCHEMA.read_bytes())).iter_errors(told)) == []
    audit = {
        record["record_id"]: record
        for record in json.loads(_run("check", book, "--json").stdout)["records"]
    }
    good = {
        record["label"]
        for record in audit.values()
        if record["recomputed"] == "pass" and record["judgement"] == "upheld"
    }
    rest = {record["label"] for record in audit.values()} - good
    listed = [one["label"] for one in told["retests"]]
    assert set(listed) == rest
    assert all(one["reason"] == audit[one["record_id"]]["reason"] for one in told["retests"])
    with (tmp_path / "list.csv").open(newline="", encoding="utf-8") as stream:
        assert [row["label"] for row in csv.DictReader(stream)] == listed
    assert _run("export", book, "--to", "xlsx", "-o", tmp_path / "w.xlsx").exit_code == 0
    sheet = load_workbook(tmp_path / "w.xlsx")["To retest"]
    assert [row[0] for row in sheet.iter_rows(min_row=2, values_only=True)] == listed


def test_the_lines_carry_a_caution_and_the_end_to_look_at(book: Path) -> None:
    text = " ".join(_run("retests", book).stdout.split())
    assert "make sure that it carries no service" in text
    assert "near end (K1-P1-03), pairs 3-6/4-5" in text


def test_a_list_without_links_is_clean(book: Path, tmp_path: Path) -> None:
    good = _run("show", book, "1A-P1-01", "--json").stdout
    (tmp_path / "good.json").write_text(good, encoding="utf-8")
    result = _run("retests", tmp_path / "good.json")
    assert result.exit_code == 0
    assert "0 links" in result.stdout
