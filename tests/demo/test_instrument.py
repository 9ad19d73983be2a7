"""What the testers read: delays, noise, resistance, and arithmetic on curves."""

from dataclasses import replace

import numpy as np
import pytest

from sweepbook_demo.cascade import Scattering
from sweepbook_demo.curves import PAIRS, Curve, derive, power_sum
from sweepbook_demo.grid import standard_grid_khz
from sweepbook_demo.instrument import losses, phase_delay_ns, read_link, resistances
from sweepbook_demo.line import propagation
from sweepbook_demo.parts import WEFT_6A
from sweepbook_demo.plant import CablePiece, wire_resistance_ohm

# A cable without variation along its length and without coupling.
EVEN = replace(WEFT_6A, roughness=0.0, waviness=0.0, near_s=(0.0,) * 6, far_s=(0.0,) * 6)
F = standard_grid_khz() / 1000.0


def test_the_grid_keeps_the_recalled_steps() -> None:
    """Largest steps 150, 250, 500, 1000 kHz by range: recalled, no text seen."""
    khz = standard_grid_khz()
    step = np.diff(khz)
    upper = khz[1:]
    assert (khz[0], khz[-1], khz.size) == (1_000, 500_000, 1028)
    assert step.min() > 0
    for top, most in ((31_250, 150), (100_000, 250), (250_000, 500), (500_000, 1_000)):
        assert step[upper <= top].max() <= most


@pytest.mark.parametrize("length_m", [12.0, 60.0, 110.0])
def test_delay_is_that_of_the_line(length_m: float) -> None:
    gamma, _ = propagation(EVEN, F, 20.0)
    for pair in range(4):
        through = np.exp(-gamma[pair] * length_m)
        expected = gamma[pair].imag * length_m / (2e6 * np.pi * F) * 1e9
        assert phase_delay_ns(through, F) == pytest.approx(expected, abs=1e-6)


def test_length_follows_from_delay_and_velocity() -> None:
    reading = read_link([CablePiece(EVEN, 50.0)], standard_grid_khz(), 1, nvp=0.685)
    lengths = [reading.scalars[Curve("length", "", (pair,))] for pair in PAIRS]
    # The shortest pair's wire is 0.6 % longer than the sheath; the NVP is a rounded figure.
    assert min(lengths) == pytest.approx(50.0, rel=0.01)
    skew = max(reading.scalars[Curve("delay_skew", "", (pair,))] for pair in PAIRS)
    longest, shortest = max(EVEN.lay), min(EVEN.lay)
    delay = min(reading.scalars[Curve("propagation_delay", "", (pair,))] for pair in PAIRS)
    assert skew == pytest.approx(delay * (longest / shortest - 1.0), rel=0.05)


def test_a_dead_link_reads_as_noise() -> None:
    nothing = np.zeros((F.size, 4, 4), dtype=np.complex128)
    dead = Scattering(nothing, nothing, nothing, nothing)
    curves = losses(dead, F, np.random.RandomState(1))
    loss = curves[Curve("insertion_loss", "", ("1-2",))]
    power = np.mean(10.0 ** (-loss / 10.0) * 10.0 ** ((98.0 - 10.0 * np.log10(F / 100.0)) / 10.0))
    # Mean of 1028 exponential values: one sigma is 3 %.
    assert power == pytest.approx(1.0, abs=0.13)
    assert curves[Curve("next", "near", ("1-2", "3-6"))].max() <= 90.0


def test_loop_resistance_is_twice_the_wire() -> None:
    wires = wire_resistance_ohm([CablePiece(EVEN, 100.0)], seed=2)
    found = resistances(wires)
    for pair, lay in zip(PAIRS, EVEN.lay, strict=True):
        loop = found[Curve("dc_loop_resistance", "", (pair,))]
        assert loop == pytest.approx(2.0 * EVEN.wire_ohm_per_m * lay * 100.0, rel=0.01)


def test_unbalance_of_known_wires() -> None:
    """By hand: 10 and 11 ohm give 1/21; 5 and 6 ohm in parallel form 1/11."""
    wires = np.array([[10.0, 11.0], [10.0, 10.0], [12.0, 12.0], [10.0, 10.0]])
    found = resistances(wires)
    within = found[Curve("dc_resistance_unbalance_within_pair", "", ("1-2",))]
    between = found[Curve("dc_resistance_unbalance_between_pairs", "", ("3-6", "4-5"))]
    assert within == pytest.approx(100.0 / 21.0)
    assert between == pytest.approx(100.0 / 11.0)


def test_power_sum_of_equal_losses() -> None:
    """Three equal powers are 10 lg 3 = 4.77 dB more than one."""
    same = np.array([40.0])
    assert power_sum([same, same, same])[0] == pytest.approx(40.0 - 4.771, abs=1e-3)


def test_far_end_ratio_subtracts_the_receiving_pair_and_uses_reciprocity() -> None:
    flat = np.ones(1)
    curves = {
        Curve("insertion_loss", "", ("1-2",)): 10.0 * flat,
        Curve("insertion_loss", "", ("3-6",)): 12.0 * flat,
        Curve("fext", "far", ("1-2", "3-6")): 50.0 * flat,
    }
    derived = derive(curves, with_acr_n=False)
    assert derived == {
        Curve("acr_f", "far", ("1-2", "3-6")): np.array([38.0]),
        Curve("acr_f", "near", ("3-6", "1-2")): np.array([40.0]),
    }
