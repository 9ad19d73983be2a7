"""The curves that tell one link from its sisters: return loss and NEXT, at what was measured.

Insertion loss is left out, for two lengths of one cable lose the same; so is FEXT, which is smooth
on short links and, with its pairs the other way round, one figure of a reciprocal link.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from sweepbook.judging.curves import F64, Curves, Flags, Key
from sweepbook.judging.measured import measured

PARAMETERS = ("return_loss", "next")

STEPS_DB = (0.1, 1.0)
STEP_ROUNDING = 1e-6
"""How far a multiple may be off a whole number by the rounding of doubles."""

ROUNDS = 4
"""How often a curve's smooth course is looked for."""
FAR_OFF = 4.0
"""Points so many times further off the course than half of them are left out of the next round."""
ROUNDED_DB = 0.05
"""Differences that are no ripple at all, but of rounding."""


@dataclass(frozen=True, slots=True, eq=False)
class Readings:
    """m curves of one parameter on one rising axis of n frequencies.

    Attributes:
        keys: what each curve is of.
        frequency_mhz: float64[n].
        value: float64[m, n] in dB; NaN where a curve has no point, or a clipped one.
        half_digit: float64[m] in dB, half the last digit of each curve; where all its values are
            whole tenths or whole decibels, half of that, however many digits are printed.
        structured: bool[m], whether a curve has ripple enough to be known by it.
    """

    keys: tuple[Key, ...]
    frequency_mhz: F64
    value: F64
    half_digit: F64
    structured: Flags

    def on(self, axis: F64) -> F64:
        """The values at some frequencies of its own axis: float64[m, k]."""
        if axis.size == self.frequency_mhz.size:
            return self.value
        return self.value[:, np.searchsorted(self.frequency_mhz, axis)]


def curves_of(document: Mapping[str, Any]) -> dict[str, Curves]:
    """Return loss and NEXT of a record as measured, by parameter; those without points left out.

    Args:
        document: of a record that follows its schema.
    """
    results = document.get("results", {})
    sweeps = [one for one in results.get("sweeps", ()) if one["parameter"] in PARAMETERS]
    with np.errstate(all="ignore"):  # values beyond any measurement become infinities
        return measured({"results": {**results, "sweeps": sweeps}})[0] if sweeps else {}


def readings(curves: Mapping[str, Curves], structure_db: float) -> dict[str, Readings]:
    """What was measured and not clipped, by parameter.

    Args:
        curves: by parameter; those that are no return loss and no NEXT are passed over.
        structure_db: how far half of the points of a curve must lie from its smooth course for it
            to have structure.
    """
    with np.errstate(all="ignore"):
        return {
            name: _readings(curves[name], structure_db) for name in PARAMETERS if name in curves
        }


def _readings(curves: Curves, structure_db: float) -> Readings:
    known = np.isfinite(curves.low) & np.isfinite(curves.high) & np.isfinite(curves.value)
    value = np.where(known, curves.value, np.nan)
    half = np.where(known, curves.high - curves.low, 0.0).max(axis=1, initial=0.0) / 2.0
    half = np.maximum(half, _step_db(value) / 2.0)
    structured = _ripple_db(curves.frequency_mhz, value) >= structure_db
    return Readings(curves.keys, curves.frequency_mhz, value, half, structured)


def _step_db(value: F64) -> F64:
    """The coarsest of 1 dB and 0.1 dB that all values of a curve are whole multiples of, else 0."""
    step = np.zeros(len(value))
    for size in STEPS_DB:
        off = np.abs(value / size - np.round(value / size))
        whole = ~(off > STEP_ROUNDING).any(axis=1) & np.isfinite(value).any(axis=1)
        step[whole] = size
    return step


def _ripple_db(frequency_mhz: F64, value: F64) -> F64:
    """How far half of the points of each curve lie from its smooth course: float64[m].

    The course is the best of a + b lg f + c sqrt f, which losses of cable and connectors follow. It
    is found again without the points far off it, since one notch in a smooth curve is no ripple.
    """
    above = np.maximum(frequency_mhz, 1e-3)
    course = np.stack([np.ones_like(above), np.log10(above), np.sqrt(above)], axis=1)
    return np.array([_off_course(course, curve) for curve in value], dtype=np.float64)


def _off_course(course: F64, curve: F64) -> float:
    """The median of the differences between one curve float64[n] and its course, in dB."""
    kept = np.isfinite(curve)
    typical = 0.0
    for _ in range(ROUNDS):
        if np.count_nonzero(kept) <= course.shape[1]:
            return 0.0
        best, *_ = np.linalg.lstsq(course[kept], curve[kept], rcond=None)
        off = np.abs(curve - course @ best)
        typical = float(np.median(off[kept]))
        kept &= off <= FAR_OFF * typical + ROUNDED_DB
    return typical
