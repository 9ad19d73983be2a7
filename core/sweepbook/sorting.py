"""Sorting more than memory should hold: what is over a bound waits on disk, in sorted runs."""

import heapq
from collections.abc import Callable, Iterator
from itertools import groupby
from operator import itemgetter
from typing import Any, Generic, Self, TypeVar

from sweepbook.waiting import Shelf

MOST = 10_000
"""Items that are held in memory."""
_PIECES = 50
"""Pieces of a run, of which one is in memory while the runs are gone through."""

Item = TypeVar("Item")
_Keyed = tuple[Any, int, Item]
"""A key, the number of the item in the order in which they came, the item."""


class Sorter(Generic[Item]):
    """Takes items in any order and gives them by their keys, equal ones as they came.

    Use it in a `with` statement, which frees the disk. It can be gone through more than once, and
    added to between.
    """

    def __init__(self, key: Callable[[Item], Any], most: int | None = None) -> None:
        """Begin with none.

        Args:
            key: of an item; keys can be compared with each other.
            most: items held in memory, MOST unless told otherwise; they can be pickled.
        """
        self._key, self._most = key, MOST if most is None else most
        self._count = 0
        self._held: list[_Keyed[Item]] = []
        self._runs: list[list[int]] = []
        self._shelf = Shelf()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self._shelf.close()

    def add(self, item: Item) -> None:
        """Take an item.

        Raises:
            OSError: the disk is full.
        """
        self._held.append((self._key(item), self._count, item))
        self._count += 1
        if len(self._held) >= self._most:
            self._put_away()

    def __len__(self) -> int:
        return self._count

    def __iter__(self) -> Iterator[Item]:
        for _, _, item in self._merged():
            yield item

    def groups(self) -> Iterator[list[Item]]:
        """The items of each key."""
        for _, group in groupby(self._merged(), itemgetter(0)):
            yield [item for _, _, item in group]

    def _merged(self) -> Iterator[_Keyed[Item]]:
        runs: list[Iterator[_Keyed[Item]]] = [self._shelf.read(starts) for starts in self._runs]
        return heapq.merge(*runs, sorted(self._held))

    def _put_away(self) -> None:
        """Write what is held as a run, in pieces that can be read one by one."""
        self._held.sort()
        piece = max(1, self._most // _PIECES)
        self._runs.append(
            [
                self._shelf.put(self._held[at : at + piece])
                for at in range(0, len(self._held), piece)
            ]
        )
        self._held.clear()
