"""The frequencies of a sweep."""

import numpy as np
from numpy.typing import NDArray

_RUNS_KHZ = (
    (1_000, 31_150, 150),
    (31_250, 100_000, 250),
    (100_500, 250_000, 500),
    (251_000, 500_000, 1_000),
)


def standard_grid_khz() -> NDArray[np.int64]:
    """Frequencies of a full sweep to 500 MHz, in kHz: int64[1028], rising.

    The largest steps are 150 kHz to 31.25 MHz, 250 kHz to 100 MHz, 500 kHz to 250 MHz and 1 MHz
    to 500 MHz: recalled from the field-test standards, not looked up.
    """
    return np.concatenate(
        [np.arange(first, last + 1, step, dtype=np.int64) for first, last, step in _RUNS_KHZ]
    )
