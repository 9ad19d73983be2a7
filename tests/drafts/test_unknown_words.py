"""What a word that nobody knows may mean, by the curves it names.

Return losses of links begin at 28 to 48 dB near 1 MHz, and crosstalk losses of all kinds, power
sums among them, above 55 dB: common practice, no source.
"""

import pytest

from sweepbook.draft.curve_facts import Measured
from sweepbook.draft.parsed import Named
from sweepbook.draft.unknown_words import guess

PAIRS = ("1-2", "3-6", "4-5", "7-8")
MHZ = [1.0, 4.0, 10.0, 31.25, 100.0, 250.0]


def curves(first: float) -> list[Measured]:
    """Curves of each pair at both ends, which begin there and fall, with some ripple."""
    values = [first, first + 3.0, first - 6.0, first - 9.0, first - 12.0, first - 20.0]
    return [
        Measured(Named(None, (pair,), end), MHZ, values)
        for pair in PAIRS
        for end in ("near", "far")
    ]


@pytest.mark.parametrize("first", [28.0, 37.0, 47.0])
def test_curves_of_a_pair_that_begin_low_are_return_losses(first: float) -> None:
    assert guess({"zzyx": curves(first)}, ["insertion_loss"]) == {"zzyx": "return_loss"}
    assert guess({"zzyx": curves(first)}, ["return_loss"]) == {}


@pytest.mark.parametrize("first", [56.0, 66.0, 80.0])
def test_power_sums_are_none(first: float) -> None:
    assert guess({"zzyx": curves(first)}, ["insertion_loss"]) == {}
