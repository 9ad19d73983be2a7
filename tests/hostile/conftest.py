"""The server that runs command lines, and what each may cost."""

import json
import os
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.program import DEMO, DIALECTS

SECONDS = 5.0
"""Of processor, for one command on a quiet machine."""
BUSY = 3.0
"""As many times as long may it take here: two tests that share a processor's caches and threads
slow each other, and what has no end takes longer than that all the same."""
MEBIBYTES = 500
"""At the peak, for one command, all that is imported included."""


@dataclass(frozen=True, slots=True)
class Done:
    """What became of a command: its exit code, what it printed, seconds of processor, MiB."""

    exit_code: int
    output: str
    seconds: float
    mebibytes: int

    @property
    def text(self) -> str:
        """What was printed, wherever its lines were broken."""
        return " ".join(self.output.split())


Limited = Callable[..., Done]


@pytest.fixture(scope="session")
def unlimited() -> Iterator[Limited]:
    """Run a command line as the server is asked to; it must answer, in letters that show."""
    with subprocess.Popen(
        [sys.executable, "-m", "tests.hostile.server"],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        cwd=Path(__file__).parents[2],
        env={**os.environ, "COLUMNS": "80"},
    ) as server:
        assert server.stdin is not None
        assert server.stdout is not None
        asked, answers = server.stdin, server.stdout

        def run(*words: str | Path, **limits: object) -> Done:
            request = {"words": [os.fspath(word) for word in words], **limits}
            asked.write(json.dumps(request) + "\n")
            asked.flush()
            done = Done(**json.loads(answers.readline()))
            died = "steps" in limits and done.exit_code == -signal.SIGKILL
            assert died or done.exit_code in range(4), done.output[-2000:]
            assert "Traceback" not in done.output, done.output[-2000:]
            assert all(line.isprintable() for line in done.output.splitlines())
            return done

        yield run
        asked.close()


@pytest.fixture(scope="session")
def limited(unlimited: Limited) -> Limited:
    """Run a command line within bounds of processor time and 500 MiB."""

    def run(*words: str | Path, **limits: object) -> Done:
        done = unlimited(*words, **limits)
        assert done.seconds < BUSY * SECONDS, (done.seconds, words)
        assert done.mebibytes < MEBIBYTES, (done.mebibytes, words)
        return done

    return run


@pytest.fixture(scope="session")
def book(limited: Limited, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book of one test. Do not write to it."""
    folder = tmp_path_factory.mktemp("hostile") / "book"
    assert limited("gather", folder, DEMO / "exports" / "heron-1A-P1-01.csv", *DIALECTS).text
    return folder
