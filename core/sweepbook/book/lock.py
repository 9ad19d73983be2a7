"""One writer at a time: the operating system holds the lock and lets it go if a writer dies."""

import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO

from sweepbook import files
from sweepbook.errors import SweepbookError
from sweepbook.locks import taken
from sweepbook.text import utf8_safe

_POLL_S = 0.05


class BookInUse(SweepbookError):
    """Somebody else has been writing to the book for longer than we wait."""


@contextmanager
def held(
    path: Path, wait_s: float = 600.0, on_wait: Callable[[], None] = lambda: None
) -> Iterator[None]:
    """Hold the lock while the block runs.

    Args:
        path: the lock file; made if it is not there, and never removed.
        wait_s: seconds to wait for another writer.
        on_wait: called once when there is another writer.

    Raises:
        BookInUse: the other writer did not finish in time.
        SweepbookError: the lock file cannot be written, is a link, or lies where no locks are.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        stream = files.added_to(path)
    except OSError as error:
        raise files.cannot_write(path, error) from error
    with stream:
        try:
            _wait_for(stream, path, wait_s, on_wait)
        except OSError as error:
            raise SweepbookError(
                f"{utf8_safe(str(path))} cannot be locked: {error.strerror or error}. So nobody "
                "could tell whether another program writes to this book.",
                "Copy the book to a disk that has locks, such as one of this machine.",
            ) from error
        yield


def _wait_for(stream: BinaryIO, path: Path, wait_s: float, on_wait: Callable[[], None]) -> None:
    """Take the lock; closing the stream lets it go.

    Raises:
        BookInUse: the other writer did not finish in time.
        OSError: there are no locks on this file system.
    """
    if taken(stream):
        return
    on_wait()
    deadline = time.monotonic() + wait_s
    while not taken(stream):
        if time.monotonic() > deadline:
            raise BookInUse(
                f"{path.parent.name}: another program is writing to this book.",
                "Wait until it has finished and run the same command again.",
            )
        time.sleep(_POLL_S)
