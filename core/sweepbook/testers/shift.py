"""Whether the figures of one tester lie above or below those of the others on like links.

The test is van Elteren's: rank sums of Wilcoxon within each group of like links, added up with the
weights 1/(N + 1). Source: P. van Elteren, "On the combination of independent two-sample tests of
Wilcoxon", Bulletin of the International Statistical Institute 37 (1960), recalled; with one group
it is the test of Wilcoxon, Mann and Whitney.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import erfc, sqrt

import numpy as np

from sweepbook.judging.curves import F64

Group = tuple[Sequence[float], Sequence[float]]
"""Figures of the tester, and of all others, on links that are alike."""


@dataclass(frozen=True, slots=True)
class Shift:
    """How the figures of a tester lie to those of others.

    Attributes:
        own, others: how many figures were compared.
        shift: median of its own less that of the others, group by group, weighted by how much each
            group tells; in the unit of the figures.
        chance: two-sided, that a difference like this comes by chance where there is none.
    """

    own: int
    others: int
    shift: float
    chance: float


def shift(groups: Iterable[Group]) -> Shift | None:
    """Compare within groups; None where no group has figures of both.

    Args:
        groups: of finite figures.
    """
    statistic = variance = weighted = weights = 0.0
    own = others = 0
    for mine, theirs in groups:
        n, m = len(mine), len(theirs)
        if not n or not m:
            continue
        one, two = np.asarray(mine, dtype=np.float64), np.asarray(theirs, dtype=np.float64)
        ranks, ties = _ranks(np.concatenate((one, two)))
        total = n + m
        weight = 1.0 / (total + 1)
        statistic += weight * (float(ranks[:n].sum()) - n * (total + 1) / 2.0)
        spread = total + 1 - ties / (total * (total - 1))
        variance += weight**2 * n * m / 12.0 * spread
        tells = n * m / total
        weighted += tells * float(np.median(one) - np.median(two))
        weights += tells
        own, others = own + n, others + m
    if not weights:
        return None
    chance = erfc(abs(statistic) / sqrt(2.0 * variance)) if variance > 0.0 else 1.0
    return Shift(own, others, weighted / weights, chance)


def _ranks(figures: F64) -> tuple[F64, float]:
    """Middle ranks from 1 on, float64[n], and the sum of t^3 - t over the tied ones."""
    _, place, counts = np.unique(figures, return_inverse=True, return_counts=True)
    last = np.cumsum(counts)
    middle = last - (counts - 1) / 2.0
    return middle[place], float((counts.astype(np.float64) ** 3 - counts).sum())
