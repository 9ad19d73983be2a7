"""How far points lie from a curve's smooth course, against numpy's own least squares."""

import numpy as np
import pytest

from sweepbook.copies.curves import FAR_OFF, ROUNDED_DB, ROUNDS, readings
from sweepbook.judging.curves import F64

from .sisters import curves, sister


def expected(frequency_mhz: F64, value: F64) -> float:
    """One curve at a time: `numpy.linalg.lstsq` and `numpy.median`."""
    course = np.stack(
        [np.ones_like(frequency_mhz), np.log10(frequency_mhz), np.sqrt(frequency_mhz)], axis=1
    )
    kept = np.isfinite(value)
    typical = 0.0
    for _ in range(ROUNDS):
        if np.count_nonzero(kept) <= 3:
            return 0.0
        best, *_ = np.linalg.lstsq(course[kept], value[kept], rcond=None)
        off = np.abs(value - course @ best)
        typical = float(np.median(off[kept]))
        kept &= off <= FAR_OFF * typical + ROUNDED_DB
    return typical


@pytest.mark.parametrize("thinned", [1, 7, 200])
def test_a_curve_has_structure_from_the_ripple_that_least_squares_give(thinned: int) -> None:
    test = sister(8.0, 3)["next"]
    axis = test.frequency_mhz[::thinned]
    value = test.value[:, ::thinned].copy()
    value[0] = 30.0
    value[1, axis.size // 3 :] = np.nan
    value[2, axis.size // 2] += 25.0
    made = curves(axis, dict(zip(test.keys, value, strict=True)), 6)
    read = np.where(np.isfinite(made.high), made.value, np.nan)
    ripple = [expected(axis, row) for row in read]
    for row, least in enumerate(ripple):
        for share in (0.99, 1.01):
            asked = share * least + (1e-9 if share > 1.0 else -1e-9)
            found = readings({"next": made}, asked)["next"].structured[row]
            assert found == (share < 1.0)
