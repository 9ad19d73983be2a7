"""Two tests held against each other: curve by curve, under every naming of ends and pairs."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import reduce
from itertools import permutations

import numpy as np

from sweepbook.copies.curves import Readings
from sweepbook.copies.figures import Figures
from sweepbook.copies.match import SAMPLES, Match, match, may_agree
from sweepbook.judging.curves import F64, OTHER_END, PAIRS, UNORDERED, Key

LEAST_CURVES = 3
"""Fewer curves are too few to call one test the copy of another."""


@dataclass(frozen=True, slots=True)
class Renaming:
    """How the curves of one test are called in another.

    Attributes:
        swapped: near is far there.
        pairs: what 1-2, 3-6, 4-5 and 7-8 are called there.
    """

    swapped: bool
    pairs: tuple[str, ...]

    def of(self, key: Key) -> Key:
        """What a curve is called there."""
        end = OTHER_END.get(str(key.end)) if self.swapped else key.end
        to = dict(zip(PAIRS, self.pairs, strict=True))
        pairs = tuple(to.get(pair, pair) for pair in key.pairs)
        return Key(
            key.parameter, end, tuple(sorted(pairs)) if key.parameter in UNORDERED else pairs
        )


RENAMINGS = tuple(Renaming(swap, pairs) for swap in (False, True) for pairs in permutations(PAIRS))
"""As they stand first: of several that explain as much, the simplest is taken."""


@dataclass(frozen=True, slots=True)
class Likeness:
    """How two tests agree.

    Attributes:
        compared: curves of return loss and NEXT that could be held against each other.
        agreeing: those that agree.
        points: shared points of those.
        odd: of these points, how many do not agree.
        largest_db: of the differences of the others, the offsets taken off.
        offsets_db: least and greatest offset of an agreeing curve, first less second.
        renaming: how the second calls what is in the first.
        frequencies: that the first has, the second has, and both have.
        exact: every curve that was compared agrees to the last digit of the coarser one.
    """

    compared: int
    agreeing: int
    points: int
    odd: int
    largest_db: float
    offsets_db: tuple[float, float]
    renaming: Renaming
    frequencies: tuple[int, int, int]
    exact: bool


@np.errstate(all="ignore")  # values beyond any measurement become infinities
def likeness(
    first: Mapping[str, Readings], second: Mapping[str, Readings], figures: Figures
) -> Likeness | None:
    """Hold two tests against each other; None where they are not one measurement.

    Args:
        first: return loss and NEXT of one, by parameter.
        second: the same of the other.
        figures: from which on they are.
    """
    matches = dict(_matches(first, second, figures))
    agreeing: list[Match] = []
    renaming = RENAMINGS[0]
    for one in RENAMINGS:
        there = [m for (key, other), m in matches.items() if one.of(key) == other]
        if len(there) > len(agreeing):
            agreeing, renaming = there, one
    compared = _compared(first, second, renaming, figures) if agreeing else 0
    if len(agreeing) < max(LEAST_CURVES, figures.curves_share * compared):
        return None
    return Likeness(
        compared=compared,
        agreeing=len(agreeing),
        points=sum(m.points for m in agreeing),
        odd=sum(m.points - m.near for m in agreeing),
        largest_db=max(m.largest_db for m in agreeing),
        offsets_db=(min(m.offset_db for m in agreeing), max(m.offset_db for m in agreeing)),
        renaming=renaming,
        frequencies=_frequencies(first, second),
        exact=len(agreeing) == compared and all(m.is_exact(figures) for m in agreeing),
    )


def _matches(
    first: Mapping[str, Readings], second: Mapping[str, Readings], figures: Figures
) -> Iterator[tuple[tuple[Key, Key], Match]]:
    """Every curve of one test that agrees with one of the other, of the same parameter."""
    for parameter in first.keys() & second.keys():
        one, two = first[parameter], second[parameter]
        axis = np.intersect1d(one.frequency_mhz, two.frequency_mhz, assume_unique=True)
        mine, others = one.on(axis), two.on(axis)
        some = slice(None, None, max(1, axis.size // SAMPLES))
        allowed = 2.0 * (figures.apart_db + one.half_digit[:, None] + two.half_digit)
        likely = may_agree(mine[:, None, some] - others[None, :, some], allowed)
        if not likely.any():
            continue
        likely &= one.structured[:, None] & two.structured
        for row, other in np.argwhere(likely).tolist():
            half = float(one.half_digit[row]), float(two.half_digit[other])
            held = match(mine[row], others[other], half, figures.apart_db)
            if held.agrees(figures):
                yield (one.keys[row], two.keys[other]), held


def _compared(
    first: Mapping[str, Readings],
    second: Mapping[str, Readings],
    renaming: Renaming,
    figures: Figures,
) -> int:
    """How many curves of the first can be held against the one that they are called in the second.

    Both have to have ripple, and enough points where neither is clipped.
    """
    count = 0
    for parameter in first.keys() & second.keys():
        one, two = first[parameter], second[parameter]
        axis = np.intersect1d(one.frequency_mhz, two.frequency_mhz, assume_unique=True)
        known, others = np.isfinite(one.on(axis)), np.isfinite(two.on(axis))
        rows = {key: row for row, key in enumerate(two.keys) if two.structured[row]}
        for row in np.flatnonzero(one.structured).tolist():
            other = rows.get(renaming.of(one.keys[row]))
            if other is not None:
                shared = np.count_nonzero(known[row] & others[other])
                count += bool(shared >= figures.least_points)
    return count


def _frequencies(
    first: Mapping[str, Readings], second: Mapping[str, Readings]
) -> tuple[int, int, int]:
    """How many frequencies the first has, the second has, and both have."""
    one, two = _axis(first), _axis(second)
    return one.size, two.size, np.intersect1d(one, two, assume_unique=True).size


def _axis(readings: Mapping[str, Readings]) -> F64:
    axis: F64 = reduce(np.union1d, [one.frequency_mhz for one in readings.values()], np.empty(0))
    return axis
