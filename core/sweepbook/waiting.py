"""Items that wait on disk until all are known, and come back in the order in which they went."""

import pickle
from collections.abc import Iterator, Sequence
from tempfile import TemporaryFile
from typing import IO, Any, Generic, Self, TypeVar
from weakref import finalize

PIECE = 200
"""Items that are read, and written, at a time, unless told otherwise."""

_LENGTH = 8
"""Bytes before a piece that say how long it is."""

Item = TypeVar("Item")


class Shelf:
    """Pieces of plain data in a file without a name, which is made when there is a first one.

    The disk is free again when it is closed, or when nobody holds it any more.
    """

    def __init__(self) -> None:
        self._file: IO[bytes] | None = None

    def close(self) -> None:
        """Free the disk."""
        if self._file is not None:
            self._file.close()

    def put(self, items: Sequence[Any]) -> int:
        """Write a piece, and tell where it lies.

        Raises:
            OSError: the disk is full, or nothing may be written there; the pieces before are kept.
        """
        if self._file is None:
            unnamed = TemporaryFile(prefix="sweepbook-", buffering=0)  # noqa: SIM115 - see finalize
            self._file = unnamed
            finalize(self, unnamed.close)
        data = pickle.dumps(items, pickle.HIGHEST_PROTOCOL)
        start = self._file.seek(0, 2)
        left = memoryview(len(data).to_bytes(_LENGTH, "little") + data)
        while left:
            left = left[self._file.write(left) :]
        return start

    def read(self, starts: Sequence[int]) -> Iterator[Any]:
        """The items of pieces, one piece in memory at a time."""
        for start in starts:
            assert self._file is not None
            self._file.seek(start)
            length = int.from_bytes(self._file.read(_LENGTH), "little")
            data = self._file.read(length)
            yield from pickle.loads(data)  # what this object wrote, in a file without a name


class Waiting(Generic[Item]):
    """Takes items and gives them back in the same order, a few of them in memory.

    Use it in a `with` statement, which frees the disk.
    """

    def __init__(self, piece: int = PIECE) -> None:
        """Begin with none.

        Args:
            piece: how many are held in memory; a disk is needed only where there are more.
        """
        self._piece = piece
        self._shelf = Shelf()
        self._held: list[Item] = []
        self._starts: list[int] = []

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self._shelf.close()

    def add(self, item: Item) -> None:
        """Take an item.

        Raises:
            OSError: the disk is full.
        """
        if len(self._held) >= self._piece:
            self._starts.append(self._shelf.put(self._held))
            self._held = []
        self._held.append(item)

    def __iter__(self) -> Iterator[Item]:
        yield from self._shelf.read(self._starts)
        yield from self._held
