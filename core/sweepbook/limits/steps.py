"""How coarse a sweep may be."""

import numpy as np

from sweepbook.limits.formulas import Floats
from sweepbook.limits.model import LimitTable


def largest_step_mhz(table: LimitTable, frequency_mhz: Floats) -> Floats:
    """The largest distance to the next point, for each point of a sweep.

    Args:
        table: the limit table.
        frequency_mhz: [n].

    Returns:
        [n] in MHz; NaN where the table settles nothing. A range owns its first frequency, the
        last one its end as well.
    """
    largest = np.full(frequency_mhz.shape, np.nan)
    last = table.steps[-1]
    for part in table.steps:
        below = frequency_mhz < part.to_mhz if part is not last else frequency_mhz <= part.to_mhz
        largest[(frequency_mhz >= part.from_mhz) & below] = part.largest_step_mhz
    return largest
