"""Numbers in front of frequencies that are none: a running one, or a count of those behind."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

MOST = 8
"""Numbers that may stand there, such as a running one, a count, start, stop and step."""
LEAST = 8
"""Frequencies behind a count: with fewer a frequency is their number by chance."""
_EVEN = 0.1
"""By how much of itself one of even steps may differ from the next, for rounding."""


def counting(texts: Sequence[str], axis: "NDArray[np.float64]") -> int:
    """How many numbers stand in front of frequencies, one of which counts those behind.

    Args:
        texts: what was taken for n frequencies.
        axis: float64[n], the same as numbers.

    Returns:
        0 where none counts the rest, or the rest goes on from them as it goes on itself.
    """
    size = axis.size
    for front in apart(axis):
        if size - front < LEAST:
            break
        counts = (texts[at].strip().lstrip("0") for at in range(front))
        if str(size - front) in counts:
            return front
    return 0


def apart(axis: "NDArray[np.float64]") -> list[int]:
    """Before which positions, rising, stands what does not go on in the frequencies from there.

    It goes on where the step to the first of them is as large as the next, or no larger a ratio
    than any between them, whether they are spaced evenly, by a ratio or as in a printed table.

    Args:
        axis: float64[n].
    """
    import numpy as np

    if axis.size <= LEAST:
        return []
    with np.errstate(all="ignore"):  # what is not above 0 is told elsewhere
        steps, ratios = np.diff(axis), axis[1:] / axis[:-1]
        most = np.maximum.accumulate(ratios[::-1])[::-1]
    behind = steps[1 : MOST + 1]
    before, end = steps[: behind.size], behind.size
    even = np.abs(before - behind) <= _EVEN * np.abs(behind)
    odd = (before <= 0.0) | (ratios[:end] > most[1 : end + 1])
    found: list[int] = (np.flatnonzero(odd & ~even) + 1).tolist()
    return found
