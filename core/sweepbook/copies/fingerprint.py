"""64 numbers that a test keeps through every plain way of copying it.

The means of each curve over 16 bands of frequency are taken without the curve's own mean, so that
an offset changes nothing; the means over piecewise straight lines, so that a thinner grid changes
little. Of all curves of a parameter only the mean and the spread in each band are kept, so that
neither the names of the pairs nor those of the ends matter.
"""

from collections.abc import Iterable, Mapping
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from sweepbook.copies.curves import PARAMETERS
from sweepbook.judging.curves import F64, Curves
from sweepbook.limits.axes import axis_bytes

F32 = NDArray[np.float32]

FIRST_MHZ, LAST_MHZ = 1.0, 100.0
"""Every field test covers this, whatever its category."""
BANDS = 16
SIZE = len(PARAMETERS) * 2 * BANDS
LEAST_POINTS = 40
"""Fewer points between 1 and 100 MHz say too little of the ripple."""
SMOOTH_DB = 0.1
"""Band means this near to a smooth course are those of a curve without ripple."""

_STEP_MHZ = 0.05


def fingerprint(curves: Mapping[str, Curves]) -> bytes:
    """The fingerprint of one record.

    Args:
        curves: its return loss and NEXT, by parameter.

    Returns:
        64 numbers in dB as little-endian float32: for return loss, then for NEXT, the means of all
        curves in each band, then their spread. b"" where the sweeps are too coarse or too short, or
        so smooth that they would tell no link from another.
    """
    with np.errstate(all="ignore"):
        bands = [band_means(curves[name]) if name in curves else None for name in PARAMETERS]
        if all(means is None for means in bands):
            return b""
        nothing = np.zeros(2 * BANDS)
        blocks = [nothing if means is None else pooled(means) for means in bands]
        small = np.concatenate(blocks).astype("<f4")
    return small.tobytes() if np.isfinite(small).all() else b""


def matrix(fingerprints: Iterable[bytes]) -> F32:
    """Fingerprints below one another: float32[n, 64] in dB."""
    joined = bytearray()
    for one in fingerprints:
        joined += one
    return np.frombuffer(joined, dtype="<f4").reshape(-1, SIZE)


def band_means(curves: Curves) -> F64 | None:
    """The mean of each of m curves in each band, float64[m, BANDS] in dB.

    None where the curves are too coarse, too short or too smooth to tell one link from another.
    """
    weights = _weights(axis_bytes(curves.frequency_mhz))
    if weights is None:
        return None
    value = curves.value if curves.whole else _filled(curves.frequency_mhz, curves.value)
    bands = value @ weights.T
    return bands if np.abs(bands @ _without_course()).max() > SMOOTH_DB else None


def pooled(bands: F64) -> F64:
    """Mean and spread of m curves in each band: float64[..., m, BANDS] to [..., 2 * BANDS].

    Each curve's own mean is taken off first.
    """
    bands = bands - bands.mean(axis=-1, keepdims=True)
    mean = bands.mean(axis=-2)
    spread = np.sqrt(np.mean((bands - mean[..., None, :]) ** 2, axis=-2))
    return np.concatenate([mean, spread], axis=-1)


def _filled(axis: F64, value: F64) -> F64:
    """The curves with straight lines over their holes; one without any point becomes 0."""
    holes = ~np.isfinite(value)
    if not holes.any():
        return value
    filled = value.copy()
    for row in np.flatnonzero(holes.any(axis=1)).tolist():
        hole = holes[row]
        there = ~hole
        filled[row, hole] = (
            np.interp(axis[hole], axis[there], value[row, there]) if there.any() else 0.0
        )
    return filled


@lru_cache(maxsize=32)
def _weights(axis: bytes) -> F64 | None:
    """What each point of an axis adds to the mean of each band: float64[BANDS, n], or None."""
    frequency_mhz = np.frombuffer(axis, dtype=np.float64)
    edges = np.linspace(FIRST_MHZ, LAST_MHZ, BANDS + 1)
    inside = (frequency_mhz >= FIRST_MHZ) & (frequency_mhz <= LAST_MHZ)
    half = (edges[1] - edges[0]) / 2.0
    if np.count_nonzero(inside) < LEAST_POINTS:
        return None
    if not (frequency_mhz[0] <= FIRST_MHZ + half and frequency_mhz[-1] >= LAST_MHZ - half):
        return None
    fine = np.arange(FIRST_MHZ + _STEP_MHZ / 2.0, LAST_MHZ, _STEP_MHZ)
    left = np.clip(np.searchsorted(frequency_mhz, fine) - 1, 0, frequency_mhz.size - 2)
    step = frequency_mhz[left + 1] - frequency_mhz[left]
    share = np.clip((fine - frequency_mhz[left]) / step, 0.0, 1.0)
    band = np.clip(np.searchsorted(edges, fine, side="right") - 1, 0, BANDS - 1)
    weights = np.zeros((BANDS, frequency_mhz.size))
    np.add.at(weights, (band, left), 1.0 - share)
    np.add.at(weights, (band, left + 1), share)
    return np.asarray(weights / np.bincount(band, minlength=BANDS)[:, None], dtype=np.float64)


@lru_cache(maxsize=1)
def _without_course() -> F64:
    """Takes a + b lg f + c sqrt f off band means: float64[BANDS, BANDS]."""
    edges = np.linspace(FIRST_MHZ, LAST_MHZ, BANDS + 1)
    middle = (edges[1:] + edges[:-1]) / 2.0
    course = np.stack([np.ones(BANDS), np.log10(middle), np.sqrt(middle)], axis=1)
    basis, _ = np.linalg.qr(course)
    return np.asarray(np.eye(BANDS) - basis @ basis.T, dtype=np.float64)
