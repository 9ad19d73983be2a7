"""Texts beside curves that name none of them, in XML nobody has described yet.

The margin of a worst case, its pair and its end stand around curves too, and are others in each
test; what refers to an axis may be a number, as pairs are. Names of curves come again in each test.
"""

from collections import Counter
from collections.abc import Collection, Hashable, Mapping, Sequence
from itertools import pairwise
from typing import TypeVar

from sweepbook.draft import phrases
from sweepbook.draft.trade_words import LIMIT, MARGIN, WORST

_STATED = (*MARGIN, *LIMIT, *WORST)
MOST_TESTS = 12
"""So many tests show what comes again in them."""

Slot = TypeVar("Slot", bound=Hashable)
Told = Sequence[Mapping[Slot, str]]
"""The texts of each curve of a test, by where they stand."""


def is_stated(name: str) -> bool:
    """Whether the name of a text says that it is of a margin, of a limit, or of a worst case."""
    return phrases.has(name, _STATED)


def loose(
    tests: Sequence[Told[Slot]], fixed: Collection[Slot] = (), ids: Collection[str] = ()
) -> set[Slot]:
    """Where texts stand that no curve needs to be told apart from others, and that may name none.

    They are others in most tests, or they refer to an axis.

    Args:
        tests: which of them hold as many curves is compared.
        fixed: where texts name curves in any case.
        ids: what axes are called.
    """
    tests = tests[:MOST_TESTS]
    slots = dict.fromkeys(slot for test in tests for texts in test for slot in texts)
    found: set[Slot] = set()
    for slot in slots:
        if slot not in fixed and (_refers(slot, tests, ids) or _varies(slot, tests)):
            without = found | {slot}
            if all(_told_apart(test, without) == _told_apart(test, found) for test in tests):
                found = without
    return found


def _refers(slot: Slot, tests: Sequence[Told[Slot]], ids: Collection[str]) -> bool:
    """Whether all texts there are what an axis is called."""
    return all(texts.get(slot) in {None, *ids} for test in tests for texts in test)


def _varies(slot: Slot, tests: Sequence[Told[Slot]]) -> bool:
    """Whether most tests with as many curves as the one before have other texts there."""
    held = [Counter(texts.get(slot) for texts in test) for test in tests]
    alike = [(one, two) for one, two in pairwise(held) if one.total() == two.total()]
    return 2 * sum(one != two for one, two in alike) > len(alike)


def _told_apart(test: Told[Slot], without: Collection[Slot]) -> int:
    """How many curves of a test are told apart by the texts elsewhere."""
    return len({frozenset(of for of in texts.items() if of[0] not in without) for texts in test})
