"""The points of one sweep, as its record has them: gaps closed, clipped runs opened on one side."""

from collections.abc import Callable, Mapping, Sequence
from functools import lru_cache
from typing import Any, NamedTuple

import numpy as np

from sweepbook.judging.complex_loss import loss_of
from sweepbook.judging.curves import UNORDERED, Key
from sweepbook.judging.derive import F64, Ends
from sweepbook.judging.digits import half_digit


class Clipped(NamedTuple):
    """Points from one to before another that are known from one side only, upwards or not."""

    first: int
    after: int
    upwards: bool


class Points(NamedTuple):
    """The points of one sweep, float64[n] each, in the order of its grid.

    Attributes:
        half: half its last digit, which the ends are off but for what follows.
        decimals: digits after the mark that it is printed with.
        ends: of a complex sweep, where they hang on each value.
        clipped: runs of points that are known from one side only.
    """

    key: Key
    sweep: int
    frequency_mhz: F64
    value: F64
    half: float
    decimals: int
    ends: Ends | None
    clipped: Sequence[Clipped]
    plain: bool
    turned: bool

    @property
    def both(self) -> Ends:
        """The ends, float64[n] each."""
        low, high = self.ends or (self.value - self.half, self.value + self.half)
        for first, after, upwards in self.clipped:
            if upwards:
                high[first:after] = np.inf
            else:
                low[first:after] = -np.inf
        return Ends(low, high)


def points_of(position: int, sweep: Mapping[str, Any], axis: F64, rising: bool) -> Points:
    """The points of a sweep.

    Args:
        position: in results.sweeps.
        sweep: of a record that follows its schema.
        axis: float64[n] of its grid.
        rising: whether that rises strictly.

    Raises:
        Unreadable: it is complex, and no loss can be computed from it.
    """
    key, turned = _key(sweep["parameter"], sweep.get("end"), tuple(sweep["pairs"]))
    half, decimals = half_digit(sweep), int(sweep["decimals"])
    ends: Ends | None = None
    if "complex" in sweep:
        value, low, high = loss_of(sweep["complex"], half)
        ends = Ends(low, high)
    else:
        value = sweep["value_db"] if "value_db" in sweep else sweep["delay_ns"]
    gaps, bounds = sweep.get("gaps", ()), sweep.get("bounds", ())
    if not gaps and not bounds:
        return Points(key, position, axis, value, half, decimals, ends, (), rising, turned)
    place: Callable[[int], int] = int
    if gaps:
        there = np.ones(axis.size, dtype=np.bool_)
        for gap in gaps:
            there[gap["from"] : gap["to"] + 1] = False
        place = np.concatenate(([0], np.cumsum(there))).item
        axis = axis[there]
    clipped = [
        Clipped(place(bound["from"]), place(bound["to"] + 1), bound["bound"] == "at_least")
        for bound in bounds
    ]
    plain = rising and not gaps
    return Points(key, position, axis, value, half, decimals, ends, clipped, plain, turned)


@lru_cache(maxsize=1024)
def _key(parameter: str, end: str | None, pairs: tuple[str, ...]) -> tuple[Key, bool]:
    """What a sweep is of, and whether it names its pairs in the other order.

    Both orders of the pairs of NEXT name one curve.
    """
    kept = tuple(sorted(pairs)) if parameter in UNORDERED else pairs
    return Key(parameter, end, kept), kept != pairs
