"""The files that a person means by naming files and folders, and the bytes of small ones."""

import errno
import os
from collections.abc import Iterable, Iterator
from pathlib import Path

from sweepbook.errors import ReadProblem
from sweepbook.text import natural_key, utf8_safe


def is_book(folder: Path) -> bool:
    """Whether a folder is a book, also one whose book.json was lost."""
    kept = folder / "records"
    return (folder / "book.json").is_file() or (
        kept.is_dir() and (folder / "journal.jsonl").is_file()
    )


def small_file(path: Path, most: int) -> bytes:
    """The bytes of a file that lies in a folder which came from outside.

    Args:
        path: of the file.
        most: bytes that it may have.

    Raises:
        OSError: it cannot be read, is larger, or is none, such as a pipe that nobody writes to;
            `strerror` says which.
    """
    check_regular(path)
    with path.open("rb") as stream:
        raw = stream.read(most + 1)
    if len(raw) > most:
        raise OSError(errno.EFBIG, f"it is larger than {most >> 20} MiB")
    return raw


def check_regular(path: Path) -> None:
    """Refuse what is there and is no file: whoever opens a pipe may wait for ever.

    Raises:
        OSError: it is none; `strerror` says so.
    """
    if path.exists() and not path.is_file():
        raise OSError(errno.EINVAL, "it is no regular file")


def files_of(paths: Iterable[Path]) -> Iterator[Path | ReadProblem]:
    """Give every file once, in a stable order.

    Folders are walked to the bottom, by name in natural order; hidden files and folders in them
    are passed over, and so are books, which are no exports. Links to folders are not followed.

    Args:
        paths: files and folders, in the order in which their files shall come.

    Yields:
        A path to each regular file, and a problem for what is named or found and is none.
    """
    seen: set[Path] = set()
    for path in paths:
        found = _below(path) if path.is_dir() else iter([path])
        for entry in found:
            if isinstance(entry, ReadProblem):
                yield entry
                continue
            try:
                whole = entry.resolve()
            except (OSError, RuntimeError):
                yield _endless(entry)
                continue
            if whole not in seen:
                seen.add(whole)
                yield entry if entry.is_file() else _no_file(entry)


def _below(folder: Path) -> Iterator[Path | ReadProblem]:
    """All visible files below a folder."""
    try:
        entries = sorted(os.scandir(folder), key=lambda e: (natural_key(e.name), e.name))
    except OSError as error:
        shown = utf8_safe(str(folder))
        yield ReadProblem(shown, "", f"The folder cannot be listed: {error.strerror or error}.")
        return
    for entry in entries:
        if entry.name.startswith("."):
            continue
        path = folder / entry.name
        if not entry.is_dir(follow_symlinks=False):
            if not path.is_dir():
                yield path
        elif not is_book(path):
            yield from _below(path)


def _no_file(path: Path) -> ReadProblem:
    return ReadProblem(
        utf8_safe(path.name), "", "This is no regular file; copy what it gives into one."
    )


def _endless(path: Path) -> ReadProblem:
    """The problem of a link that leads back to itself."""
    return ReadProblem(
        utf8_safe(path.name),
        "",
        "This is a link that leads to no file, but round in a circle. Put the file in its place, "
        "or remove the link.",
    )
