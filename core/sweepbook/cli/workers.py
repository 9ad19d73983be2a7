"""The records of a book, assessed by several processes.

What is sent to a worker is where records lie, not what is in them.
"""

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

from sweepbook import spread
from sweepbook.book import corrections
from sweepbook.book.corrections import Shelved
from sweepbook.book.layout import Book, open_book
from sweepbook.errors import ReadProblem

if TYPE_CHECKING:
    from sweepbook.audit.run import Assessed
    from sweepbook.cli.asked import Asked
    from sweepbook.cli.desk import Desk

AT_ONCE = 32
"""Records of one task: so many that handing them over costs little beside the work."""

_desk: "Desk | None" = None
"""What a worker works with; None in every other process."""


@dataclass(frozen=True, slots=True)
class Portion:
    """Some records of a book."""

    book: Book
    records: tuple[Shelved, ...]


def assessed(desk: "Desk", folder: Path) -> Iterator["Assessed | ReadProblem"]:
    """Everything that is current in a book, as corrected and assessed, in the order of the book.

    Args:
        desk: what the command works with; each worker makes one like it.
        folder: of the book.

    Raises:
        SweepbookError: the book cannot be read, or workers were lost again and again.
    """
    book = open_book(folder)
    records: list[Shelved] = []
    for one in corrections.shelved(book):
        if isinstance(one, ReadProblem):
            yield one
        else:
            records.append(one)
    firsts = range(0, len(records), AT_ONCE)
    portions = (Portion(book, tuple(records[first : first + AT_ONCE])) for first in firsts)
    workers = min(desk.asked.workers, len(firsts))
    start = partial(_pool, workers, desk)
    for done in spread.in_order(_work, portions, start, ahead=workers + 2) if workers else ():
        yield from done


def _pool(workers: int, desk: "Desk") -> ProcessPoolExecutor:
    """Processes that begin anew: whatever this one holds open stays its own."""
    return ProcessPoolExecutor(workers, get_context("spawn"), _begin, (desk.asked, desk.paths))


def _begin(asked: "Asked", paths: tuple[Path, ...]) -> None:
    """Lay out the tools of a worker; the command itself told already what is not in use.

    An interrupt from the keyboard reaches every process; the command's own ends the workers.
    """
    global _desk
    from sweepbook.cli.desk import Desk

    signal.signal(signal.SIGINT, signal.SIG_IGN)
    _desk = Desk(asked, paths)
    with redirect_stderr(StringIO()):
        _ = _desk.context


def _work(portion: Portion) -> list["Assessed | ReadProblem"]:
    """Read and assess some records."""
    from sweepbook.audit.run import assessed

    assert _desk is not None
    found = (corrections.taken(portion.book, one) for one in portion.records)
    return [one if isinstance(one, ReadProblem) else assessed(one, _desk.context) for one in found]
