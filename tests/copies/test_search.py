"""The search finds what holding each fingerprint against every other finds."""

import numpy as np
import pytest
from scipy.spatial import cKDTree

from sweepbook.copies.fingerprint import F32, SIZE
from sweepbook.copies.search import MOST_NEAR, near

APART_DB = 0.4


def prints(count: int, seed: int) -> F32:
    """Fingerprints of which a few directions carry most of what differs, and copies among them."""
    random = np.random.default_rng(seed)
    spread = np.linspace(3.0, 0.3, SIZE)
    turned, _ = np.linalg.qr(random.normal(size=(SIZE, SIZE)))
    made = random.normal(size=(count, SIZE)) * spread @ turned
    made[-40:] = made[:40] + random.normal(
        scale=np.linspace(0.0, 0.5, 40)[:, None], size=(40, SIZE)
    )
    return np.asarray(made, dtype=np.float32)


@pytest.mark.parametrize("count", [80, 700, 3000])
def test_it_finds_what_a_tree_of_all_numbers_finds(count: int) -> None:
    """scipy's k-d tree is the reference."""
    made = prints(count, seed=count)
    tree = cKDTree(made.astype(np.float64))
    expected = tree.query_pairs(APART_DB * np.sqrt(SIZE))
    assert len(expected) > 20
    assert near(made, APART_DB) == sorted(expected)


def test_of_many_copies_each_is_tied_to_a_few_and_all_hang_together() -> None:
    made = prints(1500, seed=5)
    made[:600] = made[0] + np.random.default_rng(1).normal(scale=0.01, size=(600, SIZE))
    found = [pair for pair in near(made, APART_DB) if pair[1] < 600]
    assert len(found) <= MOST_NEAR * 600
    reached, waiting = {0}, [0]
    ties: dict[int, set[int]] = {}
    for one, other in found:
        ties.setdefault(one, set()).add(other)
        ties.setdefault(other, set()).add(one)
    while waiting:
        new = ties[waiting.pop()] - reached
        reached |= new
        waiting.extend(new)
    assert reached == set(range(600))


@pytest.mark.parametrize("count", [0, 1])
def test_where_there_is_nothing_to_compare_nothing_is_found(count: int) -> None:
    assert near(np.zeros((count, SIZE), dtype=np.float32), APART_DB) == []


def test_numbers_that_are_all_the_same_are_near_to_each_other() -> None:
    assert near(np.zeros((3, SIZE), dtype=np.float32), APART_DB) == [(0, 1), (0, 2), (1, 2)]
