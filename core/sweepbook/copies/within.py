"""Curves of one record of which one was made from another: a few figures changed, or an offset."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from sweepbook.copies.curves import PARAMETERS, readings
from sweepbook.copies.figures import Figures
from sweepbook.copies.match import SAMPLES, Match, match, may_agree
from sweepbook.judging.curves import F64, Curves, Key

Index = NDArray[np.intp]

ROUNDING_DB = 1e-9
"""Room for binary rounding, far below any printed digit."""


@dataclass(frozen=True, slots=True)
class Made:
    """Two curves of one parameter that differ by an offset and noise, or at few points.

    Attributes:
        first, second: what they are of.
        sweep: position of the second in results.sweeps.
        match: how they agree.
    """

    first: Key
    second: Key
    sweep: int
    match: Match


def made_from_another(curves: Mapping[str, Curves], figures: Figures) -> Iterator[Made]:
    """Yield the curves of return loss and NEXT that agree with an earlier one too well.

    Curves that are the same at every point are not among them: they are told as such.

    Args:
        curves: of one record, by parameter.
        figures: from which on they agree too well.
    """
    for name in PARAMETERS:
        alike = _alike(curves[name], figures) if name in curves else []
        if not alike:
            continue
        told: set[int] = set()
        one = readings(curves, figures.structure_db)[name]
        for first, second in alike:
            if second in told or not (one.structured[first] and one.structured[second]):
                continue
            half = float(one.half_digit[first]), float(one.half_digit[second])
            held = match(one.value[first], one.value[second], half, figures.apart_db)
            if held.agrees(figures) and not _same(one.value[first], one.value[second]):
                told.add(second)
                sweep = curves[name].sweeps[second][0]
                yield Made(one.keys[first], one.keys[second], sweep, held)


@np.errstate(all="ignore")  # infinities less each other are no number, as is meant
def _alike(curves: Curves, figures: Figures) -> list[tuple[int, int]]:
    """Rows that may agree, by a few of their points; most rows of a record do not."""
    step = max(1, curves.frequency_mhz.size // SAMPLES)
    value, digits = curves.value[:, ::step], curves.width
    if not np.isfinite(digits).all():
        low, high = curves.between(slice(None, None, step)).ends
        known = np.isfinite(value) & np.isfinite(low) & np.isfinite(high)
        digits = np.where(known, high - low, 0.0).max(axis=1, initial=0.0)
        value = np.where(known, value, np.nan)
    elif curves.clipped:
        for flags in curves.boundless:
            value = value if flags is None else np.where(flags[:, ::step], np.nan, value)
    first, second = every_two(len(value))
    apart = value[first] - value[second]
    allowed = 2.0 * figures.apart_db + digits[first] + digits[second] + ROUNDING_DB
    near = np.flatnonzero(may_agree(apart, allowed))
    return [(int(first[place]), int(second[place])) for place in near]


@lru_cache(maxsize=32)
def every_two(count: int) -> tuple[Index, Index]:
    """Each two of so many rows, the lower first."""
    first, second = np.triu_indices(count, 1)
    return first, second


def _same(first: F64, second: F64) -> bool:
    return bool(np.array_equal(first, second, equal_nan=True))
