"""Whether the sweeps that a full proof needs are there, long enough and dense enough."""

from collections.abc import Iterator, Sequence
from functools import cache, lru_cache
from itertools import combinations, permutations

import numpy as np

from sweepbook.judging.curves import ENDS, F64, PAIRS, UNORDERED, Curves, Key
from sweepbook.judging.working import Lack, LackKind
from sweepbook.limits.axes import axis_bytes
from sweepbook.limits.model import LimitTable
from sweepbook.limits.steps import largest_step_mhz

ONE_HZ_MHZ = 1e-6
"""Frequencies nearer than this are one: room for a source's rounding, not for a missing point."""

NO_END = ("insertion_loss", "propagation_delay")
ORDERED = ("acr_n", "fext", "acr_f", "anext", "afext")


@cache
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
    return _absent(parameter, curves.keys if curves is not None else ())


@lru_cache(maxsize=256)
def _absent(parameter: str, keys: tuple[Key, ...]) -> tuple[Lack, ...]:
    """Kept, since most tests of a job hold the same curves."""
    if not keys:
        return (Lack(parameter, None, (), LackKind.PARAMETER),)
    have = {_identity(key) for key in keys}
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
    return end, key.pairs


def thin(
    curves: Curves, f_min_mhz: float, f_max_mhz: float, table: LimitTable | None
) -> Iterator[tuple[int, Lack]]:
    """Rows that start too high, stop too low or step too wide, each with what is lacking.

    A hole (a gap in the source) is a step from the last point before it to the first after it.

    Args:
        curves: m x n.
        f_min_mhz: lowest frequency of the limit.
        f_max_mhz: highest frequency of the limit.
        table: for the largest steps; None where none are asked for.
    """
    whole = _faults(axis_bytes(curves.frequency_mhz), f_min_mhz, f_max_mhz, table)
    if curves.whole and not whole:
        return
    holes = curves.holes
    broken: list[bool] = np.any(holes, axis=1, keepdims=True)[:, 0].tolist()
    for row, key in enumerate(curves.keys):
        faults = whole
        if broken[row]:
            points = curves.frequency_mhz[~holes[row]]
            faults = _faults(points.tobytes(), f_min_mhz, f_max_mhz, table)
        for kind, at, asked, step in faults:
            yield row, Lack(key.parameter, key.end, key.pairs, kind, at, asked, step)


Fault = tuple[LackKind, float, float, float | None]


@lru_cache(maxsize=256)
def _faults(axis: bytes, f_min: float, f_max: float, table: LimitTable | None) -> tuple[Fault, ...]:
    """Faults of one axis, float64 as bytes; kept, since the links of a job share their axes."""
    points = np.frombuffer(axis, dtype=np.float64)
    if not points.size:
        return ((LackKind.POINTS, f_min, f_max, None),)
    faults: list[Fault] = []
    first, last = float(points[0]), float(points[-1])
    if not first <= f_min + ONE_HZ_MHZ:
        faults.append((LackKind.START, first, f_min, None))
    if not last >= f_max - ONE_HZ_MHZ:
        faults.append((LackKind.STOP, last, f_max, None))
    if table is not None:
        faults.extend(_wide_steps(points, f_min, f_max, table))
    return tuple(faults)


def _wide_steps(points: F64, f_min: float, f_max: float, table: LimitTable) -> list[Fault]:
    """The widest step beyond each that the table allows somewhere, rising in frequency."""
    lower, upper = points[:-1], points[1:]
    within = (upper > f_min + ONE_HZ_MHZ) & (lower < f_max - ONE_HZ_MHZ)
    allowed = np.fmax(largest_step_mhz(table, lower), largest_step_mhz(table, upper))
    steps = upper - lower
    wide = within & ~np.isnan(allowed) & ~(steps <= allowed + ONE_HZ_MHZ)
    widest = [
        int(np.argmax(np.where(wide & (allowed == most), steps, 0.0)))
        for most in np.unique(allowed[wide])
    ]
    return [
        (LackKind.STEP, float(lower[at]), float(allowed[at]), float(steps[at]))
        for at in sorted(widest)
    ]
