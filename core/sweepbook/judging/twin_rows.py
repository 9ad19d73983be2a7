"""Curves held against each other: which may be one measurement under two names, and which are."""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from sweepbook.judging.bands import LEAST_ABOVE, LEAST_BELOW, MOST_ABOVE, MOST_BELOW
from sweepbook.judging.curves import F64, OTHER_END, Curves, Flags, Key
from sweepbook.judging.derive import Places
from sweepbook.judging.physics import Bounds

STEADY = ("insertion_loss", "propagation_delay")
"""Pairs of one cable may well agree in these where the digits are coarse or the link is short."""

ROUNDING = 1e-6
"""Room for binary rounding, far below any printed digit."""
KEPT = 100
"""The pairs of so many rows are kept."""
_WORTH_IT = 10_000
"""Values held against each other from which on single precision comes first."""
_MOST = 20_000_000
"""Values that are held against each other in one go; a hostile record may have any number."""


class Same(NamedTuple):
    """At how many of the shared points two curves are the same, and by how much they are off."""

    points: int
    shared: int
    off_db: float


class Row(NamedTuple):
    """One of the curves that are held against each other."""

    curves: Curves
    row: int

    @property
    def key(self) -> Key:
        """What it is of."""
        return self.curves.keys[self.row]

    @property
    def is_clipped(self) -> bool:
        """Whether a point of it may be known from one side only, or not at all."""
        if not self.curves.clipped:
            return False
        return bool(np.isinf(self.curves.reach[[MOST_BELOW, MOST_ABOVE], self.row]).any())

    @property
    def exact(self) -> Flags:
        """bool[n], where it is known from both sides."""
        low, high = (np.isfinite(end[self.row]) for end in self.curves.ends)
        known: Flags = low & high
        return known


def last_digits(curves: Curves) -> F64:
    """float64[m]: the last digit of each curve, the finest of its points; 0 for none."""
    half = np.minimum(curves.reach[LEAST_BELOW], curves.reach[LEAST_ABOVE])
    return np.where(np.isfinite(half), 2.0 * half, 0.0)


def candidates(
    values: Sequence[F64], keys: tuple[Key, ...], apart: F64, share: float
) -> dict[int, list[int]]:
    """By row, the later rows that are near it at half of some points, or have none there.

    Those of one group are held against each other, but for reciprocal ones.

    Args:
        values: of the rows, float64[., n] each, one below the other.
        keys: of m curves of one axis.
        apart: float64[m], how far another may be off to be near.
        share: part of the points at which twins are the same. Of that many times fewer points
            those at which they differ are less than half.
    """
    found: dict[int, list[int]] = {}
    if len(keys) < 2:
        return found
    size, wanted = values[0].shape[1], max(3, _MOST // len(keys) ** 2)
    stride = max(1, int(1.0 / (2.0 * max(1.0 - share, 0.05))), size // wanted)
    samples = np.concatenate([some[:, ::stride] for some in values])
    whole = bool(np.isfinite(samples).all())
    for first, second in _pairs(keys, max(1, _MOST // 8 // max(1, samples.shape[1]))):
        if whole and first.size * samples.shape[1] > _WORTH_IT:
            places = _perhaps_near(samples, first, second, apart)
            if not places.size:
                continue
            first, second = first[places], second[places]
        off = np.abs(samples[first] - samples[second])
        near = _counts(off <= np.maximum(apart[first], apart[second])[:, None])
        known = samples.shape[1] if whole else _counts(np.isfinite(off))
        for place in (2 * near >= known).nonzero()[0].tolist():
            row, other = int(first[place]), int(second[place])
            if not _reciprocal(keys[row], keys[other]):
                found.setdefault(row, []).append(other)
    return found


def _perhaps_near(samples: F64, first: Places, second: Places, apart: F64) -> Places:
    """Places of the pairs that are near at half of the points or more, in single precision.

    With room for its rounding, so that none is missed. Half as many bytes are half the work.
    """
    single = samples.astype(np.float32)
    off = single[first]
    off -= single[second]
    np.abs(off, out=off)
    room = 1e-6 * float(np.abs(samples).max(initial=0.0))
    most = (apart * (1.0 + 1e-6) + room).astype(np.float32)
    near = _counts(off <= np.maximum(most[first], most[second])[:, None])
    return np.flatnonzero(2 * near >= samples.shape[1])


def _counts(flags: Flags) -> Places:
    """int[m]: how many flags of each row are set."""
    found: Places = np.add.reduce(flags.view(np.uint8), axis=1, dtype=np.intp)
    return found


def _pairs(keys: tuple[Key, ...], at_once: int) -> Iterator[tuple[Places, Places]]:
    """(earlier, later) of every two rows of a group, in order, so many at once."""
    count = len(keys)
    if count <= KEPT:
        first, second = _every_two(keys)
        for start in range(0, first.size, at_once):
            yield first[start : start + at_once], second[start : start + at_once]
        return
    for row in range(count):
        for start in range(row + 1, count, at_once):
            others = np.arange(start, min(start + at_once, count))
            yield np.full(others.size, row), others


@lru_cache(maxsize=64)
def _every_two(keys: tuple[Key, ...]) -> tuple[Places, Places]:
    """Kept, since most tests of a job hold the same curves."""
    first, second = np.triu_indices(len(keys), 1)
    groups = np.array(
        [STEADY.index(key.parameter) if key.parameter in STEADY else -1 for key in keys]
    )
    alike = groups[first] == groups[second]
    return first[alike], second[alike]


def held(one: Row, other: Row, apart: float, bounds: Bounds, least_values: int) -> Same | None:
    """How far two curves are the same where both have a point; None where they are not.

    A number at which both are clipped counts once: it may be where the range of the tester ends.
    """
    first, second = (each.curves.value[each.row] for each in (one, other))
    values, off = first, first - second
    clipped = one.is_clipped and other.is_clipped
    if clipped or not (one.curves.whole and other.curves.whole):
        shared = np.isfinite(first) & np.isfinite(second)
        if clipped:
            ends = np.flatnonzero(shared & ~(one.exact | other.exact) & (first == second))
            shared[ends] = False
            shared[ends[np.unique(first[ends], return_index=True)[1]]] = True
        values, off = values[shared], off[shared]
    size = off.size
    if size < bounds.twin_points:
        return None
    if not off.any():
        return Same(size, size, 0.0) if np.unique(values).size >= least_values else None
    if one.key.parameter == "propagation_delay":
        return None
    middle = float(np.partition(off, size // 2)[size // 2])
    alike = np.abs(off - middle) <= ROUNDING
    points = int(np.count_nonzero(alike))
    few = points < bounds.twin_share * size or abs(middle) > apart
    if few or np.unique(values[alike]).size < bounds.twin_values:
        return None
    return Same(points, size, middle)


def _reciprocal(one: Key, other: Key) -> bool:
    if one.parameter in STEADY:
        return one.pairs == other.pairs
    return (
        one.parameter == other.parameter
        and one.parameter in ("fext", "acr_f")
        and other.end == OTHER_END.get(str(one.end))
        and other.pairs == one.pairs[::-1]
    )
