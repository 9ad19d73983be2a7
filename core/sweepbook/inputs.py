"""The files that a person means by naming files and folders, and the bytes of small ones."""

import errno
import os
import stat
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from sweepbook.errors import ReadProblem
from sweepbook.text import natural_key, utf8_safe

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

_NO_FILE = "it is no regular file"


def is_book(folder: Path) -> bool:
    """Whether a folder is a book, also one whose book.json was lost; not one that is closed."""
    return _is_file(folder / "book.json") or (
        _is_folder(folder / "records") and _is_file(folder / "journal.jsonl")
    )


def _is_file(path: Path) -> bool:
    return stat.S_ISREG(_mode(path))


def _is_folder(path: Path) -> bool:
    return stat.S_ISDIR(_mode(path))


def _mode(path: Path) -> int:
    """The mode of what a path leads to; 0 where it leads to nothing, or nobody may look."""
    try:
        return path.stat().st_mode
    except OSError:
        return 0


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
    with path.open("rb", buffering=0) as stream:
        size = os.fstat(stream.fileno()).st_size
        raw = stream.read(min(size, most) + 1)
        while size < len(raw) <= most and (more := stream.read(most + 1 - len(raw))):
            raw += more  # it has grown, or does not tell its size
    if len(raw) > most:
        raise OSError(errno.EFBIG, f"it is larger than {most >> 20} MiB")
    return raw


def bytes_of(file: "Path | Traversable", most: int) -> bytes:
    """The bytes of a file that somebody named, one more than `most` where there are more.

    Raises:
        OSError: it cannot be read, or is no regular file; see `what_to_do`.
    """
    if isinstance(file, Path):
        check_regular(file)
    with file.open("rb") as stream:
        return stream.read(most + 1)


def what_to_do(error: OSError, usual: str) -> str:
    """What to do about a file that cannot be read.

    Args:
        error: why it cannot.
        usual: what to do about a file that is one.
    """
    copied = "Copy what it gives into a file, and name that one."
    return copied if error.strerror == _NO_FILE else usual


def check_regular(path: Path) -> None:
    """Refuse what is there and is no file: whoever opens a pipe may wait for ever.

    It is looked at once: what is not there now may be a file in the next moment.

    Raises:
        OSError: it is none; `strerror` says so.
    """
    mode = _mode(path)
    if mode and not stat.S_ISREG(mode):
        raise OSError(errno.EINVAL, _NO_FILE)


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
        found = _below(path) if _is_folder(path) else iter([path])
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
                yield entry if _is_file(entry) else _no_file(entry)


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
            if not _is_folder(path):
                yield path
        elif not is_book(path):
            yield from _below(path)


def _no_file(path: Path) -> ReadProblem:
    try:
        path.stat()
    except OSError as error:
        why = f"The file cannot be reached: {error.strerror or error}."
    else:
        why = "This is no regular file; copy what it gives into one."
    return ReadProblem(utf8_safe(path.name), "", why)


def _endless(path: Path) -> ReadProblem:
    """The problem of a link that leads back to itself."""
    return ReadProblem(
        utf8_safe(path.name),
        "",
        "This is a link that leads to no file, but round in a circle. Put the file in its place, "
        "or remove the link.",
    )
