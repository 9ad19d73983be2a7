"""Whether the sweeps that a full proof needs are there, long enough and dense enough."""

from collections.abc import Callable, Iterator, Sequence
from itertools import combinations, permutations

import numpy as np

from sweepbook.judging.curves import ENDS, F64, PAIRS, Curves, Key
from sweepbook.judging.working import Lack, LackKind

ONE_HZ_MHZ = 1e-6
"""Frequencies nearer than this are one: room for a source's rounding, not for a missing point."""

LargestStep = Callable[[F64], F64]
"""Largest step in MHz that the table allows at each frequency; NaN where it asks for none."""

NO_END = ("insertion_loss", "propagation_delay")
UNORDERED = ("next",)
ORDERED = ("acr_n", "fext", "acr_f", "anext", "afext")


def needed(parameter: str) -> tuple[tuple[str | None, tuple[str, ...]], ...]:
    """(end, pairs) of every curve that a full proof of a parameter needs."""
    if parameter in UNORDERED:
        combos: Sequence[tuple[str, ...]] = tuple(combinations(PAIRS, 2))
    elif parameter in ORDERED:
        combos = tuple(permutations(PAIRS, 2))
    else:
        combos = tuple((pair,) for pair in PAIRS)
    ends: tuple[str | None, ...] = (None,) if parameter in NO_END else ENDS
    return tuple((end, pairs) for end in ends for pairs in combos)


def absent(parameter: str, curves: Curves | None) -> tuple[Lack, ...]:
    """Curves that are needed and not there: one lack for the parameter, an end, or each curve."""
    if curves is None or not curves.keys:
        return (Lack(parameter, None, (), LackKind.PARAMETER),)
    have = {_identity(key) for key in curves.keys}
    wanted = needed(parameter)
    gone = [item for item in wanted if _identity(Key(parameter, *item)) not in have]
    if len(gone) == len(wanted):
        return (Lack(parameter, None, (), LackKind.PARAMETER),)
    lacks: list[Lack] = []
    for end in dict.fromkeys(end for end, _ in wanted):
        here = [item for item in gone if item[0] == end]
        if end is not None and len(here) == sum(1 for item in wanted if item[0] == end):
            lacks.append(Lack(parameter, end, (), LackKind.END))
        else:
            lacks.extend(Lack(parameter, end, pairs, LackKind.PAIRS) for _, pairs in here)
    return tuple(lacks)


def _identity(key: Key) -> tuple[str | None, tuple[str, ...]]:
    end = None if key.parameter in NO_END else key.end
    pairs = tuple(sorted(key.pairs)) if key.parameter in UNORDERED else key.pairs
    return end, pairs


def thin(
    curves: Curves, f_min_mhz: float, f_max_mhz: float, largest_step: LargestStep | None
) -> Iterator[tuple[int, Lack]]:
    """Rows that start too high, stop too low or step too wide, each with what is lacking.

    A hole (a gap in the source) is a step from the last point before it to the first after it.
    """
    holes = np.isnan(curves.value)
    whole: list[tuple[LackKind, float, float, float | None]] | None = None
    for row, key in enumerate(curves.keys):
        if holes[row].any():
            points = curves.frequency_mhz[~holes[row]]
            faults = _faults(points, f_min_mhz, f_max_mhz, largest_step)
        else:
            if whole is None:
                whole = _faults(curves.frequency_mhz, f_min_mhz, f_max_mhz, largest_step)
            faults = whole
        for kind, at, asked, step in faults:
            yield row, Lack(key.parameter, key.end, key.pairs, kind, at, asked, step)


def _faults(
    points: F64, f_min: float, f_max: float, largest_step: LargestStep | None
) -> list[tuple[LackKind, float, float, float | None]]:
    if not points.size:
        return [(LackKind.POINTS, f_min, f_max, None)]
    faults: list[tuple[LackKind, float, float, float | None]] = []
    first, last = float(points[0]), float(points[-1])
    if not first <= f_min + ONE_HZ_MHZ:
        faults.append((LackKind.START, first, f_min, None))
    if not last >= f_max - ONE_HZ_MHZ:
        faults.append((LackKind.STOP, last, f_max, None))
    if largest_step is None:
        return faults
    lower, upper = points[:-1], points[1:]
    within = (upper > f_min + ONE_HZ_MHZ) & (lower < f_max - ONE_HZ_MHZ)
    allowed = np.fmax(largest_step(lower), largest_step(upper))
    excess = np.where(within & ~(upper - lower <= allowed + ONE_HZ_MHZ), upper - lower, 0.0)
    excess[np.isnan(allowed)] = 0.0
    if excess.any():
        at = int(np.argmax(excess))
        faults.append((LackKind.STEP, float(lower[at]), float(allowed[at]), float(excess[at])))
    return faults
