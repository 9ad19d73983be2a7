"""Marks of single curves, by which one that stands in two tests is found again.

A mark is one number of 64 bits for each half of a curve, made from the steps from one value to the
next, so that one offset on all of them changes nothing. Noise alone makes two measurements differ
in nearly every step: halves that change often enough and have one mark are one measurement. Which
curve it is stands beside its marks as the place in `KEYS`.
"""

from collections.abc import Mapping
from functools import lru_cache
from itertools import combinations, permutations

import numpy as np
from numpy.typing import NDArray

from sweepbook.judging.curves import ENDS, PAIRS, Curves, Key

U64 = NDArray[np.uint64]

KEYS = (
    *(Key("insertion_loss", end, (pair,)) for end in (None, *ENDS) for pair in PAIRS),
    *(Key("return_loss", end, (pair,)) for end in ENDS for pair in PAIRS),
    *(Key("next", end, pairs) for end in ENDS for pairs in combinations(PAIRS, 2)),
    *(Key("fext", end, pairs) for end in ENDS for pairs in permutations(PAIRS, 2)),
)
_PLACE = {key: place for place, key in enumerate(KEYS)}
_PARAMETERS = tuple(dict.fromkeys(key.parameter for key in KEYS))

MARK = np.dtype([("curve", "u1"), ("lower", "<u8"), ("upper", "<u8")])
"""A curve: its place in `KEYS`, and the marks of its halves; 0 for one that changes too seldom."""

DIGITS = 1e4
"""Values are compared in ten-thousandths: finer than any export prints, whatever its digits."""
_LARGEST = 1e12


def marks(curves: Mapping[str, Curves], least_changes: int) -> bytes:
    """The marks of one record, as a row of `MARK`.

    Args:
        curves: of a record as measured, by parameter.
        least_changes: values that must differ from the one before, for half a curve to have a mark.
    """
    found = [_of(curves[name], least_changes) for name in _PARAMETERS if name in curves]
    return b"".join(row.tobytes() for row in found)


def _of(curves: Curves, least_changes: int) -> NDArray[np.void]:
    places = [_PLACE.get(key, -1) for key in curves.keys]
    with np.errstate(all="ignore"):
        value = np.where(np.abs(curves.value) < _LARGEST, curves.value, 0.0)  # and none for a hole
    whole = np.rint(value * DIGITS).astype(np.int64)
    steps = whole[:, 1:] - whole[:, :-1]
    middle = steps.shape[1] // 2
    row = np.zeros(len(places), MARK)
    row["curve"] = np.maximum(places, 0)
    row["lower"] = _mark(steps[:, :middle], least_changes)
    row["upper"] = _mark(steps[:, middle:], least_changes)
    kept: NDArray[np.void] = row[(np.array(places) >= 0) & ((row["lower"] | row["upper"]) > 0)]
    return kept


def _mark(steps: NDArray[np.int64], least_changes: int) -> U64:
    """uint64[m], of steps int64[m, k] in ten-thousandths."""
    mark = (steps.astype(np.uint64) * _factors(steps.shape[1])).sum(axis=1, dtype=np.uint64)
    return np.where(np.count_nonzero(steps, axis=1) >= least_changes, mark, np.uint64(0))


@lru_cache(maxsize=16)
def _factors(count: int) -> U64:
    """Odd numbers, the same for ever."""
    return np.random.default_rng(1).integers(0, 1 << 63, count, dtype=np.uint64) * 2 + 1
