"""Curves that stand in two tests, by their marks."""

from collections import defaultdict
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from sweepbook.copies.marks import KEYS, MARK, PARTS, U64
from sweepbook.judging.curves import Key

NO_MARKS: U64 = np.zeros(0, np.uint64)


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
    marks: Sequence[bytes], apart: Callable[[int, int], bool]
) -> dict[tuple[int, int], list[Shared]]:
    """Curves that stand in two tests, by the places of both tests, the earlier first.

    Args:
        marks: of each test, see `marks.marks`.
        apart: whether two tests, by their places, must have no curve in common.
    """
    starts = np.cumsum([0, *(len(one) // MARK.itemsize for one in marks)])
    found: dict[tuple[int, int], dict[tuple[int, int], list[str]]] = defaultdict(dict)
    for part in PARTS:
        every = np.concatenate([NO_MARKS, *(np.frombuffer(one, MARK)[part] for one in marks)])
        for both in zip(*_again(every), strict=True):
            one, other = (int(np.searchsorted(starts, place, "right")) - 1 for place in both)
            if one != other and apart(one, other):
                first, second = (
                    int(np.frombuffer(marks[test], MARK)["curve"][place - starts[test]])
                    for test, place in zip((one, other), both, strict=True)
                )
                found[one, other].setdefault((first, second), []).append(part)
    return {
        tests: [Shared(KEYS[one], KEYS[other], tuple(of[one, other])) for one, other in sorted(of)]
        for tests, of in sorted(found.items())
    }


def _again(mark: U64) -> tuple[list[int], list[int]]:
    """Places of a mark's first and of each later one, for marks that come again; none for 0."""
    order = np.argsort(mark, kind="stable")
    risen = mark[order]
    later = np.flatnonzero((risen[1:] == risen[:-1]) & (risen[1:] > 0)) + 1
    return order[np.searchsorted(risen, risen[later])].tolist(), order[later].tolist()
