"""Curves of one record that turn together: one made from another by a slope, or with noise.

What is left of a curve beside its smooth course is its ripple. That of two curves of one link comes
of other pairs, or from the other end, and has little in common on all but short links.
"""

from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from sweepbook.copies.curves import PARAMETERS, readings
from sweepbook.copies.figures import Figures
from sweepbook.copies.match import match
from sweepbook.copies.within import every_two
from sweepbook.judging.curves import F64, Curves, Key
from sweepbook.limits.axes import axis_bytes

LEAST_POINTS = 100
FEW = 256
"""Points at which the curves are looked at first."""
SLACK = 0.1
"""How far the correlation at these may be off that at all points, and more."""


class Alike(NamedTuple):
    """Two curves of one parameter that turn together.

    Attributes:
        first, second: what they are of.
        sweep: position of the second in results.sweeps.
        correlation: of their ripples, 1 for the same.
    """

    first: Key
    second: Key
    sweep: int
    correlation: float


def running_alike(curves: Mapping[str, Curves], figures: Figures, least: float) -> Iterator[Alike]:
    """Yield the curves of return loss and NEXT whose ripple is that of an earlier one.

    Those that are another but for an offset or a few points are not among them: they are told as
    such. So are curves without ripple.

    Args:
        curves: of one record, by parameter.
        figures: from which on curves have ripple, and are made from another.
        least: correlation from which on two turn together.
    """
    for name in PARAMETERS:
        of = curves.get(name)
        if of is None or of.frequency_mhz.size < LEAST_POINTS or of.frequency_mhz[0] <= 0.0:
            continue
        step = max(1, of.frequency_mhz.size // FEW)
        basis = _course(axis_bytes(of.frequency_mhz), step)
        if of.whole and not _together(of.value[:, ::step], basis, least - SLACK):
            continue
        one = readings(curves, figures.structure_db)[name]
        known = np.isfinite(one.value).all(axis=0)
        if np.count_nonzero(known) < LEAST_POINTS:
            continue
        told: set[int] = set()
        basis = _course(of.frequency_mhz[known].tobytes())
        for first, second, found in _together(one.value[:, known], basis, least):
            if second in told or not (one.structured[first] and one.structured[second]):
                continue
            half = float(one.half_digit[first]), float(one.half_digit[second])
            if not match(one.value[first], one.value[second], half, figures.apart_db).agrees(
                figures
            ):
                told.add(second)
                yield Alike(one.keys[first], one.keys[second], of.sweeps[second][0], found)


def _together(value: F64, basis: F64, least: float) -> list[tuple[int, int, float]]:
    """Rows whose ripples correlate so much, the lower first, with the correlation.

    A ripple is what the best combination of a basis leaves.
    """
    with np.errstate(all="ignore"):  # curves without ripple, and values beyond any measurement
        left = value - (value @ basis) @ basis.T
        products = left @ left.T
        size = np.sqrt(np.diagonal(products))
        first, second = every_two(len(value))
        found = products[first, second] / (size[first] * size[second])
    return [
        (int(first[place]), int(second[place]), float(found[place]))
        for place in np.flatnonzero(found >= least)
    ]


@lru_cache(maxsize=32)
def _course(axis: bytes, step: int = 1) -> F64:
    """What a + b lg f + c sqrt f + d f is made of, upright, at every so many points: float64[n, 4].

    Kept, since links share axes.
    """
    mhz = np.frombuffer(axis)[::step]
    course = np.stack([np.ones_like(mhz), np.log10(mhz), np.sqrt(mhz), mhz], axis=1)
    basis = np.ascontiguousarray(np.linalg.qr(course)[0])
    basis.setflags(write=False)
    return basis
