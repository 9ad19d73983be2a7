"""The frequencies of a sweep."""

import numpy as np
from numpy.typing import NDArray

_RUNS_KHZ = (
    (1_000, 31_150, 150),
    (31_250, 100_000, 250),
    (100_500, 250_000, 500),
    (251_000, 500_000, 1_000),
)


def runs_khz(top_khz: int = 500_000) -> list[tuple[int, int, int]]:
    """Start, step and count of every run of a full sweep up to a frequency, in kHz."""
    runs = []
    for first, last, step in _RUNS_KHZ:
        if first <= top_khz:
            runs.append((first, step, (min(last, top_khz) - first) // step + 1))
    return runs


def standard_grid_khz(top_khz: int = 500_000) -> NDArray[np.int64]:
    """Frequencies of a full sweep, in kHz: int64[n], rising; 1028 to 500 MHz.

    The largest steps are 150 kHz to 31.25 MHz, 250 kHz to 100 MHz, 500 kHz to 250 MHz and 1 MHz
    to 500 MHz: recalled from the field-test standards, not looked up.
    """
    return np.concatenate(
        [
            start + step * np.arange(count, dtype=np.int64)
            for start, step, count in runs_khz(top_khz)
        ]
    )
