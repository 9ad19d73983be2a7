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
NO_PLACE = len(KEYS)
"""Stands for a curve that is none of these."""
_PLACE = {key: place for place, key in enumerate(KEYS)}
_PARAMETERS = tuple(dict.fromkeys(key.parameter for key in KEYS))

PARTS = ("lower", "upper")
"""The halves of a curve."""
MARK = np.dtype([("curve", "u1"), *((part, "<u8") for part in PARTS)])
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
    places = np.array([_PLACE.get(key, NO_PLACE) for key in curves.keys], np.uint8)
    value = curves.value
    with np.errstate(all="ignore"):
        if not curves.whole:
            value = np.where(np.abs(value) < _LARGEST, value, 0.0)  # and none for a hole
        whole = np.rint(value * DIGITS).astype(np.int64).view(np.uint64)
    both = whole @ _factors(whole.shape[1])
    changes = value[:, 1:] != value[:, :-1]
    middle = changes.shape[1] // 2
    row = np.empty(len(places), MARK)
    row["curve"] = places
    for half, part in enumerate((changes[:, :middle], changes[:, middle:])):
        enough = np.add.reduce(part, axis=1, dtype=np.intp) >= least_changes
        row[PARTS[half]] = np.where(enough, both[:, half], np.uint64(0))
    kept: NDArray[np.void] = row[(places != NO_PLACE) & ((row["lower"] | row["upper"]) > 0)]
    return kept


@lru_cache(maxsize=16)
def _factors(count: int) -> U64:
    """uint64[count, 2]: of values whose steps count by odd numbers, the same for ever.

    The column of a half is 0 at the points of the other one.
    """
    steps = np.random.default_rng(1).integers(0, 1 << 63, max(count - 1, 0), np.uint64) * 2 + 1
    factors = np.zeros((count, 2), np.uint64)
    middle = steps.size // 2
    for half, part in enumerate((slice(0, middle), slice(middle, steps.size))):
        factors[part.start + 1 : part.stop + 1, half] += steps[part]
        factors[part.start : part.stop, half] -= steps[part]
    factors.setflags(write=False)
    return factors
