"""The curves that tell one link from its sisters: return loss and NEXT, at what was measured.

Insertion loss is left out, for two lengths of one cable lose the same; so is FEXT, which is smooth
on short links and, with its pairs the other way round, one figure of a reciprocal link.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from sweepbook.cached import cached_property
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
SMALLEST_SHARE = 1e-13
"""Of the greatest square: a direction below it is not told apart by the points that are kept."""


@dataclass(frozen=True, eq=False)
class Readings:
    """m curves of one parameter on one rising axis of n frequencies.

    Attributes:
        keys: what each curve is of.
        frequency_mhz: float64[n].
        value: float64[m, n] in dB; NaN where a curve has no point, or a clipped one.
        half_digit: float64[m] in dB, half the last digit of each curve; where all its values are
            whole tenths or whole decibels, half of that, however many digits are printed.
        structure_db: how far half of the points of a curve must lie from its smooth course for it
            to have structure.
    """

    keys: tuple[Key, ...]
    frequency_mhz: F64
    value: F64
    half_digit: F64
    structure_db: float

    @cached_property
    def structured(self) -> Flags:
        """Whether a curve has ripple enough to be known by it: bool[m].

        Looked at when it is first asked for: curves that agree with none are never asked.
        """
        with np.errstate(all="ignore"):  # values beyond any measurement become infinities
            found: Flags = _ripple_db(self.frequency_mhz, self.value) >= self.structure_db
        return found

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
        structure_db: see `Readings`.
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
    return Readings(curves.keys, curves.frequency_mhz, value, half, structure_db)


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
    basis, _ = np.linalg.qr(course)  # of like size and upright: squares lose no digits that count
    kept = np.isfinite(value)
    filled = np.where(kept, value, 0.0)
    typical = np.zeros(len(value))
    for _ in range(ROUNDS):
        off = np.abs(filled - _best(basis, kept, filled))
        typical = np.where(kept.sum(axis=1) > course.shape[1], _medians(off, kept), 0.0)
        kept &= off <= (FAR_OFF * typical + ROUNDED_DB)[:, None]
    return typical


def _best(basis: F64, kept: Flags, value: F64) -> F64:
    """The combination of a basis float64[n, k] nearest to each curve where kept: float64[m, n]."""
    count = basis.shape[1]
    products = (basis[:, :, None] * basis[:, None, :]).reshape(len(basis), count * count)
    squares = (kept.astype(np.float64) @ products).reshape(-1, count, count)
    right = np.where(kept, value, 0.0) @ basis
    inverse = np.linalg.pinv(squares, rcond=SMALLEST_SHARE, hermitian=True)
    return np.asarray((inverse @ right[:, :, None])[:, :, 0] @ basis.T, dtype=np.float64)


def _medians(off: F64, kept: Flags) -> F64:
    """The median of the kept differences of each curve: float64[m]; 0 where none is kept."""
    if not off.shape[1]:
        return np.zeros(len(off))
    ordered = np.sort(np.where(kept, off, np.inf), axis=1)
    count, row = kept.sum(axis=1), np.arange(len(off))
    lower = ordered[row, np.maximum(count - 1, 0) // 2]
    upper = ordered[row, np.minimum(count // 2, off.shape[1] - 1)]
    return np.where(count > 0, (lower + upper) / 2.0, 0.0)
