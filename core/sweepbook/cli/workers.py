"""The records of a book, assessed by several processes, with what a writer makes of each.

What is sent to a worker is where records lie, not what is in them.
"""

import os
import signal
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from contextlib import redirect_stderr
from dataclasses import dataclass
from functools import partial
from io import StringIO
from multiprocessing import get_context
from pathlib import Path
from typing import TYPE_CHECKING

from sweepbook import garbage, spread
from sweepbook.book import corrections
from sweepbook.book.corrections import Shelved
from sweepbook.book.layout import Book, open_book
from sweepbook.errors import ReadProblem

if TYPE_CHECKING:
    from sweepbook.audit.run import Assessed
    from sweepbook.cli.asked import Asked
    from sweepbook.cli.desk import Desk
    from sweepbook.delivery import View, Work
    from sweepbook.judging.assessment import Assessment
    from sweepbook.record.model import Record

AT_ONCE = 16
"""Records of one task: so many that handing them over costs little beside the work."""

WORTH_A_WORKER = 100
"""Records for each process where nobody said how many: the start of one takes as long as thirty."""

MOST_UNASKED = 4
"""Processes that are started where nobody said how many: each takes about 100 MB."""

_desk: "Desk | None" = None
"""What a worker works with; None in every other process."""
_besides: "Besides | None" = None
"""What a worker does besides assessing; None in every other process."""


def _whole(assessment: "Assessment") -> "Assessment":
    return assessment


@dataclass
class Besides:
    """What is to be done with each record besides assessing it.

    Attributes:
        view: what a writer may see of an assessment.
        work: of the writer; None for none. It may be given while the first record is looked at.
    """

    view: "View" = _whole
    work: "Work[object] | None" = None


NOTHING_BESIDES = Besides()


@dataclass(frozen=True, slots=True)
class Portion:
    """Some records of a book."""

    book: Book
    records: tuple[Shelved, ...]


def assessed(
    desk: "Desk", besides: Besides, folder: Path
) -> Iterator["Record | Assessed | ReadProblem"]:
    """Everything that is current in a book, as corrected and assessed, in the order of the book.

    The first record comes as it is, before any worker is started: by then it is known whether there
    is one, and what is to be done besides. Where one process is to do it all, the others do too.

    Args:
        desk: what the command works with; each worker makes one like it.
        besides: what the workers do with each record; looked at after the first.
        folder: of the book.

    Raises:
        SweepbookError: the book cannot be read, or workers were lost again and again.
    """
    book = open_book(folder)
    records: list[Shelved] = []
    for one in corrections.shelved(book, desk.shown_label):
        if isinstance(one, ReadProblem):
            yield one
        else:
            records.append(one)
    left = iter(records)
    for one in left:
        found = corrections.taken(book, one)
        yield found
        if not isinstance(found, ReadProblem):
            break
    rest = tuple(left)
    firsts = range(0, len(rest), AT_ONCE)
    workers = min(desk.asked.workers or _worth_starting(len(rest)), len(firsts))
    if workers < 2:
        yield from (corrections.taken(book, one) for one in rest)
        return
    portions = (Portion(book, rest[first : first + AT_ONCE]) for first in firsts)
    start = partial(_pool, workers, desk, besides)
    for done in spread.in_order(_work, portions, start, ahead=workers + 2):
        yield from done


def _worth_starting(records: int) -> int:
    """How many processes so many records are worth, on the processors that this one may use."""
    return min(records // WORTH_A_WORKER, MOST_UNASKED, _processors())


def _processors() -> int:
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def _pool(workers: int, desk: "Desk", besides: Besides) -> ProcessPoolExecutor:
    """Processes that begin anew: whatever this one holds open stays its own."""
    begun_with = (desk.asked, desk.paths, besides)
    return ProcessPoolExecutor(workers, get_context("spawn"), _begin, begun_with)


def _begin(asked: "Asked", paths: tuple[Path, ...], besides: Besides) -> None:
    """Lay out the tools of a worker; the command itself told already what is not in use.

    An interrupt from the keyboard reaches every process; the command's own ends the workers.
    """
    global _desk, _besides
    from sweepbook.cli.desk import Desk

    garbage.seldom()
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    spread.end_with_parent()
    _desk, _besides = Desk(asked, paths), besides
    with redirect_stderr(StringIO()):
        _ = _desk.context


def _work(portion: Portion) -> list["Assessed | ReadProblem"]:
    """Read and assess some records, and do what is to be done besides."""
    found = (corrections.taken(portion.book, one) for one in portion.records)
    return [one if isinstance(one, ReadProblem) else _of_record(one) for one in found]


def _of_record(record: "Record") -> "Assessed":
    from sweepbook.audit.elsewhere import worked_on
    from sweepbook.audit.run import assessed

    assert _desk is not None and _besides is not None
    if _besides.work is None:
        return assessed(record, _desk.context)
    return worked_on(record, _desk.context, _besides.work, _besides.view)
