"""Runs of the program, in this process or in one of their own, and a book to run it on."""

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import Result

from tests.program import DEMO, DIALECTS
from tests.program import run as run_program

Run = Callable[..., Result]
UPHELD = DEMO / "exports" / "heron-1A-P1-01.csv"
FAILED = DEMO / "exports" / "heron-1A-P1-03.csv"
OVERTURNED = DEMO / "exports" / "heron-1A-P1-04.csv"


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch) -> Run:
    """Run a command line as on a terminal of 80 columns."""
    monkeypatch.setenv("COLUMNS", "80")
    return run_program


@pytest.fixture(scope="session")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book of three demo links: upheld pass, upheld fail, overturned pass. Do not write to it."""
    folder = tmp_path_factory.mktemp("cli") / "book"
    result = run_program("gather", folder, UPHELD, FAILED, OVERTURNED, *DIALECTS)
    assert result.exit_code == 0, result.output
    return folder


INTERRUPTED = """
import os, signal, sys
left = {records}
def step(event, arguments):
    global left
    if event == "os.rename" and "sb0-" in str(arguments[1]):
        if left == 0:
            os.kill(os.getpid(), signal.SIGINT)
        left -= 1
sys.addaudithook(step)
"""


def process(
    *arguments: str | Path, interrupted: int | None = None, **options: object
) -> "subprocess.Popen[bytes]":
    """Start the program in a process of its own, as a terminal does.

    Interrupts reach it even where the tests run in the background, which ignores them. Where
    `interrupted` is given, one is sent by the process itself when it has entered so many records,
    at the step that puts the next in its place, so that no test has to be quick enough.
    """
    code = (
        "import signal; signal.signal(signal.SIGINT, signal.default_int_handler)\n"
        + ("" if interrupted is None else INTERRUPTED.format(records=interrupted))
        + "from sweepbook.cli import main; main()"
    )
    command = [sys.executable, "-c", code, *map(str, arguments)]
    environment = {**os.environ, "COLUMNS": "80"}
    return subprocess.Popen(command, env=environment, **options)  # type: ignore[call-overload, no-any-return]
