"""The plain ways of copying a test, on curves."""

from collections.abc import Callable

import numpy as np

from sweepbook.copies.likeness import RENAMINGS, Renaming
from sweepbook.judging.curves import Curves, Key

from .sisters import F64, curves

Test = dict[str, Curves]
Kind = Callable[[Test], Test]
PAIRS_MOVED = ("3-6", "7-8", "1-2", "4-5")


def changed(
    test: Test,
    values: Callable[[F64], F64] = lambda values: values,
    renaming: Renaming = RENAMINGS[0],
    every: int = 1,
    decimals: int = 2,
) -> Test:
    """A test with other values, names, frequencies or digits."""

    def one(group: Curves) -> Curves:
        rows: dict[Key, F64] = {
            renaming.of(key): values(group.value[row])[::every]
            for row, key in enumerate(group.keys)
        }
        return curves(group.frequency_mhz[::every], rows, decimals)

    return {name: one(group) for name, group in test.items()}


def _noise(values: F64) -> F64:
    return values + np.random.default_rng(values.size).uniform(-0.03, 0.03, values.size)


KINDS: dict[str, Kind] = {
    "exact": lambda test: test,
    "noise": lambda test: changed(test, _noise),
    "rounded": lambda test: changed(test, decimals=1),
    "ends": lambda test: changed(test, renaming=Renaming(True, RENAMINGS[0].pairs)),
    "pairs": lambda test: changed(test, renaming=Renaming(False, PAIRS_MOVED)),
    "offset": lambda test: changed(test, lambda values: values - 0.37),
    "thinned": lambda test: changed(test, every=4),
    "all of it": lambda test: changed(
        test, lambda values: _noise(values) - 0.37, Renaming(True, PAIRS_MOVED), 4, 1
    ),
}
