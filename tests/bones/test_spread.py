"""Work over processes: results in order, whoever is lost, and never more given out than asked."""

import importlib
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from concurrent.futures import Executor, Future, ProcessPoolExecutor, ThreadPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import get_context
from pathlib import Path
from typing import Any

import pytest

from sweepbook import spread

MORTAL = """
import os
from pathlib import Path

def square(task):
    flag, number = Path(task[0]), task[1]
    if number == 3 and not flag.exists():
        flag.touch()
        os._exit(1)
    return number * number

def end(task):
    os._exit(1)
"""
"""Work that ends its worker without a word, in a module that a worker can import."""


KILLED = """
import os, signal
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context

from sweepbook import spread

if __name__ == "__main__":
    pool = ProcessPoolExecutor(2, get_context("spawn"), spread.end_with_parent)
    assert pool.submit(abs, -1).result() == 1
    os.kill(os.getpid(), signal.SIGKILL)
"""


@pytest.fixture
def mortal(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Any:
    (tmp_path / "mortal_work.py").write_text(MORTAL, encoding="utf-8")
    monkeypatch.syspath_prepend(tmp_path)
    return importlib.import_module("mortal_work")


def _pool() -> ProcessPoolExecutor:
    return ProcessPoolExecutor(2, get_context("spawn"))


def _backwards(task: int) -> int:
    if task < 0:
        raise ValueError(f"{task} is below 0")
    return task


def test_a_worker_that_is_lost_costs_a_retry_and_nothing_else(mortal: Any, tmp_path: Path) -> None:
    flag = tmp_path / "lost"
    tasks = [(str(flag), number) for number in range(8)]
    found = spread.in_order(mortal.square, tasks, _pool, ahead=3)
    assert list(found) == [number * number for number in range(8)]
    assert flag.exists()


def test_a_task_that_always_ends_its_worker_is_told(mortal: Any) -> None:
    with pytest.raises(spread.LostWorkers) as caught:
        list(spread.in_order(mortal.end, [1], _pool, ahead=1))
    assert "over the same records" in caught.value.message
    assert "--workers 1" in caught.value.todo


class _Breaking(Executor):
    """Works at once, and is broken from its third task on."""

    def __init__(self) -> None:
        self.tasks = 0

    def submit(self, fn: Callable[..., Any], /, *args: Any, **_: Any) -> "Future[Any]":
        self.tasks += 1
        if self.tasks > 2:
            raise BrokenProcessPool("gone")
        future: Future[Any] = Future()
        future.set_result(fn(*args))
        return future


def test_an_executor_that_takes_no_more_is_replaced_and_what_is_done_is_kept() -> None:
    done: list[int] = []

    def work(task: int) -> int:
        done.append(task)
        return -task

    assert list(spread.in_order(work, range(7), _Breaking, ahead=3)) == [-n for n in range(7)]
    assert done == list(range(7))


def test_what_the_work_raises_comes_out_at_its_place() -> None:
    found = spread.in_order(_backwards, [1, -2, 3], lambda: ThreadPoolExecutor(2), ahead=3)
    assert next(found) == 1
    with pytest.raises(ValueError, match="-2 is below 0"):
        next(found)


def test_no_more_is_taken_than_may_be_under_way() -> None:
    taken: list[int] = []

    def tasks() -> Iterator[int]:
        for task in range(10):
            taken.append(task)
            yield task

    found = spread.in_order(_backwards, tasks(), lambda: ThreadPoolExecutor(2), ahead=4)
    assert next(found) == 0
    assert taken == [0, 1, 2, 3]
    assert list(found) == list(range(1, 10))
    assert list(spread.in_order(_backwards, [], lambda: ThreadPoolExecutor(1), ahead=1)) == []


def test_no_worker_outlives_a_parent_that_was_killed(tmp_path: Path) -> None:
    """Workers have the pipe of their parent's output open: its end comes once all have ended."""
    script = tmp_path / "killed.py"
    script.write_text(KILLED, encoding="utf-8")
    done = subprocess.run([sys.executable, script], capture_output=True, timeout=60, check=False)
    assert done.returncode == -signal.SIGKILL, done.stderr
