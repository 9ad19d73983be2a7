"""Writing so that a reader sees the old file or the new one, never half of one."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO

from sweepbook import unfinished
from sweepbook.errors import SweepbookError
from sweepbook.inputs import check_regular
from sweepbook.text import utf8_safe


@contextmanager
def replaced(target: Path, within: Path | None = None) -> Iterator[Path]:
    """Give a path to write to; on leaving without an error it takes the target's place.

    The temporary file lies in the target's folder, so that the move is atomic on POSIX and on
    NTFS. On an error the target is left as it was and the temporary file is removed; one that a
    program left that was killed goes when the next one writes to that folder.

    Args:
        target: the file.
        within: a folder above it that may have come from outside, out of which no link may lead;
            None where the whole path was named by a person.

    Raises:
        SweepbookError: the folder cannot be written to, a link leads to it, or there is something
            in its place that is no file.
    """
    if within is not None:
        _refuse_links(target, within)
    if target.is_dir():
        raise cannot_write(target, IsADirectoryError())
    try:
        check_regular(target)  # a device or a pipe would be gone, and a file in its place
        target.parent.mkdir(parents=True, exist_ok=True)
        with unfinished.file_in(target.parent) as part:
            yield part
            _to_disk(part)
            part.chmod(0o666 & ~_umask())
            part.replace(target)
    except OSError as error:
        raise cannot_write(target, error) from error


def write_bytes(target: Path, data: bytes, within: Path | None = None) -> None:
    """Write a whole file atomically; see `replaced`.

    Raises:
        SweepbookError: the folder cannot be written to, or the disk is full.
    """
    with replaced(target, within) as part:
        part.write_bytes(data)


def added_to(path: Path) -> BinaryIO:
    """Open a file of a folder that may have come from outside, to read it and write at its end.

    It is made where it is not there. A link is not followed, and a pipe is not waited for.

    Raises:
        SweepbookError: a link lies there.
        OSError: it cannot be opened, or is no file; `strerror` says so.
    """
    _refuse_links(path, path.parent)
    check_regular(path)
    return open(path, "a+b", opener=_opened)


def cannot_write(target: Path, error: OSError) -> SweepbookError:
    """Return the error to raise when a file cannot be written."""
    shown = utf8_safe(str(target))
    if target.is_dir():
        return SweepbookError(
            f"{shown} is a folder, and what is written is one file.",
            "Name a file in it, or another place.",
        )
    barred = next((of for of in target.parents if of.exists() and not of.is_dir()), None)
    if barred is not None:
        return SweepbookError(
            f"{shown} cannot be written: {utf8_safe(str(barred))} is a file and no folder.",
            "Name another place.",
        )
    if target.exists() and not target.is_file():
        return SweepbookError(
            f"{shown} is no regular file, and what is written takes the place of one.",
            "Name a file, or a place where nothing is yet.",
        )
    return SweepbookError(
        f"{shown} cannot be written: {error.strerror or error}.",
        "Check that the folder exists, that you may write to it and that the disk has room.",
    )


def _refuse_links(target: Path, within: Path) -> None:
    """Refuse a place that a link below a folder leads to."""
    for place in (target, *target.parents):
        if place == within:
            return
        if place.is_symlink():
            raise SweepbookError(
                f"{utf8_safe(str(place))} is a symbolic link, and nothing is written to where it "
                "leads.",
                "Put what it leads to in its place, or remove it.",
            )


def _opened(path: str, flags: int) -> int:
    """Open without following a link at its end or waiting for the other end of a pipe."""
    more = getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0)
    return os.open(path, flags | more, 0o666)


def _to_disk(path: Path) -> None:
    """Have the operating system put the file's bytes on the disk before the move."""
    with path.open("rb") as stream:
        os.fsync(stream.fileno())


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
