"""Many plain decimals at once: by a parser of JSON, straight into doubles, each the nearest one.

JSON's numbers are the plain ones but for a plus sign, noughts before the first digit, and a point
without a digit on both sides. For a shift of the decimal mark the digits are taken as a whole
number again: below 10^15 that is exact, and so is a power of ten up to 10^22; one division of
doubles is rounded to the nearest (IEEE 754-2019, 5.4.1).
"""

from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    import simdjson
    from numpy.typing import NDArray

MOST_DIGITS = 15
LARGEST_POWER = 22
_NEWLINE, _POINT, _NOUGHT = b"\n.0"
_COMMAS = bytes.maketrans(b"\n", b",")
_MOST_DECIMALS = 24
"""Decimals that are counted digit by digit in all numbers at once; doubles have 17 at most."""


def parse(lines: bytes, shift: int) -> "tuple[NDArray[np.float64], int] | None":
    """Read one number a line.

    Args:
        lines: digits, points, signs, and a line end between two numbers.
        shift: power of ten every value is multiplied by.

    Returns:
        float64[n], and the largest number of digits after the point in the text; None where a line
        is no number of JSON, or has too many digits to be shifted.
    """
    values = doubles(lines.translate(_COMMAS))
    if values is None or not values.size:
        return None
    decimals = _most_decimals(np.frombuffer(lines, dtype=np.uint8))
    moved = shifted(values, decimals, shift)
    return None if moved is None else (moved, decimals)


def doubles(text: bytes) -> "NDArray[np.float64] | None":
    """Numbers of JSON with commas between.

    Args:
        text: the numbers, without an exponent.

    Returns:
        float64[n]; None where one is no number of JSON, or a whole one beyond 64 bits.
    """
    import simdjson

    try:
        array = _parser().parse(b"[%b]" % text)
        if not isinstance(array, simdjson.Array):
            return None
        return np.frombuffer(array.as_buffer(of_type="d"), dtype=np.float64)
    except (ValueError, RuntimeError):  # the second for an integer beyond 64 bits
        return None


@lru_cache(maxsize=1)
def _parser() -> "simdjson.Parser":
    """One parser for all: memory that it has used once it need not ask for again."""
    import simdjson

    return simdjson.Parser()


def _most_decimals(marks: "NDArray[np.uint8]") -> int:
    """The most digits that follow a point; 0 without any point.

    All points are followed at once, digit by digit, for as long as one of them has more.
    """
    alive = marks == _POINT
    if not np.count_nonzero(alive):
        return 0
    digits = marks >= _NOUGHT
    for count in range(_MOST_DECIMALS):
        alive = alive[:-1] & digits[count + 1 :]
        if not np.count_nonzero(alive):
            return count
    points = np.flatnonzero(marks == _POINT)
    ends = np.append(np.flatnonzero(marks == _NEWLINE), marks.size)
    return int((ends[np.searchsorted(ends, points)] - points).max()) - 1


def shifted(
    values: "NDArray[np.float64]", decimals: int, shift: int
) -> "NDArray[np.float64] | None":
    """The values times a power of ten, by way of the whole numbers of their last digits.

    Args:
        values: float64[n], each the nearest to a decimal.
        decimals: the most digits behind the point of these.
        shift: the power; 0 leaves all as it is.

    Returns:
        float64[n], each the nearest again; None where there are too many digits for that.
    """
    if shift == 0:
        return values
    power = decimals - shift
    if not (decimals <= MOST_DIGITS and 0 <= power <= LARGEST_POWER):
        return None
    whole = values * 10.0**decimals
    if not (np.abs(whole) < 10.0**MOST_DIGITS).all():
        return None
    moved: NDArray[np.float64] = np.rint(whole) / 10.0**power
    return moved
