"""The least ends of rows of values, looked at only where they can be."""

from collections.abc import Callable

import numpy as np

from sweepbook.judging.bands import Reach
from sweepbook.judging.curves import Flags
from sweepbook.judging.derive import F64, Ends, Places

ROUNDING = 1e-9
"""Room for binary rounding, as a share of a value and in its unit; far below any printed digit."""


def least_ends(
    matrix: F64,
    at: Places,
    reach: Reach,
    ends_at: Callable[[Places, Places], Ends],
    counted: Callable[[], Flags],
) -> Ends:
    """The least lower end and the least upper end of each row.

    A point further above the least value of its row than ends may differ from one point to another
    has neither, so that its ends need not be worked out.

    Args:
        matrix: float64[m, n] of values, infinite where they do not count.
        at: int[m], column of the least value of each row.
        reach: how far ends may be from the values; infinite where nothing is known of that.
        ends_at: the ends of points, by their rows and columns.
        counted: gives bool[m, n], the points that count.

    Returns:
        float64[m] each; infinite for a row in which nothing counts.
    """
    count, width = matrix.shape
    rows = np.arange(count)
    none = np.full(count, np.inf)
    if not width:
        return Ends(none, none)
    least, first = matrix[rows, at], ends_at(rows, at)
    room = np.maximum(reach.below_most - reach.below_least, first.high - least - reach.above_least)
    bound = least + room + ROUNDING * (1.0 + np.abs(least))
    near = matrix <= bound[:, None]
    known = np.isfinite(bound)
    if not known.all():
        near = np.where(known[:, None], near, counted())
    flat = np.flatnonzero(near)
    if flat.size == count and bool(known.all()):
        return first
    row, column = np.divmod(flat, width)
    ends = ends_at(row, column)
    low, high = none.copy(), none.copy()
    np.minimum.at(low, row, ends.low)
    np.minimum.at(high, row, ends.high)
    return Ends(low, high)
