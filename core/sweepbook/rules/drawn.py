"""The rule about a stretch of a curve that was drawn in, on a curve that turns elsewhere."""

import math
from collections.abc import Iterator, Sequence
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from sweepbook.judging.curves import F64, Curves, Flags
from sweepbook.judging.phrases import name
from sweepbook.judging.physics import LIGHT_M_PER_NS
from sweepbook.rules.case import Case
from sweepbook.rules.items import is_true_fail
from sweepbook.rules.model import Hit
from sweepbook.rules.shape import ROUGH, ROUNDING
from sweepbook.rules.words import where

BLOCK = 32
"""Points that a stretch is made of: it has as many blocks as it takes to cover enough ripple."""
DEGREE = 2
"""Of the polynomial that a drawn stretch follows; a straight line and a limit are near to one."""
EVERY = 4
"""Of so many points one is looked at first: what a parabola leaves of them is more of them all."""
FEWEST_CURVES = 4
"""With fewer there is nothing beside a curve that tells how rough it would be."""
NS_A_US = 1e3
DB_A_NEPER = 20.0 / math.log(10.0)
LEAST_NEPERS = 1e-6
"""Of a loss: less makes no difference, and 0 has no share."""
NO_NUMBER = 1e6
"""What a parabola leaves of points that are no numbers: more than of any."""

Span = tuple[int, int]
"""A stretch of an axis: its first point, and that after its last."""
Blocks = NDArray[np.intp]
"""Stretches, int[2, k]: the first block of each, and that after its last."""


def stretches_are_as_rough_as_readings(case: Case) -> Iterator[Hit]:
    """Yield every curve with a stretch that is smooth where the curves beside it are not.

    Over so many periods of the ripple that what comes back from along the link makes.
    """
    if is_true_fail(case):
        return
    rough, times, periods = (
        case.practice.value(one) for one in ("smooth_db", "stretch_times", "stretch_periods")
    )
    loss = case.needed_working.measured_curves.get("insertion_loss")
    if loss is None or not case.shortest_m:
        return
    axis: F64 | None = None
    for parameter in ROUGH:
        curves = case.needed_working.measured_curves.get(parameter)
        if curves is None or len(curves.keys) < FEWEST_CURVES:
            continue
        if curves.frequency_mhz is not axis:
            axis = curves.frequency_mhz
            blocks = _stretches(axis, loss, case.shortest_m, periods)
        smooth: dict[int, list[tuple[Span, float, float]]] = {}
        for span in _not_rough(curves.value, blocks, rough):
            left, few = _left(curves.between(slice(*span)))
            usual = float(np.median(np.where(np.isnan(left), np.inf, left)))
            if usual >= times * rough:
                for row in np.flatnonzero(few & (left <= rough)).tolist():
                    smooth.setdefault(row, []).append((span, float(left[row]), usual))
        for row, found in smooth.items():
            yield _hit(curves, row, found)


def _stretches(axis: F64, loss: Curves, length_m: float, periods: float) -> Blocks:
    """From each block of an axis on the fewest blocks that cover so many periods of ripple.

    Args:
        axis: float64[n] in MHz, rising.
        loss: insertion loss; the greatest of all pairs counts.
        length_m: of the link at least.
        periods: how many.
    """
    edges = axis[: axis.size - axis.size % BLOCK].reshape(-1, BLOCK)[:, [0, -1]].ravel()
    ripples = _ripples(edges, loss, length_m)
    first, last = ripples[::2], ripples[1::2]
    final = last.searchsorted(first + periods)
    enough = np.count_nonzero(final < last.size)
    return np.array((np.arange(enough), final[:enough] + 1))


def _ripples(axis: F64, loss: Curves, length_m: float) -> F64:
    """Periods of ripple from the first of some frequencies up to each, at least.

    What comes back from x along a link of the length L turns a curve once in c / 2x, and is weaker
    by twice the loss up to there. Its power falls with e^(-4ax / L), a the insertion loss in
    nepers, so that the link turns the curve as one of the length L (1 - e^(-4a)) / 4a without loss
    does.

    Args:
        axis: float64[n] in MHz, rising.
        loss: insertion loss; the greatest of all pairs counts.
        length_m: of the link at least.

    Returns:
        float64[n], rising.
    """
    most, measured = np.fmax.reduce(loss.value, axis=0), loss.frequency_mhz
    if not loss.whole:
        known = ~np.isnan(most)
        most, measured = most[known], measured[known]
    if not measured.size:
        return np.zeros(axis.size)
    most = np.interp(axis, measured, most)
    four = np.maximum(4.0 / DB_A_NEPER * most, LEAST_NEPERS)
    a_mhz = -2.0 * length_m / (LIGHT_M_PER_NS * NS_A_US) * np.expm1(-four) / four
    found = np.zeros(axis.size)
    np.add.accumulate((axis[1:] - axis[:-1]) * np.minimum(a_mhz[1:], a_mhz[:-1]), out=found[1:])
    return found


def _not_rough(value: F64, blocks: Blocks, rough_db: float) -> Iterator[Span]:
    """Those of some stretches in which a curve may be smooth, by a few points of each block.

    A parabola of its own leaves less of a block than one for the whole, and less of a few points.
    """
    first, end = blocks
    if not first.size:
        return
    looked_at = slice(EVERY // 2, value.shape[1] - value.shape[1] % BLOCK, EVERY)
    few = value[:, looked_at].reshape(-1, BLOCK // EVERY)
    with np.errstate(all="ignore"):  # values beyond any measurement leave no number
        left = np.einsum("ij,ij->i", few @ _beside(BLOCK // EVERY), few).reshape(len(value), -1)
    if not left.max() < NO_NUMBER:
        left[~(left < NO_NUMBER)] = NO_NUMBER
    up_to = np.zeros((len(value), left.shape[1] + 1))
    np.add.accumulate(left, axis=1, out=up_to[:, 1:])
    most = (end - first) * (BLOCK * rough_db**2) + ROUNDING
    smooth = (up_to[:, end] - up_to[:, first] <= most).any(axis=0)
    for place in np.flatnonzero(smooth).tolist():
        yield int(first[place]) * BLOCK, int(end[place]) * BLOCK


def _left(curves: Curves) -> tuple[F64, Flags]:
    """Of each curve what a parabola leaves, and whether nothing of it is clipped.

    Args:
        curves: m curves on a stretch of an axis.

    Returns:
        float64[m], root mean square in dB, NaN with a hole; bool[m].
    """
    value, above = curves.value, curves.boundless.above
    course = value @ _basis(value.shape[1])
    with np.errstate(all="ignore"):  # values beyond any measurement leave no number
        square = np.einsum("ij,ij->i", value, value) - np.einsum("ij,ij->i", course, course)
        left = np.sqrt(np.maximum(square, 0.0) / value.shape[1])
    whole: Flags = np.ones(len(value), dtype=np.bool_)
    if above is not None:
        whole = ~np.any(above, axis=1)
    return left, whole


def _hit(curves: Curves, row: int, smooth: Sequence[tuple[Span, float, float]]) -> Hit:
    """The first smooth stretches of a curve that touch.

    Args:
        curves: the curve among others.
        row: which one.
        smooth: each stretch, what a parabola leaves of it, and of half of the curves or more.
    """
    ((first, end), most, usual), *more = smooth
    for (start, last), left, _ in more:
        if start > end:
            break
        end, most = last, max(most, left)
    axis, key = curves.frequency_mhz, curves.keys[row]
    said = {
        "parameter": name(key.parameter),
        "where": where(key.end, key.pairs),
        "from_mhz": float(axis[first]),
        "to_mhz": float(axis[end - 1]),
        "points": end - first,
        "rms_db": most,
        "usual_db": usual,
    }
    places = curves.sweeps[row]
    return Hit(f"$.results.sweeps[{places[0]}]" if places else "$.results.sweeps", said)


@lru_cache(maxsize=1)
def _beside(size: int) -> F64:
    """What takes the polynomials out of so many points, float64[size, size]."""
    return np.eye(size) - _basis(size) @ _basis(size).T


@lru_cache(maxsize=64)
def _basis(size: int) -> F64:
    """Orthonormal polynomials of the position, float64[size, DEGREE + 1]."""
    position = np.arange(size) - (size - 1) / 2.0
    basis = np.ascontiguousarray(np.linalg.qr(np.vander(position, DEGREE + 1))[0])
    basis.setflags(write=False)
    return basis
