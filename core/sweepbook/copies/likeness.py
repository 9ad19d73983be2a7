"""Two tests held against each other: curve by curve, under every naming of ends and pairs."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import reduce
from itertools import permutations

import numpy as np

from sweepbook.copies.curves import Readings
from sweepbook.copies.figures import Figures
from sweepbook.copies.match import Match, match
from sweepbook.judging.curves import F64, OTHER_END, PAIRS, UNORDERED, Key

LEAST_CURVES = 3
"""Fewer curves are too few to call one test the copy of another."""

Matches = Mapping[tuple[Key, Key], Match]


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
    best: list[Match] = []
    agreeing: list[Match] = []
    renaming = RENAMINGS[0]
    for one in RENAMINGS:
        held = [m for (key, other), m in matches.items() if one.of(key) == other]
        there = [m for m in held if m.agrees(figures)]
        if len(there) > len(agreeing):
            best, agreeing, renaming = held, there, one
    if len(agreeing) < max(LEAST_CURVES, figures.curves_share * len(best)):
        return None
    return Likeness(
        compared=len(best),
        agreeing=len(agreeing),
        points=sum(m.points for m in agreeing),
        odd=sum(m.points - m.near for m in agreeing),
        largest_db=max(m.largest_db for m in agreeing),
        offsets_db=(min(m.offset_db for m in agreeing), max(m.offset_db for m in agreeing)),
        renaming=renaming,
        frequencies=_frequencies(first, second),
        exact=all(m.is_exact(figures) for m in best),
    )


def _matches(
    first: Mapping[str, Readings], second: Mapping[str, Readings], figures: Figures
) -> Iterator[tuple[tuple[Key, Key], Match]]:
    """Every curve of one test against every one of the other, of the same parameter."""
    for parameter in first.keys() & second.keys():
        one, two = first[parameter], second[parameter]
        axis = np.intersect1d(one.frequency_mhz, two.frequency_mhz, assume_unique=True)
        mine, others = one.on(axis), two.on(axis)
        for row in np.flatnonzero(one.structured).tolist():
            for other in np.flatnonzero(two.structured).tolist():
                half = float(one.half_digit[row]), float(two.half_digit[other])
                held = match(mine[row], others[other], half, figures.apart_db)
                if held.points >= figures.least_points:
                    yield (one.keys[row], two.keys[other]), held


def _frequencies(
    first: Mapping[str, Readings], second: Mapping[str, Readings]
) -> tuple[int, int, int]:
    """How many frequencies the first has, the second has, and both have."""
    one, two = _axis(first), _axis(second)
    return one.size, two.size, np.intersect1d(one, two, assume_unique=True).size


def _axis(readings: Mapping[str, Readings]) -> F64:
    axis: F64 = reduce(np.union1d, [one.frequency_mhz for one in readings.values()], np.empty(0))
    return axis
