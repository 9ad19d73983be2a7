"""A lock of the operating system on an open file, which lets it go if the program dies."""

import sys
from typing import IO

BEHIND_ALL = 1 << 62
"""A position that no file reaches: on Windows a locked byte can be written by nobody else."""

if sys.platform == "win32":
    import msvcrt

    def taken(stream: IO[bytes], at: int = 0) -> bool:
        """Try to lock a file without waiting; closing it lets it go.

        Args:
            stream: the file, open for writing.
            at: the byte that is locked where the system locks bytes, and not the file.
        """
        try:
            stream.seek(at)
            msvcrt.locking(stream.fileno(), msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True
else:
    import fcntl

    def taken(stream: IO[bytes], at: int = 0) -> bool:
        """Try to lock a file without waiting; closing it lets it go.

        Args:
            stream: the file, open for writing.
            at: the byte that is locked where the system locks bytes, and not the file.

        Raises:
            OSError: there are no locks on this file system.
        """
        del at
        try:
            fcntl.flock(stream, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True
