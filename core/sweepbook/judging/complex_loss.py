"""Complex S-parameters to losses in dB with their intervals: loss = -20 lg |S|."""

from collections.abc import Mapping
from typing import Any

import numpy as np

from sweepbook.errors import SweepbookError
from sweepbook.judging.curves import F64

REFERENCE_OHM = 100.0
"""Differential impedance of the cabling that all limits are for."""


class Unreadable(SweepbookError):
    """A sweep is in a form that no loss can be computed from."""


def loss_of(data: Mapping[str, Any], half_digit: float) -> tuple[F64, F64, F64]:
    """The loss of a complex sweep and the interval it lies in.

    Args:
        data: the `complex` member of a sweep: form, and the arrays float64[n] that go with it.
        half_digit: half the last digit of the components (real and imaginary, magnitude, or
            magnitude in dB); with real and imaginary parts |S| is off by up to sqrt(2) times it.

    Returns:
        value, low, high, float64[n] each, in dB; high is inf where |S| may be zero.

    Raises:
        Unreadable: the form is not known, or the values refer to another impedance.
    """
    reference_ohm = data.get("reference_ohm", REFERENCE_OHM)
    if reference_ohm != REFERENCE_OHM:
        raise Unreadable(
            f"The values refer to {reference_ohm:g} ohm, and limits are for {REFERENCE_OHM:g} ohm.",
            f"Convert them to {REFERENCE_OHM:g} ohm, differential, before they are read.",
        )
    form = data["form"]
    if form == "db-phase":
        loss = -np.asarray(data["magnitude_db"], dtype=np.float64)
        return loss, loss - half_digit, loss + half_digit
    if form == "magnitude-phase":
        size, off = np.asarray(data["magnitude"], dtype=np.float64), half_digit
    elif form == "real-imaginary":
        size, off = np.hypot(data["real"], data["imaginary"]), half_digit * np.sqrt(2.0)
    else:
        raise Unreadable(
            f"The complex form {form!r} is not known.",
            "Use real-imaginary, magnitude-phase or db-phase.",
        )
    return _loss(size), _loss(size + off), _loss(np.maximum(size - off, 0.0))


def _loss(size: F64) -> F64:
    with np.errstate(divide="ignore"):
        loss: F64 = -20.0 * np.log10(size) + 0.0
    return loss
