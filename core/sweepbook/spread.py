"""Work spread over processes: results in the order of the tasks; a lost worker costs a retry."""

import os
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import BrokenExecutor, Executor, Future
from multiprocessing import parent_process
from threading import Thread
from typing import TypeVar

from sweepbook.errors import SweepbookError

MOST_LOST = 3
"""Workers that may be lost over one task before it is given up."""

Task = TypeVar("Task")
Result = TypeVar("Result")


class LostWorkers(SweepbookError):
    """Workers ended again and again over the same task."""


def in_order(
    work: Callable[[Task], Result],
    tasks: Iterable[Task],
    start: Callable[[], Executor],
    ahead: int,
) -> Iterator[Result]:
    """Yield what becomes of each task, in the order of the tasks.

    Any executor will do that runs a function elsewhere: processes here, or those of a cluster.

    Args:
        work: what is done with a task; it and the task must be fit to be sent to a worker.
        tasks: taken as they are needed.
        start: gives an executor, and another one when that has broken.
        ahead: tasks that are given out before the first of them is done; their results wait here.

    Raises:
        LostWorkers: one task was lost with its worker again and again.
        Exception: whatever the work raises.
    """
    coming, lost, executor = iter(tasks), 0, start()
    waiting: deque[tuple[Task, Future[Result]]] = deque()
    try:
        while True:
            for task in coming:
                waiting.append((task, _given(executor, work, task)))
                if len(waiting) >= ahead:
                    break
            if not waiting:
                return
            try:
                result = waiting[0][1].result()
            except BrokenExecutor as error:
                lost += 1
                if lost > MOST_LOST:
                    raise _given_up() from error
                executor.shutdown(wait=False, cancel_futures=True)
                executor = start()
                waiting = deque(
                    (task, future if _is_done(future) else _given(executor, work, task))
                    for task, future in waiting
                )
                continue
            lost = 0
            waiting.popleft()
            yield result
    finally:
        executor.shutdown(cancel_futures=True)


def end_with_parent() -> None:
    """Have this process end as soon as the one that started it has ended, killed or not.

    Workers of a pool wait for tasks for ever where nobody could tell them that none will come.
    """
    parent = parent_process()
    if parent is None:
        return

    def watch() -> None:
        parent.join()
        os._exit(1)

    Thread(target=watch, daemon=True).start()


def _given(executor: Executor, work: Callable[[Task], Result], task: Task) -> "Future[Result]":
    """The task, given to the executor; a broken one tells so when the result is asked for."""
    try:
        return executor.submit(work, task)
    except BrokenExecutor as error:
        broken: Future[Result] = Future()
        broken.set_exception(error)
        return broken


def _is_done(future: "Future[Result]") -> bool:
    """Whether a result is there, or a fault of the work itself."""
    return (
        future.done()
        and not future.cancelled()
        and not isinstance(future.exception(), BrokenExecutor)
    )


def _given_up() -> LostWorkers:
    return LostWorkers(
        f"A worker process ended {MOST_LOST + 1} times over the same records.",
        "It may have run out of memory: give fewer workers, or --workers 1 for a single process.",
    )
