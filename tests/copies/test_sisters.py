"""Copies are found, and links of one reel and length are not accused.

The figures come from the demo's model; no measured sisters were at hand.
"""

from itertools import combinations

import numpy as np
import pytest

from sweepbook.copies.curves import readings
from sweepbook.copies.figures import Figures
from sweepbook.copies.fingerprint import fingerprint, matrix
from sweepbook.copies.likeness import Likeness, likeness
from sweepbook.copies.within import made_from_another
from sweepbook.limits.practice import Practice

from .kinds import KINDS, PAIRS_MOVED, Test
from .sisters import F64, sister

FIGURES = Figures.of(Practice.shipped())
LENGTHS_M = (3.0, 8.0)
SEEDS = range(6)


def held(first: Test, second: Test) -> Likeness | None:
    one, other = (readings(test, FIGURES.structure_db) for test in (first, second))
    return likeness(one, other, FIGURES)


def apart_db(*tests: Test) -> F64:
    """Distances of the first test's fingerprint from those of the others."""
    prints = matrix([fingerprint(test) for test in tests]).astype(np.float64)
    return np.asarray(np.sqrt(np.mean((prints[1:] - prints[0]) ** 2, axis=1)), dtype=np.float64)


@pytest.mark.parametrize("length_m", LENGTHS_M)
def test_the_nearest_sisters_are_further_apart_than_the_farthest_copies(length_m: float) -> None:
    tests = [sister(length_m, seed) for seed in SEEDS]
    nearest = min(apart_db(one, other).min() for one, other in combinations(tests, 2))
    farthest = max(
        apart_db(test, *(kind(test) for kind in KINDS.values())).max() for test in tests[:3]
    )
    assert 2.0 * farthest < FIGURES.fingerprint_db < 0.8 * nearest


@pytest.mark.parametrize("kind", KINDS)
def test_a_copy_is_confirmed_with_what_was_done_to_it(kind: str) -> None:
    test = sister(8.0, 0)
    found = held(test, KINDS[kind](test))
    assert found is not None
    assert (found.agreeing, found.compared, found.odd) == (20, 20, 0)
    assert found.largest_db <= 0.1
    everything = kind == "all of it"
    assert found.renaming.swapped is (everything or kind == "ends")
    assert (found.renaming.pairs == PAIRS_MOVED) is (everything or kind == "pairs")
    offset = 0.4 if everything else 0.37 if kind == "offset" else 0.0
    assert found.offsets_db == pytest.approx((offset, offset), abs=0.051 if everything else 0.01)
    assert found.exact is (kind not in ("noise", "all of it"))


@pytest.mark.parametrize("length_m", LENGTHS_M)
def test_sisters_are_not_accused_where_their_sweeps_are_held_against_each_other(
    length_m: float,
) -> None:
    tests = [sister(length_m, seed) for seed in SEEDS]
    assert not [held(one, other) for one, other in combinations(tests[:5], 2) if held(one, other)]


@pytest.mark.parametrize("length_m", LENGTHS_M)
def test_a_second_test_of_a_link_is_not_its_first(length_m: float) -> None:
    found = held(sister(length_m, 0), sister(length_m, 0, occasion=1))
    assert found is None or not found.exact


@pytest.mark.parametrize("length_m", LENGTHS_M)
def test_no_curve_of_a_link_is_taken_for_another_of_its_own(length_m: float) -> None:
    for seed in SEEDS:
        assert list(made_from_another(sister(length_m, seed), FIGURES)) == []
