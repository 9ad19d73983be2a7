"""Which curve goes with which: directions, ends and pairs.

A pair k is disturbed by the other pairs of its cable. NEXT is reciprocal at an end; far-end
crosstalk is reciprocal between the ends: FEXT(i to k, received far) = FEXT(k to i, received near),
so twelve ordered combinations from one end give the twelve of the other.

All of it follows from the keys alone and is kept, since the tests of a job hold the same curves.
"""

from collections.abc import Callable, Mapping
from functools import lru_cache
from types import MappingProxyType
from typing import NamedTuple

import numpy as np

from sweepbook.judging.curves import ENDS, OTHER_END, PAIRS, UNORDERED, Key, row_of_pair
from sweepbook.judging.derive import Places

Keys = tuple[Key, ...]
Rows = Mapping[tuple[str, str, str], int]
"""Row of a crosstalk matrix by (end, disturbing pair, disturbed pair)."""
Way = Callable[[Keys], Rows]


@lru_cache(maxsize=128)
def as_given(keys: Keys) -> Rows:
    """Rows by direction, as they stand."""
    return MappingProxyType(
        {
            (key.end, key.pairs[0], key.pairs[1]): row
            for row, key in enumerate(keys)
            if key.end in ENDS and len(key.pairs) == 2
        }
    )


@lru_cache(maxsize=128)
def reciprocal_next(keys: Keys) -> Rows:
    """Rows by direction; where only one direction was measured it stands for both."""
    given = as_given(keys)
    turned = {(end, k, i): row for (end, i, k), row in given.items()}
    return MappingProxyType({**turned, **given})


@lru_cache(maxsize=128)
def reciprocal_fext(keys: Keys) -> Rows:
    """Rows by direction and receiving end; what was measured there goes before reciprocity."""
    given = as_given(keys)
    turned = {(OTHER_END[end], k, i): row for (end, i, k), row in given.items()}
    return MappingProxyType({**turned, **given})


class Sums(NamedTuple):
    """Power sums that can be made.

    Attributes:
        keys: m sums.
        members: int[m, k], the rows that each is the sum of.
    """

    keys: Keys
    members: Places


@lru_cache(maxsize=128)
def sums(parameter: str, keys: Keys, way: Way) -> Sums:
    """The power sum for each disturbed pair at each end.

    A sum with a combination missing would come out too good: it is not made.

    Args:
        parameter: name of the result.
        keys: of the crosstalk: NEXT, FEXT or ACR-F.
        way: which row is which direction.
    """
    rows = way(keys)
    cable = [*PAIRS, *sorted({pair for _, i, k in rows for pair in (i, k)} - set(PAIRS))]
    found: list[Key] = []
    members: list[list[int]] = []
    for end in ENDS:
        for disturbed in cable:
            wanted = [(end, i, disturbed) for i in cable if i != disturbed]
            if all(direction in rows for direction in wanted):
                found.append(Key(parameter, end, (disturbed,)))
                members.append([rows[direction] for direction in wanted])
    index = np.array(members, dtype=np.intp).reshape(len(found), len(cable) - 1)
    return Sums(tuple(found), index)


class Differences(NamedTuple):
    """Curves less an insertion loss that can be made.

    Attributes:
        keys: m differences.
        rows, others: int[m], the row of the first curves and that of the insertion loss.
    """

    keys: Keys
    rows: Places
    others: Places


@lru_cache(maxsize=128)
def differences(parameter: str, keys: Keys, way: Way | None, loss: Keys, whose: int) -> Differences:
    """Each curve less the insertion loss of one of its pairs, where that is there.

    Args:
        parameter: name of the result.
        keys: of the first curves.
        way: which row is which direction; None to take the curves as they stand.
        loss: keys of the insertion loss.
        whose: which pair's, by its position in a curve's pairs.
    """
    if way is None:
        named = [(Key(parameter, key.end, key.pairs), row) for row, key in enumerate(keys)]
    else:
        named = [(Key(parameter, end, (i, k)), row) for (end, i, k), row in way(keys).items()]
    kept = [
        (key, row, other)
        for key, row in named
        if (other := row_of_pair(loss, key.end, key.pairs[whose])) is not None
    ]
    return Differences(
        tuple(key for key, _, _ in kept),
        np.array([row for _, row, _ in kept], dtype=np.intp),
        np.array([other for _, _, other in kept], dtype=np.intp),
    )


@lru_cache(maxsize=128)
def companions(keys: Keys, parameter: str, others: Keys, whose: str) -> tuple[Places, Places]:
    """Rows of companion curves, for the first and the last of the pairs that a rule names.

    Args:
        keys: of m curves that the rule is about.
        parameter: of the companion.
        others: its keys.
        whose: pairs of a curve whose companion counts: "own", "disturbed", "either", "both".

    Returns:
        int[m] each, the same array where a curve has but one companion; -1 for a missing one.
    """
    chosen = [_companion(key, parameter, others, whose) for key in keys]
    first, last = (
        np.array([-1 if rows[end] is None else rows[end] for rows in chosen], dtype=np.intp)
        for end in (0, -1)
    )
    return first, first if np.array_equal(first, last) else last


def _companion(key: Key, parameter: str, others: Keys, whose: str) -> list[int | None]:
    if parameter == "fext":
        return [reciprocal_fext(others).get((str(key.end), key.pairs[0], key.pairs[-1]))]
    every = whose in ("either", "both") or key.parameter in UNORDERED
    pairs = key.pairs if every else key.pairs[-1:]
    if parameter == "insertion_loss":
        return [row_of_pair(others, key.end, pair) for pair in pairs]
    rows = {(other.end, other.pairs): row for row, other in enumerate(others)}
    return [rows.get((key.end, (pair,))) for pair in pairs]
