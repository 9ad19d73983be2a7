"""What the README shows is what the program prints."""

import re
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

from sweepbook.cli import main

ROOT = Path(__file__).parents[2]
SHOWN = re.compile(r"<!-- demo output: begin -->\n(.*?)<!-- demo output: end -->", re.DOTALL)
LEFT_OUT = "    ...\n"


def shown() -> list[str]:
    """The passages of the demo's output that the README shows, without their indent."""
    found = SHOWN.search((ROOT / "README.md").read_text(encoding="utf-8"))
    assert found is not None
    passages = found[1].strip("\n").split(LEFT_OUT)
    return [re.sub(r"(?m)^ {4}", "", passage).strip("\n") for passage in passages]


def test_the_readme_shows_the_demos_real_output(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.setattr(sys, "argv", [".venv/bin/sweepbook", "demo"])
    printed = CliRunner().invoke(main, ["demo"]).output
    passages = shown()
    assert len(passages) > 3
    for passage in passages:
        assert passage in printed


def test_the_commands_of_the_readme_are_those_of_the_program() -> None:
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    rows = re.findall(r"(?m)^\| ((?:`\w+`(?:, )?)+) \|", text)
    named = {name for row in rows for name in re.findall(r"`(\w+)`", row)}
    printed = CliRunner().invoke(main, ["--help"]).output
    listed = set(re.findall(r"(?m)^  (\w+)  +\w", printed.partition("Commands:")[2]))
    assert named == listed
