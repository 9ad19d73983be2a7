"""Progress shows on a terminal after a second, wipes itself, and is silent in a pipe."""

import io
import sys

import pytest

from sweepbook.cli import progress
from sweepbook.cli.progress import Progress


class Terminal(io.StringIO):
    """A stderr that a person looks at."""

    def isatty(self) -> bool:
        return True


class Clock:
    """A clock that the test moves."""

    def __init__(self) -> None:
        self.now = 0.0

    def monotonic(self) -> float:
        return self.now


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> Clock:
    clock = Clock()
    monkeypatch.setattr(progress, "time", clock)
    return clock


def test_nothing_shows_within_the_first_second(
    clock: Clock, monkeypatch: pytest.MonkeyPatch
) -> None:
    terminal = Terminal()
    monkeypatch.setattr(sys, "stderr", terminal)
    with Progress("files gathered") as line:
        for _ in range(9):
            clock.now += 0.1
            line.step("a.csv")
    assert terminal.getvalue() == ""


def test_after_a_second_it_shows_the_count_and_wipes_it(
    clock: Clock, monkeypatch: pytest.MonkeyPatch
) -> None:
    terminal = Terminal()
    monkeypatch.setattr(sys, "stderr", terminal)
    with Progress("files gathered", 30) as line:
        clock.now = 1.5
        line.step("b\x1b.csv")
        shown = terminal.getvalue()
    assert shown == "\r1 of 30 files gathered b\\x1b.csv"
    assert terminal.getvalue() == shown + "\r" + " " * (len(shown) - 1) + "\r"


def test_a_pipe_stays_clean(clock: Clock, monkeypatch: pytest.MonkeyPatch) -> None:
    pipe = io.StringIO()
    monkeypatch.setattr(sys, "stderr", pipe)
    with Progress("files gathered") as line:
        clock.now = 100
        assert list(line.over("abc")) == ["a", "b", "c"]
    assert pipe.getvalue() == ""
