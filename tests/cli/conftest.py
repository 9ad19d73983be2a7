"""Runs of the program, in this process or in one of their own, and a book to run it on."""

import os
import subprocess
import sys
from collections.abc import Callable
from importlib.resources import files
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from sweepbook.cli import main

Run = Callable[..., Result]
DEMO = Path(str(files("sweepbook_demo")))
DIALECTS = tuple(f"--dialect={path}" for path in sorted((DEMO / "dialects").glob("*.toml")))
UPHELD = DEMO / "exports" / "heron-1A-P1-01.csv"
FAILED = DEMO / "exports" / "heron-1A-P1-03.csv"
OVERTURNED = DEMO / "exports" / "heron-1A-P1-04.csv"


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch) -> Run:
    """Run a command line in this process; whatever happens, no traceback may show."""
    monkeypatch.setenv("COLUMNS", "80")

    def call(*arguments: str | Path) -> Result:
        result = CliRunner().invoke(main, [str(argument) for argument in arguments])
        assert result.exception is None or isinstance(result.exception, SystemExit)
        assert "Traceback" not in result.output
        return result

    return call


@pytest.fixture(scope="session")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book of three demo links: upheld pass, upheld fail, overturned pass. Do not write to it."""
    folder = tmp_path_factory.mktemp("cli") / "book"
    arguments = ["gather", str(folder), *map(str, (UPHELD, FAILED, OVERTURNED)), *DIALECTS]
    result = CliRunner().invoke(main, arguments)
    assert result.exit_code == 0, result.output
    return folder


def process(*arguments: str | Path, **options: object) -> "subprocess.Popen[bytes]":
    """Start the program in a process of its own."""
    code = "import sys; from sweepbook.cli import main; main()"
    command = [sys.executable, "-c", code, *map(str, arguments)]
    environment = {**os.environ, "COLUMNS": "80"}
    return subprocess.Popen(command, env=environment, **options)  # type: ignore[call-overload, no-any-return]
