"""Where the sheets of the tests wait until the page above them is written."""

from collections.abc import Iterator
from contextlib import contextmanager
from tempfile import TemporaryFile
from typing import IO, NamedTuple

_PIECE = 1 << 20


class Piece(NamedTuple):
    """Where a text lies: its first byte, and how many there are."""

    start: int
    size: int


class Spool:
    """Texts put away on disk, each found again by its place; memory holds none of them."""

    def __init__(self, file: IO[bytes]) -> None:
        self._file = file
        self._end = 0

    @classmethod
    @contextmanager
    def open(cls) -> Iterator["Spool"]:
        """A spool in a temporary file that is gone in the end.

        Raises:
            OSError: there is no room for it.
        """
        with TemporaryFile(prefix="sweepbook-") as file:
            yield cls(file)

    def put(self, data: bytes) -> Piece:
        """Put a text away."""
        piece = Piece(self._end, len(data))
        self._file.write(data)
        self._end += len(data)
        return piece

    def copy(self, piece: Piece, page: IO[bytes]) -> None:
        """Copy a text into the page, a part at a time."""
        self._file.seek(piece.start)
        left = piece.size
        while left:
            data = self._file.read(min(left, _PIECE))
            page.write(data)
            left -= len(data)
