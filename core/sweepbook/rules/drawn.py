"""The rule about a stretch of a curve that was drawn in, on a curve that turns elsewhere."""

from collections.abc import Iterator, Sequence
from functools import lru_cache

import numpy as np

from sweepbook.judging.curves import F64, Curves, Flags
from sweepbook.judging.phrases import name
from sweepbook.judging.physics import LIGHT_M_PER_NS
from sweepbook.rules.case import Case
from sweepbook.rules.items import is_true_fail
from sweepbook.rules.model import Hit
from sweepbook.rules.shape import ROUGH, ROUNDING
from sweepbook.rules.words import where

SIZES = (32, 64, 128, 256)
"""Points of a stretch that is looked at: the longer the shorter the link."""
DEGREE = 2
"""Of the polynomial that a drawn stretch follows; a straight line and a limit are near to one."""
EVERY = 4
"""Of so many points one is looked at first: what a parabola leaves of them is more of them all."""
FEWEST_CURVES = 4
"""With fewer there is nothing beside a curve that tells how rough it would be."""
NS_A_US = 1e3


def stretches_are_as_rough_as_readings(case: Case) -> Iterator[Hit]:
    """Yield every curve with a stretch that is smooth where the curves beside it are not.

    Over so many periods of the ripple that reflections from the far end make, c / 2L or less.
    """
    if is_true_fail(case):
        return
    rough, times, periods = (
        case.practice.value(one) for one in ("smooth_db", "stretch_times", "stretch_periods")
    )
    ripples_a_mhz = _ripples_a_mhz(case)
    if not ripples_a_mhz:
        return
    for parameter in ROUGH:
        curves = case.needed_working.measured_curves.get(parameter)
        if curves is None or len(curves.keys) < FEWEST_CURVES:
            continue
        told: set[int] = set()
        spans = list(_stretches(curves.frequency_mhz, periods / ripples_a_mhz))
        for size, span in _not_rough(curves.value, spans, rough) if spans else ():
            part = curves.between(span)
            left, smooth = _smooth(part, size, rough)
            if not smooth.any():
                continue
            usual = np.median(np.where(np.isnan(left), np.inf, left), axis=0)
            smooth &= usual >= times * rough
            for row in np.flatnonzero(smooth.any(axis=1)).tolist():
                if row not in told:
                    told.add(row)
                    yield _hit(part, row, size, left, smooth)


def _stretches(axis: F64, least_mhz: float) -> Iterator[tuple[int, slice]]:
    """Where stretches of so many points cover enough, whatever the steps between: up to the last.

    Args:
        axis: float64[n], rising.
        least_mhz: how much a stretch has to cover.

    Yields:
        points of a stretch, and which points of the axis are such stretches one after another.
    """
    for size in SIZES:
        end = axis.size - axis.size % size
        narrow = np.flatnonzero(axis[size - 1 : end : size] - axis[:end:size] < least_mhz)
        start = (int(narrow[-1]) + 1) * size if narrow.size else 0
        if start < end:
            yield size, slice(start, end)


def _not_rough(
    value: F64, spans: Sequence[tuple[int, slice]], rough_db: float
) -> Iterator[tuple[int, slice]]:
    """Those of the spans in which a stretch may be smooth, by a few points of its least parts.

    A parabola of its own leaves less of a part than one for the whole, and less of a few points.
    """
    least = SIZES[0]
    few = value[:, : value.shape[1] - value.shape[1] % least].reshape(len(value), -1, least)
    few = few[:, :, EVERY // 2 :: EVERY]
    with np.errstate(all="ignore"):  # values beyond any measurement leave no number
        course = few @ _basis(least // EVERY)
        left = np.einsum("ijk,ijk->ij", few, few) - np.einsum("ijk,ijk->ij", course, course)
        for size, span in spans:
            parts = left[:, span.start // least : span.stop // least]
            whole = np.add.reduce(parts.reshape(len(value), -1, size // least), axis=2)
            if (whole <= size * rough_db**2 + ROUNDING).any():
                yield size, span


def _hit(curves: Curves, row: int, size: int, left: F64, smooth: Flags) -> Hit:
    """The first run of smooth stretches of a curve."""
    first = last = int(np.flatnonzero(smooth[row])[0])
    while last + 1 < smooth.shape[1] and smooth[row, last + 1]:
        last += 1
    axis, run = curves.frequency_mhz, slice(first, last + 1)
    key = curves.keys[row]
    said = {
        "parameter": name(key.parameter),
        "where": where(key.end, key.pairs),
        "from_mhz": float(axis[first * size]),
        "to_mhz": float(axis[(last + 1) * size - 1]),
        "points": (last + 1 - first) * size,
        "rms_db": float(left[row, run].max()),
        "usual_db": float(np.median(np.nan_to_num(left[:, run], nan=np.inf))),
    }
    places = curves.sweeps[row]
    return Hit(f"$.results.sweeps[{places[0]}]" if places else "$.results.sweeps", said)


def _smooth(curves: Curves, size: int, rough_db: float) -> tuple[F64, Flags]:
    """Of each stretch of so many points what a parabola leaves, and whether that is next to none.

    Args:
        curves: m curves on the axis of k stretches.
        size: points of a stretch.
        rough_db: what is next to none.

    Returns:
        float64[m, k], root mean square in dB, NaN with a hole; bool[m, k], False where clipped.
    """
    value = curves.value.reshape(len(curves.keys), -1, size)
    course = value @ _basis(size)
    with np.errstate(all="ignore"):  # values beyond any measurement leave no number
        square = np.einsum("ijk,ijk->ij", value, value) - np.einsum("ijk,ijk->ij", course, course)
        left = np.sqrt(np.maximum(square, 0.0) / size)
        smooth: Flags = left <= rough_db
    above = curves.boundless.above
    if above is not None:
        smooth &= ~above.reshape(value.shape).any(axis=2)
    return left, smooth


def _ripples_a_mhz(case: Case) -> float:
    """Least periods of the ripple in 1 MHz: 2L / c of the shortest pair; 0 where none is known."""
    return 2.0 * case.shortest_m / (LIGHT_M_PER_NS * NS_A_US)


@lru_cache(maxsize=len(SIZES) + 1)
def _basis(size: int) -> F64:
    """Orthonormal polynomials of the position, float64[size, DEGREE + 1]."""
    position = np.arange(size) - (size - 1) / 2.0
    basis = np.ascontiguousarray(np.linalg.qr(np.vander(position, DEGREE + 1))[0])
    basis.setflags(write=False)
    return basis
