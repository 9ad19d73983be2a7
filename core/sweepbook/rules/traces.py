"""What a run keeps of all its records: a few of them in memory, the others on disk."""

from collections import OrderedDict
from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple, overload

from sweepbook.rules.trace import Trace
from sweepbook.waiting import Shelf

PIECE = 16
"""Records that are written, and read, at a time."""
AT_HAND = 64
"""Pieces that are kept in memory once they were read."""


class _Put(NamedTuple):
    """Where the parts of a piece lie."""

    traces: int
    fingerprints: int
    marks: int


class Traces(Sequence[Trace]):
    """The traces of records in their order, with what copies are found by.

    Memory stays flat, however many they are. Where nothing can be written, they stay in memory.
    """

    def __init__(self) -> None:
        """Begin with none."""
        self._shelf = Shelf()
        self._pieces: list[_Put | tuple[Sequence[Any], ...]] = []
        self._latest: list[tuple[Trace, bytes, bytes]] = []
        self._at_hand: OrderedDict[int, Sequence[Trace]] = OrderedDict()

    def add(self, trace: Trace, fingerprint: bytes, marks: bytes) -> None:
        """Take what is kept of a record.

        Args:
            trace: of the record.
            fingerprint: see `copies.fingerprint`; b"" for none.
            marks: of its curves, see `copies.marks`.
        """
        self._latest.append((trace, fingerprint, marks))
        if len(self._latest) == PIECE:
            self._put_away()

    def close(self) -> None:
        """Free the disk; nothing can be read after that."""
        self._shelf.close()

    def __len__(self) -> int:
        return PIECE * len(self._pieces) + len(self._latest)

    def __iter__(self) -> Iterator[Trace]:
        for traces in self._every(0):
            yield from traces

    @overload
    def __getitem__(self, place: int) -> Trace: ...
    @overload
    def __getitem__(self, place: slice) -> Sequence[Trace]: ...
    def __getitem__(self, place: int | slice) -> Trace | Sequence[Trace]:
        every = range(len(self))[place]
        return self._one(every) if isinstance(every, int) else [self._one(one) for one in every]

    def fingerprints(self) -> Iterator[bytes]:
        """The fingerprint of each record."""
        for fingerprints in self._every(1):
            yield from fingerprints

    def marks(self) -> Iterator[Sequence[bytes]]:
        """The marks of each record, many records at a time."""
        return self._every(2)

    def _one(self, place: int) -> Trace:
        number, within = divmod(place, PIECE)
        if number == len(self._pieces):
            return self._latest[within][0]
        piece = self._at_hand.pop(number, None) or self._part(number, 0)
        self._at_hand[number] = piece
        if len(self._at_hand) > AT_HAND:
            self._at_hand.popitem(last=False)
        one: Trace = piece[within]
        return one

    def _every(self, part: int) -> Iterator[Sequence[Any]]:
        """One part of all records, piece by piece."""
        for number in range(len(self._pieces)):
            yield self._part(number, part)
        yield [one[part] for one in self._latest]

    def _part(self, number: int, part: int) -> Sequence[Any]:
        piece = self._pieces[number]
        return list(self._shelf.read([piece[part]])) if isinstance(piece, _Put) else piece[part]

    def _put_away(self) -> None:
        parts = tuple(zip(*self._latest, strict=True))
        try:
            self._pieces.append(_Put(*map(self._shelf.put, parts)))
        except OSError:
            self._pieces.append(parts)
        self._latest = []
