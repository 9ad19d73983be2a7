"""Many plain decimals with the same number of digits after the point, read digit by digit at once.

A whole number below 2^53 and a power of ten up to 10^22 are doubles exactly, and one division of
doubles is rounded to the nearest (IEEE 754-2019, 5.4.1). So digits without their point, divided by
a power of ten, give the very double that `float` gives for the text.
"""

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

MOST_DIGITS = 15
LARGEST_POWER = 22
_NEWLINE, _POINT, _PLUS, _MINUS, _NOUGHT = b"\n.+-0"


def parse(lines: str, shift: int) -> "tuple[NDArray[np.float64], int] | None":
    """Read one number a line.

    Args:
        lines: digits, points, signs and line ends only; it ends in a line end.
        shift: power of ten every value is multiplied by.

    Returns:
        float64[n] and the digits after the point in the text; None where a line is no number of
        this form, or the numbers of digits differ.
    """
    marks = np.frombuffer(lines.encode("ascii"), dtype=np.uint8)
    ends = np.flatnonzero(marks == _NEWLINE)
    points = np.flatnonzero(marks == _POINT)
    if not points.size:
        points = ends
    elif points.size != ends.size:
        return None
    starts = np.empty_like(ends)
    starts[0], starts[1:] = 0, ends[:-1] + 1
    negative = marks[starts] == _MINUS
    signed = negative | (marks[starts] == _PLUS)
    if np.count_nonzero((marks == _MINUS) | (marks == _PLUS)) != np.count_nonzero(signed):
        return None
    whole = points - (starts + signed)
    decimals = int(ends[0] - points[0]) - 1 if points is not ends else 0
    if points is not ends and not (ends - points - 1 == decimals).all():
        return None
    width = int(whole.max())
    power = decimals - shift
    if whole.min() < 1 or width + decimals > MOST_DIGITS or not 0 <= power <= LARGEST_POWER:
        return None
    value = _digits(marks, points, whole, width, decimals) / 10.0**power
    return np.where(negative, 0.0 - value, value), decimals


def _digits(
    marks: "NDArray[np.uint8]",
    points: "NDArray[np.intp]",
    whole: "NDArray[np.intp]",
    width: int,
    decimals: int,
) -> "NDArray[np.float64]":
    """The numbers without their points, as whole doubles."""
    value = np.zeros(points.size, dtype=np.int64)
    for place in range(width, 0, -1):
        digit = marks[np.maximum(points - place, 0)].astype(np.int64) - _NOUGHT
        value = value * 10 + np.where(whole >= place, digit, 0)
    for place in range(1, decimals + 1):
        value = value * 10 + (marks[points + place].astype(np.int64) - _NOUGHT)
    return value.astype(np.float64)
