"""Numbers multiplied by the factor of a unit that no moved decimal mark makes: exact in decimal.

A number of n digits times a factor of m digits has n + m at most. Up to 15 of them whole doubles
are exact, and one division of two such is rounded to the nearest (IEEE 754-2019, 5.4.1); longer
ones go one by one.
"""

from decimal import Decimal
from typing import TYPE_CHECKING

from sweepbook.bulk_numbers import LARGEST_POWER, MOST_DIGITS

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

_MOST_PLACES = 12
"""Places of a factor that count: a third, or five ninths, has no last one."""


def places(factor: Decimal) -> int:
    """Places of a factor behind the mark, negative where it ends before that; 12 at most."""
    exponent = factor.normalize().as_tuple().exponent
    return min(-int(exponent), _MOST_PLACES)


def decimals(digits: int, factor: Decimal) -> int:
    """Places behind the mark of a number with so many digits there, once it is multiplied."""
    return max(0, digits + places(factor))


def resolution(digits: int, factor: Decimal) -> float | None:
    """What the last of so many digits is worth, multiplied; None where `decimals` says the same."""
    worth = factor.normalize().scaleb(-digits)
    _, shown, exponent = worth.as_tuple()
    return None if shown == (1,) and int(exponent) <= 0 else float(worth)


def scaled(number: Decimal, factor: Decimal, offset: Decimal) -> float:
    """One number less the offset, times the factor: the nearest double, never minus zero."""
    return float((number - offset) * factor) + 0.0


def scaled_all(
    values: "NDArray[np.float64]", digits: int, factor: Decimal
) -> "NDArray[np.float64]":
    """Numbers times a factor.

    Args:
        values: float64[n], each the nearest to a decimal.
        digits: the most digits behind the mark of these.
        factor: above 0.

    Returns:
        float64[n], each the nearest to the product; of numbers with more than 15 digits to within
        the last place of a double.
    """
    import numpy as np

    shift = places(factor)
    times, power = factor.scaleb(shift), digits + shift
    if times == int(times) and 0 <= power <= LARGEST_POWER and digits <= MOST_DIGITS:
        whole = np.rint(values * 10.0**digits)
        if (np.abs(whole) * int(times) < 10.0**MOST_DIGITS).all():
            product: NDArray[np.float64] = whole * int(times) / 10.0**power
            return product + 0.0
    return np.array([scaled(Decimal(repr(of)), factor, Decimal(0)) for of in values.tolist()])
