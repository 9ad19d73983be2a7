"""One line against its constants, theory and scikit-rf (a public microwave library)."""

from dataclasses import replace

import numpy as np
import pytest
import skrf
from skrf.media import DefinedGammaZ0

from sweepbook_demo.line import DB_PER_NEPER, LIGHT_M_PER_S, propagation
from sweepbook_demo.parts import WEFT_6A
from sweepbook_demo.plant import CablePiece, solve

# A cable without variation along its length and without coupling.
EVEN = replace(WEFT_6A, roughness=0.0, waviness=0.0, near_s=(0.0,) * 6, far_s=(0.0,) * 6)
MISMATCHED = replace(EVEN, impedance_ohm=(108.0, 108.0, 108.0, 108.0))
F = np.array([1.0, 4.0, 10.0, 31.25, 62.5, 100.0, 200.0, 300.0, 400.0, 500.0])


def test_attenuation_is_that_of_the_cable() -> None:
    """Low-loss approximation alpha = R/2Z + GZ/2 (Pozar, chapter 2, from memory).

    Its next term, derived here by expanding the root, lowers the conductor's part by the
    fraction R/(2 omega L), 6.5 % at 1 MHz; the term after that is 0.5 % there.
    """
    gamma, _ = propagation(EVEN, F, 20.0)
    conductor = EVEN.sqrt_db * np.sqrt(F)
    skin = conductor / (100.0 * DB_PER_NEPER)
    phase = 2e6 * np.pi * F / (EVEN.velocity * LIGHT_M_PER_S)
    conductor = conductor * (1.0 - skin / phase)
    for pair, lay in enumerate(EVEN.lay):
        db_per_100_m = gamma[pair].real * DB_PER_NEPER * 100.0
        expected = lay * (conductor + EVEN.linear_db * F)
        assert db_per_100_m == pytest.approx(expected, rel=0.006)


def test_a_link_loses_what_its_cable_loses() -> None:
    gamma, _ = propagation(EVEN, F, 20.0)
    network = solve([CablePiece(EVEN, 90.0)], F, seed=1)
    for pair in range(4):
        loss = -20.0 * np.log10(np.abs(network.s21[:, pair, pair]))
        line = gamma[pair].real * DB_PER_NEPER * 90.0
        # A slight mismatch at both ends adds ripple of the order |reflection|^2.
        assert loss == pytest.approx(line, abs=0.03)


def test_loss_grows_with_temperature_as_declared() -> None:
    cold, _ = propagation(EVEN, F, 20.0)
    warm, _ = propagation(EVEN, F, 40.0)
    conductor = 1.0 + 20.0 * EVEN.per_degree
    assert (warm.real / cold.real)[0] == pytest.approx(conductor, rel=0.03)
    assert (warm.real > cold.real).all()


def test_skin_effect_slows_the_line_as_much_as_it_damps_it() -> None:
    """Equal resistance and internal reactance (Ramo, Whinnery, Van Duzer, from memory).

    So the phase beyond omega/v equals the conductor loss in nepers, to first order.
    """
    gamma, _ = propagation(EVEN, F, 20.0)
    bulk = 2e6 * np.pi * F / (EVEN.velocity * LIGHT_M_PER_S)
    skin = EVEN.sqrt_db * np.sqrt(F) / (100.0 * DB_PER_NEPER)
    excess = gamma[0].imag / EVEN.lay[0] - bulk
    assert excess[F >= 10.0] == pytest.approx(skin[F >= 10.0], rel=0.06)


@pytest.mark.parametrize("length_m", [3.0, 15.0, 90.0])
def test_a_mismatched_line_agrees_with_scikit_rf(length_m: float) -> None:
    gamma, impedance = propagation(MISMATCHED, F, 20.0)
    ours = solve([CablePiece(MISMATCHED, length_m)], F, seed=1)
    frequency = skrf.Frequency.from_f(F, unit="MHz")
    for pair in range(4):
        medium = DefinedGammaZ0(frequency, gamma=gamma[pair], z0=impedance[pair], z0_port=100)
        theirs = medium.line(length_m, "m").s
        assert ours.s11[:, pair, pair] == pytest.approx(theirs[:, 0, 0], abs=1e-9)
        assert ours.s12[:, pair, pair] == pytest.approx(theirs[:, 0, 1], abs=1e-9)
        assert ours.s21[:, pair, pair] == pytest.approx(theirs[:, 1, 0], abs=1e-9)
        assert ours.s22[:, pair, pair] == pytest.approx(theirs[:, 1, 1], abs=1e-9)
