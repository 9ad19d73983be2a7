"""ACR-N that a source gives once for two pairs.

NEXT of two pairs is one curve, and ACR-N are two: less the insertion loss of the one pair or of the
other. A source that gives one of them for two pairs may mean what it says, that of [a, b], or the
worse of both at each frequency; common practice, no source. Which of the two it means is not told,
so that neither reading may prove anything: what contradicts the source has to contradict both.
"""

from collections.abc import Mapping, Sequence
from functools import lru_cache
from itertools import combinations
from typing import Any

import numpy as np

from sweepbook.judging.bands import Given
from sweepbook.judging.curves import PAIRS, Curves, Key

ONE_ORDER = ("acr_n",)
"""Crosstalk that has two orders of its pairs, and is often given once for both."""


def other_order(key: Key) -> Key:
    """The same at the same end with its pairs in the other order."""
    return key._replace(pairs=key.pairs[::-1])


@lru_cache(maxsize=128)
def alone(keys: tuple[Key, ...]) -> frozenset[Key]:
    """Those of two pairs whose other order is not among them."""
    there = set(keys)
    return frozenset(
        key
        for key in keys
        if key.parameter in ONE_ORDER and len(key.pairs) == 2 and other_order(key) not in there
    )


def worse_of_both(made: Curves, keys: Sequence[Key]) -> Curves:
    """At each frequency the lesser of both orders of the pairs.

    Where the other order is not known, the lesser is known from above only.

    Args:
        made: recomputed curves, m x n.
        keys: k of them.

    Returns:
        k curves under those keys.
    """
    place = {key: row for row, key in enumerate(made.keys)}
    one = made.take([place[key] for key in keys], keys)
    value, low, high = (np.full(one.value.shape, np.nan) for _ in range(3))
    for row, key in enumerate(keys):
        other = place.get(other_order(key))
        if other is not None:
            value[row], low[row], high[row] = made.value[other], made.low[other], made.high[other]
    low[np.isnan(low)], high[np.isnan(high)] = -np.inf, np.inf
    least = np.where(np.isnan(value), one.value, np.minimum(one.value, value))
    band = Given(np.minimum(one.low, low), np.minimum(one.high, high))
    return Curves(one.parameter, one.keys, one.frequency_mhz, least, band, one.sweeps, one.repeated)


def stated_for_both(document: Mapping[str, Any]) -> frozenset[Key]:
    """The stated items, each as a key, that may be about both orders of their two pairs.

    That is where no item has the other order, and the sweeps have that one order too, or the items
    of its end name every two pairs of the cable in one order. One that stands by itself, such as
    the worst of the link, is of the order that it names.

    Args:
        document: of the record.
    """
    items = _keys(document.get("stated", {}).get("items", ()))
    if not items:
        return frozenset()
    single, swept = alone(items), alone(_keys(document["results"].get("sweeps", ())))
    named = {(key.end, frozenset(key.pairs)) for key in single}
    every = [frozenset(two) for two in combinations(PAIRS, 2)]
    whole = {end for end, _ in named if all((end, two) in named for two in every)}
    return frozenset(key for key in single if key in swept or key.end in whole)


def _keys(things: Sequence[Mapping[str, Any]]) -> tuple[Key, ...]:
    """What the sweeps or stated items of such parameters are of."""
    return tuple(
        Key(one["parameter"], one.get("end"), tuple(one.get("pairs", ())))
        for one in things
        if one["parameter"] in ONE_ORDER
    )
