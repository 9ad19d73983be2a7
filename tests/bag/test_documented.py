"""The commands of the README do what they say."""

import re
import shlex
import shutil
from pathlib import Path

import pytest

from tests.program import DEMO, run

ROOT = Path(__file__).parents[2]
SHOWN = re.compile(r"`sweepbook (archive \w+ [^`]+)`")


def test_the_commands_that_the_readme_shows_run(
    book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    commands = SHOWN.findall((ROOT / "README.md").read_text("utf-8"))
    assert [command.split()[1] for command in commands] == ["make", "verify"]
    shutil.copytree(book, tmp_path / "BOOK")
    shutil.copy(DEMO / "schedule.csv", tmp_path)
    monkeypatch.chdir(tmp_path)
    for command in commands:
        result = run(*shlex.split(command))
        assert result.exit_code == 0, result.output
    assert (
        "Source-Organization: Veldt & Daughters\n" in Path("library-east/bag-info.txt").read_text()
    )
