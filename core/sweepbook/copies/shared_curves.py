"""Curves that stand in two tests, by their marks."""

from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sweepbook.copies.marks import KEYS, MARK, PARTS, U64
from sweepbook.judging.curves import Key

AT_ONCE = 100_000
"""Marks that are held against each other at a time, about 6 MB; of more a share by their bits."""
_FOUND = np.dtype([("mark", "<u8"), ("test", "<u4"), ("curve", "u1")])
_BITS, _TEST = 16, 32


@dataclass(frozen=True, slots=True)
class Shared:
    """A curve, or half of one, of one test that is in another test too.

    Attributes:
        first, second: what it is of in either test.
        parts: the halves that are the same, of `PARTS`.
    """

    first: Key
    second: Key
    parts: tuple[str, ...]


def shared_curves(
    marks: Callable[[], Iterator[Sequence[bytes]]], apart: Callable[[int, int], bool]
) -> dict[tuple[int, int], list[Shared]]:
    """Curves that stand in two tests, by the places of both tests, the earlier first.

    Args:
        marks: gives those of each test, see `marks.marks`, many tests at a time; called several
            times.
        apart: whether two tests, by their places, must have no curve in common.
    """
    count = sum(len(one) for some in marks() for one in some) // MARK.itemsize
    shares = count // AT_ONCE + 1
    found: dict[tuple[int, int], dict[tuple[int, int], list[str]]] = defaultdict(dict)
    for part in PARTS:
        for share in range(shares):
            for tests, curves in _again(_share(marks(), part, share, shares), apart):
                found[tests].setdefault(curves, []).append(part)
    return {
        tests: [Shared(KEYS[one], KEYS[other], tuple(of[one, other])) for one, other in sorted(of)]
        for tests, of in sorted(found.items())
    }


def _share(
    marks: Iterator[Sequence[bytes]], part: str, share: int, shares: int
) -> NDArray[np.void]:
    """The marks of one half that are in one of so many shares, by their highest bits."""
    kept, first = [np.zeros(0, _FOUND)], 0
    for some in marks:
        rows = np.frombuffer(b"".join(some), MARK)
        tests = np.repeat(
            np.arange(first, first + len(some)), [len(one) // MARK.itemsize for one in some]
        )
        first += len(some)
        mark: U64 = rows[part]
        high = (mark >> np.uint64(64 - _BITS)) * np.uint64(shares) >> np.uint64(_BITS)
        mine = (high == share) & (mark > 0)
        found = np.empty(np.count_nonzero(mine), _FOUND)
        found["mark"], found["test"], found["curve"] = mark[mine], tests[mine], rows["curve"][mine]
        kept.append(found)
    return np.concatenate(kept)


def _again(
    found: NDArray[np.void], apart: Callable[[int, int], bool]
) -> Iterator[tuple[tuple[int, int], tuple[int, int]]]:
    """(two tests, their curves): a mark's first and each later one, of tests that are apart."""
    order = np.argsort(found["mark"], kind="stable")
    risen = found["mark"][order]
    later = np.flatnonzero(risen[1:] == risen[:-1]) + 1
    one, other = order[np.searchsorted(risen, risen[later])], order[later]
    tests = found["test"].astype(np.uint64)
    both = tests[one] << np.uint64(_TEST) | tests[other]
    each, which = np.unique(both, return_inverse=True)
    two = [divmod(pair, 1 << _TEST) for pair in each.tolist()]
    wrong = np.array([first != second and apart(first, second) for first, second in two], np.bool_)
    for place in np.flatnonzero(wrong[which]).tolist() if two else ():
        curves = int(found["curve"][one[place]]), int(found["curve"][other[place]])
        yield two[which[place]], curves
