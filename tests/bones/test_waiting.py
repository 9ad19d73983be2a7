"""What waits comes back as it went, however much there is, and little of it is in memory."""

import gc
import weakref

import pytest

from sweepbook.waiting import Waiting


@pytest.mark.parametrize("count", [0, 1, 199, 200, 201, 1234])
def test_items_come_back_in_their_order_and_again(count: int) -> None:
    items = [(number, f"item {number}") for number in range(count)]
    with Waiting[tuple[int, str]]() as waiting:
        for item in items:
            waiting.add(item)
        assert list(waiting) == list(waiting) == items
        assert list(zip(waiting, waiting, strict=True)) == list(zip(items, items, strict=True))
        waiting.add((-1, "one more"))
        assert list(waiting) == [*items, (-1, "one more")]


class Heavy:
    """Something that can be pickled and watched."""


def test_few_of_them_are_in_memory() -> None:
    watched = []
    with Waiting[Heavy]() as waiting:
        for _ in range(2000):
            item = Heavy()
            watched.append(weakref.ref(item))
            waiting.add(item)
        del item
        gc.collect()
        assert sum(one() is not None for one in watched) < 300
        assert sum(1 for _ in waiting) == 2000
