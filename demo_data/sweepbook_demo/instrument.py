"""What a tester reads off a link: losses with noise, delays, lengths and resistances."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sweepbook_demo.cascade import Scattering
from sweepbook_demo.curves import PAIRS, Curve, combinations, ordered
from sweepbook_demo.line import LIGHT_M_PER_S
from sweepbook_demo.plant import Piece, solve, wire_resistance_ohm

Real = NDArray[np.float64]
Complex = NDArray[np.complex128]

RANGE_DB = 90.0


@dataclass(frozen=True, slots=True)
class Reading:
    """One test as the tester holds it, unrounded.

    Attributes:
        frequency_khz: int64[n].
        curves: losses in dB, positive, each float64[n]; propagation delay in ns.
        scalars: length in m, delay and skew in ns at 10 MHz, resistance in ohm, unbalance in %.
    """

    frequency_khz: NDArray[np.int64]
    curves: dict[Curve, Real]
    scalars: dict[Curve, float]


def read_link(
    pieces: Sequence[Piece],
    frequency_khz: NDArray[np.int64],
    seed: int,
    nvp: float,
    occasion: int = 0,
) -> Reading:
    """Measure a link from both ends.

    Args:
        pieces: the link from near to far.
        frequency_khz: int64[n].
        seed: decides the link's structure and the noise.
        nvp: the nominal velocity of propagation the operator set, for the length.
        occasion: 0 for the first test, 1 for the next; the noise differs, the link does not.
    """
    frequency = frequency_khz / 1000.0
    network = solve(pieces, frequency, seed)
    curves = losses(
        network, frequency, np.random.RandomState(seed + 5_000_000 + 1_000_000 * occasion)
    )
    delays = {
        pair: phase_delay_ns(network.s21[:, place, place], frequency)
        for place, pair in enumerate(PAIRS)
    }
    curves |= {Curve("propagation_delay", "", (pair,)): delays[pair] for pair in PAIRS}
    at_ten = int(np.argmin(np.abs(frequency_khz - 10_000)))
    ten = {pair: float(delays[pair][at_ten]) for pair in PAIRS}
    scalars = {Curve("length", "", (p,)): ten[p] * 1e-9 * nvp * LIGHT_M_PER_S for p in PAIRS}
    scalars |= {Curve("propagation_delay", "", (pair,)): ten[pair] for pair in PAIRS}
    scalars |= {Curve("delay_skew", "", (p,)): ten[p] - min(ten.values()) for p in PAIRS}
    return Reading(frequency_khz, curves, scalars | resistances(wire_resistance_ohm(pieces, seed)))


def losses(
    network: Scattering, frequency: Real, random: np.random.RandomState
) -> dict[Curve, Real]:
    """Losses in dB with the tester's noise added to every scattering parameter.

    The noise is complex and Gaussian, 98 dB down at 100 MHz and rising 10 dB per decade
    (invented). Far-end crosstalk is measured at the far end only.
    """
    floor = 10.0 ** (-(98.0 - 10.0 * np.log10(frequency / 100.0)) / 20.0)
    index = {pair: place for place, pair in enumerate(PAIRS)}

    def loss(parameter: Complex) -> Real:
        noise = random.standard_normal((2, frequency.size)) / np.sqrt(2.0)
        seen = parameter + floor * (noise[0] + 1.0j * noise[1])
        return np.asarray(-20.0 * np.log10(np.abs(seen)), dtype=np.float64)

    curves: dict[Curve, Real] = {}
    for pair, i in index.items():
        curves[Curve("insertion_loss", "", (pair,))] = loss(network.s21[:, i, i])
    for end, block in (("near", network.s11), ("far", network.s22)):
        for pair, i in index.items():
            curves[Curve("return_loss", end, (pair,))] = loss(block[:, i, i])
    for end, block in (("near", network.s11), ("far", network.s22)):
        for one, two in combinations():
            crosstalk = loss(block[:, index[two], index[one]])
            curves[Curve("next", end, (one, two))] = np.minimum(crosstalk, RANGE_DB)
    for one, two in ordered():
        crosstalk = loss(network.s21[:, index[two], index[one]])
        curves[Curve("fext", "far", (one, two))] = np.minimum(crosstalk, RANGE_DB)
    return curves


def phase_delay_ns(through: Complex, frequency_mhz: Real) -> Real:
    """Phase delay of a transmission: complex128[n] to float64[n], ns.

    The bulk delay is taken from the fine steps below 20 MHz and removed before the phase is
    unwrapped, since one coarse step at 500 MHz turns the phase of a long link by half a turn.
    """
    omega = 2e6 * np.pi * frequency_mhz
    fine = frequency_mhz < 20.0
    turn = np.unwrap(np.angle(through[fine]))
    bulk = -np.polyfit(omega[fine], turn, 1)[0]
    rest = np.unwrap(np.angle(through * np.exp(1.0j * omega * bulk)))
    rest -= 2.0 * np.pi * np.round(rest[0] / (2.0 * np.pi))
    return np.asarray((bulk - rest / omega) * 1e9, dtype=np.float64)


def resistances(wires: Real) -> dict[Curve, float]:
    """Loop resistance and unbalance from the wires' resistance float64[4, 2] in ohms.

    Unbalance within a pair is |a - b| / (a + b); between pairs the same of their parallel
    resistances, in percent (from memory).
    """
    parallel = wires[:, 0] * wires[:, 1] / wires.sum(axis=1)
    within = 100.0 * np.abs(wires[:, 0] - wires[:, 1]) / wires.sum(axis=1)
    found: dict[Curve, float] = {}
    for place, pair in enumerate(PAIRS):
        found[Curve("dc_loop_resistance", "", (pair,))] = float(wires[place].sum())
    for place, pair in enumerate(PAIRS):
        word = "dc_resistance_unbalance_within_pair"
        found[Curve(word, "", (pair,))] = float(within[place])
    for one, two in combinations():
        a, b = parallel[PAIRS.index(one)], parallel[PAIRS.index(two)]
        word = "dc_resistance_unbalance_between_pairs"
        found[Curve(word, "", (one, two))] = float(100.0 * abs(a - b) / (a + b))
    return found
