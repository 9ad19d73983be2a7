"""What varies along the cable: ripple, periodic faults, and the slopes of crosstalk."""

from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

from sweepbook_demo.line import LIGHT_M_PER_S, propagation
from sweepbook_demo.parts import WEFT_6A
from sweepbook_demo.plant import CablePiece, solve

# A cable without variation along its length and without coupling.
EVEN = replace(WEFT_6A, roughness=0.0, waviness=0.0, near_s=(0.0,) * 6, far_s=(0.0,) * 6)
MISMATCHED = replace(EVEN, impedance_ohm=(108.0, 108.0, 108.0, 108.0))
Real = NDArray[np.float64]
LENGTH_M = 40.0


def _velocity(pair: int, frequency_mhz: float) -> float:
    """Group velocity along the sheath in m/s, from two nearby frequencies."""
    f = np.array([frequency_mhz * 0.99, frequency_mhz * 1.01])
    gamma, _ = propagation(MISMATCHED, f, 20.0)
    turned = gamma[pair].imag
    return float(2e6 * np.pi * (f[1] - f[0]) / (turned[1] - turned[0]))


@pytest.mark.parametrize("length_m", [15.0, 40.0, 90.0])
def test_ripple_of_return_loss_is_spaced_by_v_over_2l(length_m: float) -> None:
    """Echoes of both ends beat with a period of v/(2L), as in any line of that length."""
    f = np.linspace(4.0, 4.0 + 700.0 / length_m, 1500)
    network = solve([CablePiece(MISMATCHED, length_m)], f, seed=1)
    for pair in range(4):
        reflected = np.abs(network.s11[:, pair, pair])
        inner = reflected[1:-1]
        dips = f[1:-1][(inner < reflected[:-2]) & (inner < reflected[2:])]
        spacing = float(np.mean(np.diff(dips)))
        expected = _velocity(pair, float(f.mean())) / (2.0 * length_m) / 1e6
        assert dips.size > 4
        assert spacing == pytest.approx(expected, rel=0.01)


def test_a_periodic_fault_reflects_where_its_period_is_half_a_wavelength() -> None:
    """Bragg's condition: f = v / (2 p)."""
    period = 0.40
    wavy = replace(EVEN, waviness=0.01, wave_m=(period,) * 4)
    f = np.arange(200.0, 340.0, 0.25)
    network = solve([CablePiece(wavy, 80.0)], f, seed=2)
    for pair, lay in enumerate(wavy.lay):
        peak = f[np.argmax(np.abs(network.s11[:, pair, pair]))]
        expected = wavy.velocity * LIGHT_M_PER_S / lay / (2.0 * period) / 1e6
        assert peak == pytest.approx(expected, rel=0.01)


def _mean_power(seeds: range, f: Real, *, far: bool) -> Real:
    """Mean crosstalk power 3-6 to 4-5 over many cables, referred to insertion loss if far."""
    total = np.zeros(f.size)
    for seed in seeds:
        network = solve([CablePiece(WEFT_6A, LENGTH_M)], f, seed)
        power = np.abs((network.s21 if far else network.s11)[:, 2, 1]) ** 2
        total += power / np.abs(network.s21[:, 2, 2]) ** 2 if far else power
    return total / len(seeds)


def test_near_end_crosstalk_is_what_random_coupling_gives() -> None:
    """Mean power omega^2 n^2 (1 - exp(-4 alpha L)) / (4 alpha) for coupling n per square root
    of metre: derived here by adding the sections' powers. It rises by about 15 dB a decade.
    """
    f = np.geomspace(20.0, 200.0, 120)
    power = _mean_power(range(12), f, far=False)
    gamma, _ = propagation(WEFT_6A, f, 20.0)
    both = 2.0 * (gamma[1].real + gamma[2].real)
    omega = 2e6 * np.pi * f
    theory = (omega * WEFT_6A.near_s[3]) ** 2 * (1.0 - np.exp(-both * LENGTH_M)) / both
    assert np.mean(10.0 * np.log10(power / theory)) == pytest.approx(0.0, abs=0.7)
    slope = np.polyfit(np.log10(f), 10.0 * np.log10(power), 1)[0]
    assert slope == pytest.approx(15.0, abs=1.5)


def test_far_end_crosstalk_is_what_a_random_walk_gives() -> None:
    """Mean power omega^2 f^2 L referred to insertion loss; 20 dB a decade."""
    f = np.geomspace(5.0, 50.0, 20)
    power = _mean_power(range(40), f, far=True)
    theory = (2e6 * np.pi * f * WEFT_6A.far_s[3]) ** 2 * LENGTH_M
    # 40 cables: the mean of 40 chi-squared values scatters by about 1 dB (one sigma).
    assert np.mean(10.0 * np.log10(power / theory)) == pytest.approx(0.0, abs=2.5)
    slope = np.polyfit(np.log10(f), 10.0 * np.log10(power), 1)[0]
    assert slope == pytest.approx(20.0, abs=1.5)


def test_the_same_seed_gives_the_same_cable_and_another_another() -> None:
    f = np.array([10.0, 100.0])
    once = solve([CablePiece(WEFT_6A, 10.0)], f, 5).whole()
    again = solve([CablePiece(WEFT_6A, 10.0)], f, 5).whole()
    other = solve([CablePiece(WEFT_6A, 10.0)], f, 6).whole()
    assert (once == again).all()
    assert np.abs(once - other).max() > 1e-4
