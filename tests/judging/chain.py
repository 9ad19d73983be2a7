"""What comes back from a chain of lines, from first principles, and as a tester reads it.

A line of length l, impedance Z and propagation constant g is the two-port with the chain matrix
[[cosh gl, Z sinh gl], [sinh gl / Z, cosh gl]]; chains multiply, and between references of 100 ohm
S11 = (A + B/100 - 100 C - D) / (A + B/100 + 100 C + D): any textbook on two-ports. Copper's loss
grows as the root of the frequency; 0.19 dB a metre at 100 MHz, 70 percent of the speed of light and
connectors of some centimetres are common practice, no source.
"""

from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from .links import F64

NEPERS_A_M, LIGHT_M_PER_US, REFERENCE_OHM = 0.19 / 8.686, 299.8, 100.0
Piece = tuple[float, float]
"""Length in m and impedance in ohm."""


def return_loss(mhz: F64, pieces: list[Piece]) -> F64:
    """Return loss of a chain in dB, float64[n]."""
    constant = NEPERS_A_M * np.sqrt(mhz / 100.0) + 2j * np.pi * mhz / (0.7 * LIGHT_M_PER_US)
    whole = np.broadcast_to(np.eye(2, dtype=complex), (mhz.size, 2, 2))
    for length, ohm in pieces:
        even, odd = np.cosh(constant * length), np.sinh(constant * length)
        line = np.array([[even, ohm * odd], [odd / ohm, even]]).transpose(2, 0, 1)
        whole = whole @ line
    (a, b), (c, d) = whole.transpose(1, 2, 0)
    b, c = b / REFERENCE_OHM, c * REFERENCE_OHM
    return np.asarray(-20.0 * np.log10(np.abs((a + b - c - d) / (a + b + c + d)) + 1e-9))


def chains(random: np.random.Generator, times: float) -> Iterator[list[Piece]]:
    """Links of 1 to 100 m without end, with connectors at the ends and up to four faults between.

    Args:
        random: where they come from.
        times: impedances are off by this factor at most, up or down.
    """

    def off(spread: float) -> float:
        return float(REFERENCE_OHM * np.exp(random.uniform(-1.0, 1.0) * np.log(spread)))

    while True:
        length = float(np.exp(random.uniform(0.0, np.log(100.0))))
        spots = sorted(random.uniform(0.0, length, random.integers(1, 5)).tolist())
        pieces = [(0.04, off(times))]
        for before, spot in pairwise([0.0, *spots]):
            pieces += [(spot - before, off(1.05)), (random.uniform(0.02, 0.5), off(times))]
        yield [*pieces, (length - spots[-1], REFERENCE_OHM), (0.04, off(times))]


def as_read(random: np.random.Generator, mhz: F64, loss_db: F64, decimals: int) -> F64:
    """A loss as a tester prints it: noise 98 dB down at 100 MHz (the demo's tester), and digits."""
    floor = 10.0 ** (-(98.0 - 10.0 * np.log10(mhz / 100.0)) / 20.0) / np.sqrt(2.0)
    real, imaginary = floor * random.standard_normal((2, mhz.size))
    amplitude = 10.0 ** (-loss_db / 20.0) + real + 1j * imaginary
    return np.asarray((-20.0 * np.log10(np.abs(amplitude))).round(decimals))
