"""Killed at any step, or two at once: nothing half, and the next run completes the rest."""

import multiprocessing
import os
import signal
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from sweepbook import files
from sweepbook.book import journal, store
from sweepbook.book.layout import open_book
from sweepbook.book.proof import Proof
from sweepbook.book.prove import prove
from sweepbook.record.model import Record

from .simple import Job

TEXTS = {
    "a": "A-1,pass,1\nA-2,pass,2\n",
    "b": "B-1,pass,1\nSAME,pass,5\n",
    "c": "C-1,pass,1\nSAME,pass,5\nC-2,fail,3\n",
}


class Killed(BaseException):
    """Stands for the end of the process."""


@pytest.fixture(autouse=True)
def _same_clock(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1772611200")


def _dying_after(steps: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Have the n-th step towards the disk, counted from 0, raise instead."""
    left = [steps]

    def dying(real: Callable[..., None]) -> Callable[..., None]:
        def step(*args: object) -> None:
            if left[0] == 0:
                raise Killed
            left[0] -= 1
            real(*args)

        return step

    monkeypatch.setattr(files, "_to_disk", dying(files._to_disk))
    monkeypatch.setattr(journal, "_add", dying(journal._add))


def _complete(folder: Path) -> dict[str, bytes]:
    (folder / "whole").mkdir()
    job = Job.begin(folder / "whole", **TEXTS)
    job.gather()
    files_by_place = job.snapshot()
    del files_by_place["journal.jsonl"]  # it names the folder of the exports
    return files_by_place


@pytest.mark.parametrize("steps", range(15))
def test_a_run_that_died_at_any_step_is_completed_by_the_next(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, steps: int
) -> None:
    """3 sources, 6 record files and one rewritten, 4 lines and the index are 15 steps."""
    whole = _complete(tmp_path)
    job = Job.begin(tmp_path, **TEXTS)
    with monkeypatch.context() as patch, pytest.raises(Killed):
        _dying_after(steps, patch)
        job.gather()
    left = list(store.records(open_book(job.book.root)))
    assert all(isinstance(item, Record) for item in left), "what is there is whole"
    assert not [fault for fault in prove(job.book.root, Proof()) if fault.damage]
    job.gather()
    completed = job.snapshot()
    del completed["journal.jsonl"]
    assert completed == whole
    assert not list(prove(job.book.root, Proof()))


def test_fifteen_steps_are_all_there_are(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    job = Job.begin(tmp_path, **TEXTS)
    with monkeypatch.context() as patch:
        _dying_after(15, patch)
        assert [outcome.new for outcome in job.gather()] == [2, 2, 2]


def _gather_slowly(job: Job) -> None:
    real = files._to_disk

    def slow(path: Path) -> None:
        time.sleep(0.01)
        real(path)

    files._to_disk = slow  # this process ends after it
    job.gather()


def test_a_killed_process_keeps_every_file_but_one(tmp_path: Path) -> None:
    texts = {f"f{n:02}": f"L-{n},pass,{n}\n" for n in range(12)}
    job = Job.begin(tmp_path, **texts)
    process = multiprocessing.get_context("fork").Process(target=_gather_slowly, args=(job,))
    process.start()
    deadline = time.monotonic() + 30
    while len(list(journal.read(job.book.journal))) < 7 and time.monotonic() < deadline:
        time.sleep(0.002)
    assert process.pid is not None
    os.kill(process.pid, signal.SIGKILL)
    process.join()
    told = len(list(journal.read(job.book.journal))) - 1
    assert told >= 6
    assert len([r for r in store.records(job.book) if isinstance(r, Record)]) == told
    outcomes = job.gather()
    assert sum(outcome.status == "unchanged" for outcome in outcomes) == told
    assert len([r for r in store.records(job.book) if isinstance(r, Record)]) == 12
    assert not [fault for fault in prove(job.book.root, Proof()) if fault.damage]


def test_two_at_once_do_no_harm(tmp_path: Path) -> None:
    texts = {f"f{n:02}": f"L-{n},pass,{n}\nSAME,pass,1\n" for n in range(8)}
    job = Job.begin(tmp_path, **texts)
    context = multiprocessing.get_context("fork")
    processes = [context.Process(target=_gather_slowly, args=(job,)) for _ in range(2)]
    for process in processes:
        process.start()
    for process in processes:
        process.join(60)
        assert process.exitcode == 0
    assert len(list(journal.read(job.book.journal))) == 9
    proof = Proof()
    assert list(prove(job.book.root, proof)) == []
    assert (proof.records, proof.sources) == (9, 8)
    same = [r for r in store.records(job.book) if isinstance(r, Record) and r.label == "SAME"]
    assert len(same) == 1
    assert len(same[0].document["origin"]) == 8
