"""How many digits a file writes, and what its last digit is worth in a curve.

A file writes either so many decimals (0.1234, 0.0056) or so many significant digits (1.234e-01,
5.6e-03). Whichever it is, the last digit of a curve's largest number is worth

    the greater of 10^(e + 1 - s) and 10^-d

with e the exponent of that number, s the most significant digits and d the most decimals of any
number of the file: of fixed decimals the second is greater or equal, of fixed significant digits
the first. Smaller numbers of the curve may be known better, never worse.
"""

import math
from collections.abc import Sequence
from typing import NamedTuple

_MOST_DECIMALS = 15
_LEAST_EXPONENT = 300
_MOST_TEXTS = 8_192


class Digits(NamedTuple):
    """How many digits numbers are written with, at most.

    Attributes:
        significant: digits without leading zeros and exponent.
        decimals: digits after the point, less the exponent.
    """

    significant: int
    decimals: int

    def step(self, largest: float) -> float:
        """What the last digit of a curve is worth whose largest number this is."""
        exponent = math.floor(math.log10(largest)) if largest > 0.0 else -self.decimals
        return float(10.0 ** max(exponent + 1 - self.significant, -self.decimals))


def digits_of(texts: Sequence[str]) -> Digits:
    """The most digits among the first 8,192 numbers; a later one with more is only known better."""
    significant, decimals = 1, 0
    for text in set(texts[:_MOST_TEXTS]):
        mantissa, _, exponent = text.lower().strip("+-").partition("e")
        whole, _, fraction = mantissa.partition(".")
        significant = max(significant, len((whole + fraction).lstrip("0")))
        decimals = max(decimals, min(len(fraction) - int(exponent or 0), _LEAST_EXPONENT))
    return Digits(significant, decimals)


def decimals_of(step: float) -> int:
    """Decimals, 0 to 15, whose last digit is worth no less than a step."""
    if not step > 10.0**-_MOST_DECIMALS:
        return _MOST_DECIMALS
    return max(0, math.floor(-math.log10(step) + 1e-9))
