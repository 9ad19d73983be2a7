"""All data of a file as the S-parameters of its balanced ports, block after block."""

from dataclasses import dataclass

import numpy as np

from sweepbook_plugins.touchstone.checks import negative, too_much
from sweepbook_plugins.touchstone.data import Data
from sweepbook_plugins.touchstone.guess import sizes
from sweepbook_plugins.touchstone.matrix import C128, F64, complex_of, square
from sweepbook_plugins.touchstone.modes import combined, to_reference
from sweepbook_plugins.touchstone.ports import Wiring


@dataclass(frozen=True)
class Network:
    """S-parameters of m balanced ports at n frequencies, 100 ohm at each.

    Attributes:
        frequency_mhz: float64[n].
        s: complex128[n, m, m], the receiving port first.
        first, second: float64[n, m, m], the pairs of numbers as the file has them; None where
            they had to be computed.
        off: float64[m, m], by how much each S-parameter may be off by the digits of the file.
        gain: float64[n], the largest singular value of the matrix of all ports.
        low: float64[p, p], magnitudes between all ports of the file at the first frequencies.
        lines: n numbers of lines.
    """

    frequency_mhz: F64
    s: C128
    first: F64 | None
    second: F64 | None
    off: F64
    gain: F64
    low: F64
    lines: list[int]


def network(data: Data, wiring: Wiring) -> Network:
    """Read all blocks.

    Raises:
        Fault: a line does not fit.
    """
    chosen = wiring.chosen
    frequency, s, first, second, gain = [], [], [], [], []
    largest, written, low, left, right = np.zeros((5, data.ports, data.ports))
    lines: list[int] = []
    for block in data.blocks():
        one = square(block.first, data.ports, data.heading)
        two = square(block.second, data.ports, data.heading)
        whole = complex_of(one, two, data.heading.options.form)
        gain.append(_gain(whole))
        negative(block, data.heading.options.form)
        too_much(gain[-1], block)
        largest = np.maximum(largest, np.abs(whole).max(axis=0))
        written = np.maximum(written, np.abs(one).max(axis=0))
        low = low if lines else sizes(block, data)
        frequency.append(block.frequency_mhz)
        lines += block.lines
        if chosen is not None:
            s.append(whole[:, chosen][:, :, chosen])
            first.append(one[:, chosen][:, :, chosen])
            second.append(two[:, chosen][:, :, chosen])
            continue
        if wiring.converted:
            whole, *sides = to_reference(whole, wiring.before, wiring.after)
            left, right = np.maximum(left, sides[0]), np.maximum(right, sides[1])
        s.append(combined(whole, wiring.rows))
    off, rows = _off(data, largest, written), np.abs(wiring.rows)
    return Network(
        np.concatenate(frequency),
        np.concatenate(s),
        np.concatenate(first) if first else None,
        np.concatenate(second) if second else None,
        rows @ (left @ off @ right if wiring.converted else off) @ rows.T,
        np.concatenate(gain),
        low,
        lines,
    )


def _gain(whole: C128) -> F64:
    """Largest singular value of each matrix: float64[b]; infinite where it is not finite."""
    fine = np.isfinite(whole).all(axis=(1, 2))
    made = np.full(whole.shape[0], np.inf)
    made[fine] = np.linalg.norm(whole[fine], ord=2, axis=(1, 2))
    return made


def _off(data: Data, largest: F64, written: F64) -> F64:
    """By how much each S-parameter of the file may be off: float64[n, n].

    A number is off by half its last digit at most. Of real and imaginary part both are, sqrt 2
    times that together; of magnitude and angle the angle moves it along a circle.

    Args:
        data: says how many digits are written.
        largest: float64[n, n], the largest magnitude of each S-parameter.
        written: float64[n, n], the largest first number of its pairs.
    """
    form = data.heading.options.form
    one, two = data.digits
    angle = np.radians(two.step(180.0)) / 2.0
    steps = np.vectorize(one.step, otypes=[np.float64])
    if form == "RI":
        off = np.sqrt(0.5) * steps(largest)
    elif form == "MA":
        off = steps(largest) / 2.0 + largest * angle
    else:
        off = largest * (10.0 ** (steps(written) / 40.0) - 1.0 + angle)
    return np.asarray(off, dtype=np.float64)
