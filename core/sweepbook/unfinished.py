"""Files and folders that are not whole yet: held while they are made, and removed if nobody is.

Whoever makes one holds a lock on it, which the operating system lets go if the program dies. So the
next one that writes to the same folder can tell what was left behind from what is being written.
"""

import os
import shutil
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import BinaryIO

from sweepbook.locks import BEHIND_ALL, taken

_BEGIN, _END = ".sweepbook-", ".part"
_HELD = "held"
"""A file in an unfinished folder, on which the lock is."""
_POLL_S = 0.001
_seen: set[Path] = set()
"""Folders that were looked through by this process."""


def is_unfinished(path: Path) -> bool:
    """Whether something is called as what is not whole yet."""
    return path.name.startswith(_BEGIN) and path.name.endswith(_END)


def is_left(path: Path) -> bool:
    """Whether something unfinished lies there that nobody is making any more."""
    held = path / _HELD if path.is_dir() else path
    if not is_unfinished(path) or path.is_symlink():
        return False
    try:
        with held.open("r+b") as stream:
            return taken(stream, BEHIND_ALL) and _is_of(stream, held)
    except FileNotFoundError:
        return path.is_dir()
    except OSError:
        return False


@contextmanager
def file_in(folder: Path) -> Iterator[Path]:
    """Give an empty file to write to, which is gone in the end unless it was moved away.

    Raises:
        OSError: the folder cannot be written to.
    """
    _look_once(folder)
    stream, path = _made_file(folder)
    with stream:
        if sys.platform == "win32":
            stream.close()  # an open file cannot be moved there
        try:
            yield path
        finally:
            path.unlink(missing_ok=True)


@contextmanager
def folder_in(folder: Path) -> Iterator[Path]:
    """Give a folder to make things in, which is gone in the end with all that is still in it.

    Raises:
        OSError: the folder cannot be written to.
    """
    _look_once(folder)
    stream, path = _made_folder(folder)
    try:
        with stream:
            yield path
    finally:
        shutil.rmtree(path, ignore_errors=True)


def _made_file(folder: Path) -> tuple[BinaryIO, Path]:
    while True:
        handle, name = tempfile.mkstemp(prefix=_BEGIN, suffix=_END, dir=folder)
        stream, path = os.fdopen(handle, "r+b"), Path(name)
        if _is_held(stream, path):
            return stream, path
        stream.close()


def _made_folder(folder: Path) -> tuple[BinaryIO, Path]:
    while True:
        path = Path(tempfile.mkdtemp(prefix=_BEGIN, suffix=_END, dir=folder))
        try:
            stream = (path / _HELD).open("x+b")
        except FileNotFoundError:  # taken for one that was left
            continue
        if _is_held(stream, path / _HELD):
            return stream, path
        stream.close()


def clear(folder: Path) -> None:
    """Remove what programs left in a folder that were stopped while they wrote."""
    with suppress(OSError), os.scandir(folder) as entries:
        for entry in entries:
            path = Path(entry.path)
            if not is_unfinished(path):
                continue
            if entry.is_dir(follow_symlinks=False):
                _clear_folder(path)
            elif entry.is_file(follow_symlinks=False):
                _clear_file(path)


def _look_once(folder: Path) -> None:
    place = folder.absolute()
    if place not in _seen:
        _seen.add(place)
        clear(folder)


def _clear_file(path: Path) -> None:
    with suppress(OSError), path.open("r+b") as stream:
        if taken(stream, BEHIND_ALL) and _is_of(stream, path):
            if sys.platform == "win32":
                stream.close()
            path.unlink()


def _clear_folder(path: Path) -> None:
    with suppress(OSError):
        path.rmdir()  # one that its maker did not come to hold
        return
    if is_left(path):
        shutil.rmtree(path, ignore_errors=True)


def _is_held(stream: BinaryIO, path: Path) -> bool:
    """Lock what was just made; False where somebody took it for what was left, and away.

    Where the file system has no locks it stays without one, and nobody takes it away.
    """
    try:
        while not taken(stream, BEHIND_ALL):
            if not _is_of(stream, path):
                return False
            time.sleep(_POLL_S)
    except OSError:
        return True
    return _is_of(stream, path)


def _is_of(stream: BinaryIO, path: Path) -> bool:
    """Whether an open file is still the one of that name."""
    try:
        return os.path.samestat(os.fstat(stream.fileno()), path.stat())
    except OSError:
        return False
