"""A sorter gives what sorted() gives, whatever it has put on disk meanwhile."""

import gc
import random
import tracemalloc
from itertools import groupby
from operator import itemgetter

import pytest

from sweepbook.sorting import Sorter

Item = tuple[int, str]


def items(count: int) -> list[Item]:
    """Many equal keys, so that the order of equals shows."""
    dice = random.Random(count)
    return [(dice.randrange(7), f"item {number}") for number in range(count)]


@pytest.mark.parametrize("count", [0, 1, 9, 10, 11, 1234])
def test_it_sorts_as_the_language_does_and_again(count: int) -> None:
    many = items(count)
    with Sorter[Item](itemgetter(0), most=10) as sorter:
        for item in many:
            sorter.add(item)
        assert len(sorter) == count
        assert list(sorter) == list(sorter) == sorted(many, key=itemgetter(0))
        grouped = [
            list(group) for _, group in groupby(sorted(many, key=itemgetter(0)), itemgetter(0))
        ]
        assert list(sorter.groups()) == grouped
        sorter.add((3, "one more"))
        assert list(sorter) == sorted([*many, (3, "one more")], key=itemgetter(0))


def test_two_may_go_through_it_at_once() -> None:
    many = items(500)
    with Sorter[Item](itemgetter(0), most=50) as sorter:
        for item in many:
            sorter.add(item)
        wanted = sorted(many, key=itemgetter(0))
        assert list(zip(sorter, sorter, strict=True)) == list(zip(wanted, wanted, strict=True))


def test_items_are_compared_by_their_keys_alone() -> None:
    with Sorter[object](id, most=2) as sorter:
        for _ in range(5):
            sorter.add({})
        assert list(sorter) == [{}] * 5


def peak(count: int) -> int:
    gc.collect()
    tracemalloc.start()
    with Sorter[bytes](bytes, most=100) as sorter:
        for number in range(count):
            sorter.add(f"{number * 7919 % count:07}".encode() * 100)
        assert sum(1 for _ in sorter) == count
    found = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return found


def test_ten_times_as_many_take_little_more_memory() -> None:
    """A piece of each run is in memory, which is a fiftieth of it."""
    peak(300)
    few, many = peak(300), peak(3000)
    assert many < 2 * few
