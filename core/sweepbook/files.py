"""Writing so that a reader sees the old file or the new one, never half of one."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sweepbook import unfinished
from sweepbook.errors import SweepbookError
from sweepbook.text import utf8_safe


@contextmanager
def replaced(target: Path) -> Iterator[Path]:
    """Give a path to write to; on leaving without an error it takes the target's place.

    The temporary file lies in the target's folder, so that the move is atomic on POSIX and on
    NTFS. On an error the target is left as it was and the temporary file is removed; one that a
    program left that was killed goes when the next one writes to that folder.

    Raises:
        SweepbookError: the folder cannot be written to.
    """
    if target.is_dir():
        raise cannot_write(target, IsADirectoryError())
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        with unfinished.file_in(target.parent) as part:
            yield part
            _to_disk(part)
            part.chmod(0o666 & ~_umask())
            part.replace(target)
    except OSError as error:
        raise cannot_write(target, error) from error


def write_bytes(target: Path, data: bytes) -> None:
    """Write a whole file atomically.

    Raises:
        SweepbookError: the folder cannot be written to, or the disk is full.
    """
    with replaced(target) as part:
        part.write_bytes(data)


def cannot_write(target: Path, error: OSError) -> SweepbookError:
    """Return the error to raise when a file cannot be written."""
    shown = utf8_safe(str(target))
    if target.is_dir():
        return SweepbookError(
            f"{shown} is a folder, and what is written is one file.",
            "Name a file in it, or another place.",
        )
    barred = next((above for above in target.parents if above.is_file()), None)
    if barred is not None:
        return SweepbookError(
            f"{shown} cannot be written: {utf8_safe(str(barred))} is a file and no folder.",
            "Name another place.",
        )
    return SweepbookError(
        f"{shown} cannot be written: {error.strerror or error}.",
        "Check that the folder exists, that you may write to it and that the disk has room.",
    )


def _to_disk(path: Path) -> None:
    """Have the operating system put the file's bytes on the disk before the move."""
    with path.open("rb") as stream:
        os.fsync(stream.fileno())


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
