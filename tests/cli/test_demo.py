"""`sweepbook demo` does the whole job, and its judgements are those the model's truth tells."""

import json
from pathlib import Path

import pytest

from sweepbook.text import width

from .conftest import DEMO, Run

JUDGEMENTS = ("upheld", "overturned", "unproven", "unstated")


def _rows(output: str) -> dict[str, list[str]]:
    """The first line of each row of the table, by label, in words."""
    lines = [line.split() for line in output.splitlines()]
    return {words[0]: words for words in lines if words and words[-1] in JUDGEMENTS}


@pytest.fixture
def truth() -> dict[str, dict[str, str]]:
    """What the model says of each link, by label; written without sweepbook."""
    loaded = json.loads((DEMO / "truth.json").read_bytes())
    return {link["label"]: link for link in loaded["links"]}


def test_the_demo_judges_as_the_model_knows_and_can_be_run_twice(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, truth: dict[str, dict[str, str]]
) -> None:
    monkeypatch.chdir(tmp_path)
    first = run("demo")
    assert first.exit_code == 0
    folder = tmp_path / "sweepbook-demo"
    assert (folder / "book" / "book.json").is_file()
    assert (folder / "handover.xlsx").is_file()
    rows = _rows(first.stdout)
    assert {label: words[-1] for label, words in rows.items()} == {
        label: link["judgement"] for label, link in truth.items()
    }
    assert {label: words[1] for label, words in rows.items()} == {
        label: link["stated"] or "none" for label, link in truth.items()
    }
    last = first.stdout.splitlines()[-2:]
    assert last[0].endswith("sweepbook-demo/handover.xlsx")
    assert last[1].endswith("sweepbook check sweepbook-demo/book")
    assert all(width(line) <= 80 for line in first.stdout.splitlines())
    again = run("demo")
    assert again.exit_code == 0
    assert _rows(again.stdout) == rows
    assert run("doctor", folder / "book").exit_code == 0


def test_the_demos_workbook_opens_in_another_library(run: Run, tmp_path: Path) -> None:
    from openpyxl import load_workbook

    assert run("demo", tmp_path / "elsewhere").exit_code == 0
    workbook = load_workbook(tmp_path / "elsewhere" / "handover.xlsx", read_only=True)
    texts = {
        str(cell.value) for sheet in workbook for row in sheet.iter_rows() for cell in row
    }  # fmt: skip
    workbook.close()
    assert {"1A-P1-04", "overturned"} <= texts
