"""Rules about the shape of curves: what no measurement of a link that passes looks like.

A faulty link that was honestly stated to fail may look like anything; it is passed over.
"""

from collections.abc import Iterator
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sweepbook.judging.curves import F64, Curves
from sweepbook.judging.limit_line import limit_on
from sweepbook.judging.phrases import name
from sweepbook.limits.axes import axis_bytes
from sweepbook.rules.case import Case
from sweepbook.rules.items import is_true_fail
from sweepbook.rules.model import Hit
from sweepbook.rules.words import where

Index = NDArray[np.intp]

CUT_OFF = ("return_loss", "next", "fext")
ROUGH = ("return_loss", "next")
ROUNDING = 1e-9
"""Room for binary rounding, as a share of a value and in its unit; far below any printed digit."""
SAMPLES = 16
"""Points at which a curve is looked at first, where its limit slopes."""
FEW = 64
"""Points at which its course is looked at first."""

DEGREE = 5
"""Of the polynomial in lg f that a smooth curve follows; ripple of a link turns far more often."""


def loss_rises(case: Case) -> Iterator[Hit]:
    """Yield every insertion loss that is lower in the upper half of its points than in the lower.

    On average, and by more than a last digit.
    """
    curves = case.needed_working.measured_curves.get("insertion_loss")
    if curves is None or curves.frequency_mhz.size < 4 or is_true_fail(case):
        return
    middle = curves.frequency_mhz.size // 2
    if _all_rise(curves, middle):
        return
    there = ~np.isnan(curves.value)
    values = np.where(there, curves.value, 0.0)
    for row in range(len(curves.keys)):
        counts = there[row, :middle].sum(), there[row, middle:].sum()
        if not all(counts):
            continue
        lower = float(values[row, :middle].sum() / counts[0])
        upper = float(values[row, middle:].sum() / counts[1])
        if upper < lower and upper < lower - float(np.nanmax(curves.high[row] - curves.low[row])):
            said = {"low_db": lower, "high_db": upper}
            yield Hit(_path(curves, row), {**_which(curves, row), **said})


def _all_rise(curves: Curves, middle: int) -> bool:
    """Whether every curve is surely higher on average in the upper half of its points."""
    if not curves.whole:
        return False
    lower = np.add.reduce(curves.value[:, :middle], axis=1) / middle
    upper = np.add.reduce(curves.value[:, middle:], axis=1) / (curves.value.shape[1] - middle)
    return bool((upper > lower + ROUNDING * (1.0 + np.abs(lower))).all())


def curves_are_not_cut_off(case: Case) -> Iterator[Hit]:
    """Yield, once a parameter, curves that stand at one highest value for a stretch, unmarked.

    At least two of them at the same value: the ceiling of an instrument, not of a link.
    """
    least = case.practice.value("ceiling_points")
    for parameter in CUT_OFF:
        curves = case.needed_working.measured_curves.get(parameter)
        if curves is None or not curves.frequency_mhz.size:
            continue
        rows = np.arange(len(curves.keys))
        if curves.whole:
            rows = np.flatnonzero(np.array(curves.at_most) >= least)
        if rows.size < 2:
            continue
        value = curves.value[rows]
        most = np.fmax.reduce(value, axis=1, keepdims=True)
        at_most, above = value == most, curves.boundless.above
        if above is not None:
            at_most &= ~above[rows]
        counts = np.count_nonzero(at_most, axis=1)
        if not (counts >= least).any():
            continue
        partly = (counts >= least) & (counts < (~np.isnan(value)).sum(axis=1))
        heights, shared = np.unique(most[partly, 0], return_counts=True)
        for height in heights[shared > 1].tolist():
            alike = np.flatnonzero(partly & (most[:, 0] == height))
            first = int(rows[alike[0]])
            said = {"curves": alike.size, "value_db": height, "points": int(counts[alike].max())}
            yield Hit(_path(curves, first), {**_which(curves, first), **said})


def return_loss_is_of_a_link(case: Case) -> Iterator[Hit]:
    """Yield every return loss that stays above the practice figure at high frequencies.

    One beyond what a tester reads at all is reported elsewhere.
    """
    curves = case.needed_working.measured_curves.get("return_loss")
    if curves is None:
        return
    usual, from_mhz = (case.practice.value(f"return_loss_usual_{one}") for one in ("db", "mhz"))
    values = curves.value[:, int(np.searchsorted(curves.frequency_mhz, from_mhz)) :]
    if values.shape[1] < case.practice.value("ceiling_points") or (values[:, -1] <= usual).all():
        return
    for row, least in enumerate(np.fmin.reduce(values, axis=1).tolist()):
        if usual < least <= case.practice.value("return_loss_highest_db"):
            said = {"least_db": least, "usual_db": usual, "from_mhz": from_mhz}
            yield Hit(_path(curves, row), {**_which(curves, row), **said})


def curves_are_as_rough_as_readings(case: Case) -> Iterator[Hit]:
    """Yield, once a parameter, the curves where half of them or more are as smooth as a formula.

    A curve is smooth that stays within the practice figure of a polynomial in lg f, root mean
    square, over at least as many points.
    """
    if is_true_fail(case):
        return
    rough, least = (case.practice.value(one) for one in ("smooth_db", "smooth_points"))
    for parameter in ROUGH:
        curves = case.needed_working.measured_curves.get(parameter)
        if curves is None or curves.frequency_mhz.size < least or curves.frequency_mhz[0] <= 0.0:
            continue
        few = slice(None, None, max(1, curves.frequency_mhz.size // FEW))
        if _all_are_rough(curves, few, rough):
            continue
        basis = _basis(axis_bytes(curves.frequency_mhz))
        rest = curves.value - (curves.value @ basis) @ basis.T
        rms = np.sqrt(np.mean(rest**2, axis=1))
        smooth = np.flatnonzero(rms <= rough).tolist()
        if smooth and 2 * len(smooth) >= len(curves.keys):
            said = {"curves": len(smooth), "rms_db": float(rms[smooth[0]]), "usual_db": rough}
            yield Hit(_path(curves, smooth[0]), {**_which(curves, smooth[0]), **said})


def _all_are_rough(curves: Curves, few: slice, rough_db: float) -> bool:
    """Whether no curve can be smooth: a few of its points alone are too far from any course.

    Upright to a basis, the square of what is left is that of the whole less that of its part.
    """
    value, basis = curves.value[:, few], _basis(axis_bytes(curves.frequency_mhz), few.step)
    course = value @ basis
    left = np.einsum("ij,ij->i", value, value) - np.einsum("ij,ij->i", course, course)
    return bool((left > 4.0 * rough_db**2 * curves.frequency_mhz.size + 1e-9).all())


def curves_are_not_the_limit(case: Case) -> Iterator[Hit]:
    """Yield, once a parameter, the exported curves that keep one distance to their limit.

    Over as many points as the practice figure says or more, where the limit changes with the
    frequency, and within a last digit either way.
    """
    least = case.practice.value("smooth_points")
    turns = case.practice.value("limit_turns_db")
    for parameter, curves in case.needed_working.measured_curves.items():
        rule = case.needed_table.parameters.get(parameter)
        if rule is None or curves.frequency_mhz.size < least or rule.f_min_mhz is None:
            continue
        line = limit_on(rule, curves.frequency_mhz, case.needed_table, case.settings)
        limit, inside = line.value, line.sloping
        if not (inside.size >= least and line.slopes_by >= turns):
            continue
        beside = _keeping_distance(curves, limit, inside)
        if beside.size:
            row = int(beside[0])
            distance = float(np.median(curves.value[row, inside] - limit[inside]))
            said = {"points": inside.size, "distance_db": distance}
            said["curves"] = int(beside.size)
            yield Hit(_path(curves, row), {**_which(curves, row), **said})


def _keeping_distance(curves: Curves, limit: F64, points: Index) -> Index:
    """Rows that keep one distance to a limit at some points; a look at a few rules most out."""
    few = points[:: max(1, points.size // SAMPLES)]
    distance = curves.value[:, few] - limit[few]
    highest, lowest = (one.reduce(distance, axis=1) for one in (np.maximum, np.minimum))
    spread, rounding = highest - lowest, ROUNDING * (1.0 + np.abs(highest))
    near: Index = (spread <= 2.0 * curves.width + rounding).nonzero()[0]
    if not near.size:
        return near
    low, high = curves.ends_at(np.repeat(near, few.size), np.tile(few, near.size))
    widest = (high - low).reshape(-1, few.size).max(axis=1)
    # clipped, a curve stands still and its limit does not
    rows: Index = near[np.isfinite(widest) & (spread[near] <= 2.0 * widest)]
    if not rows.size:
        return rows
    low, value, high = (one[rows][:, points] for one in (curves.low, curves.value, curves.high))
    digit = np.max(high - low, axis=1)  # inf where clipped
    kept = np.isfinite(digit) & (np.ptp(value - limit[points], axis=1) <= 2.0 * digit)
    kept &= np.ptp(value, axis=1) > 0.0  # so great a value may be that a limit is lost in it
    found: Index = rows[kept]
    return found


@lru_cache(maxsize=16)
def _basis(axis: bytes, step: int = 1) -> F64:
    """Orthonormal polynomials in lg f at every so many points, float64[n, DEGREE + 1].

    Kept, since links share axes.
    """
    lg = np.log10(np.frombuffer(axis)[::step])
    basis = np.ascontiguousarray(np.linalg.qr(np.vander(lg, DEGREE + 1))[0])
    basis.setflags(write=False)
    return basis


def _path(curves: Curves, row: int) -> str:
    places = curves.sweeps[row]
    return f"$.results.sweeps[{places[0]}]" if places else "$.results.sweeps"


def _which(curves: Curves, row: int) -> dict[str, Any]:
    key = curves.keys[row]
    return {"parameter": name(key.parameter), "where": where(key.end, key.pairs)}
