"""`sweepbook demo` does the whole job, and its judgements are those the model's truth tells."""

import json
from pathlib import Path

import click
import pytest

from sweepbook.cli import main
from sweepbook.cli.called import program
from sweepbook.registry import load
from sweepbook.text import width
from tests.program import DEMO

from .conftest import Run

JUDGEMENTS = ("upheld", "overturned", "unproven", "unstated")


def _rows(output: str) -> list[tuple[str, str, str]]:
    """Label, stated verdict and judgement of each row of the table, sorted."""
    lines = [line.split() for line in output.splitlines() if not line.startswith(" ")]
    rows = [words for words in lines if words and words[-1] in JUDGEMENTS]
    return sorted((words[0], words[1], words[-1]) for words in rows)


@pytest.fixture
def truth() -> list[tuple[str, str, str]]:
    """What the model says of each test in a format that is installed; written without sweepbook."""
    links = json.loads((DEMO / "truth.json").read_bytes())["links"]
    suffixes = {suffix for entry in load([]).formats.values() for suffix in entry.suffixes}
    return sorted(
        (link["label"], link["stated"] or "none", link["judgement"])
        for link in links
        if Path(link["file"].removesuffix(".gz")).suffix in suffixes
    )


def test_the_demo_judges_as_the_model_knows_and_can_be_run_twice(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, truth: list[tuple[str, str, str]]
) -> None:
    monkeypatch.chdir(tmp_path)
    first = run("demo")
    assert first.exit_code == 0
    folder = tmp_path / "sweepbook-demo"
    assert (folder / "book" / "book.json").is_file()
    assert (folder / "handover.xlsx").is_file()
    assert (folder / "report.html").is_file()
    rows = _rows(first.stdout)
    assert len(truth) >= 20
    assert rows == truth
    last = first.stdout.splitlines()[-2:]
    assert last[0].endswith("sweepbook-demo/report.html, handover.xlsx or as-built.sqlite")
    assert last[1] == "Run next: sweepbook retests sweepbook-demo/book"
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
    assert {"RR-20", "RR-02", "read off the outlet; none is called RR-20"} <= texts


@pytest.mark.parametrize(
    ("called", "on_path", "told"),
    [
        (".venv/bin/sweepbook", False, ".venv/bin/sweepbook"),
        ("my tools/sweepbook", False, "'my tools/sweepbook'"),
        ("bin/sweepbook", True, "sweepbook"),
        ("somewhere/sweepbook/__main__.py", False, "python -m sweepbook"),
    ],
)
def test_what_to_run_next_starts_the_program_that_was_started(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, called: str, on_path: bool, told: str
) -> None:
    monkeypatch.chdir(tmp_path)
    script = tmp_path / called
    script.parent.mkdir(parents=True)
    script.touch(0o755)
    monkeypatch.setattr("sys.argv", [called, "demo"])
    monkeypatch.setenv("PATH", str(script.parent) if on_path else "/nowhere")
    with click.Context(main, info_name="python -m sweepbook" if "main" in called else "sweepbook"):
        assert program() == told
