"""The least resistance and loss of copper, held to the exact solution for a round wire."""

import numpy as np
import pytest
import scipy.special

from sweepbook.judging.physics import Bounds
from sweepbook.limits.practice import Practice

from .links import F64

BOUNDS = Bounds.of(Practice.shipped())
THICK_MM = BOUNDS.conductor_thickest_mm
MU_0 = 1.256_637_062_1e-6  # CODATA 2018, H/m
RHO = 1e-6 / 58.0  # IEC 60028 as recalled: 1/58 ohm mm2/m


def round_wire_loop_ohm_per_m(diameter_mm: float, frequency_mhz: F64) -> F64:
    """Two round wires: k rho J0(kr) / (2 pi r J1(kr)), of any text on the skin effect."""
    r = diameter_mm * 0.5e-3
    k = np.sqrt(-2j * np.pi * frequency_mhz * 1e6 * MU_0 / RHO)
    bessel = scipy.special.jv(0, k * r) / scipy.special.jv(1, k * r)
    return np.asarray(np.real(k * RHO / (np.pi * r) * bessel), dtype=np.float64)


def test_the_loss_of_the_thickest_conductor_is_that_of_its_resistance() -> None:
    """10 / ln 10 * R' / Z in dB a metre, as 8.686 dB are one neper and R' / 2 Z its nepers."""
    f = np.array([1.0, 2.0, 10.0, 100.0, 500.0, 2000.0])
    neper = round_wire_loop_ohm_per_m(THICK_MM, f) / (2 * 100.0)
    expected = 20.0 * np.log10(np.e) * neper
    assert BOUNDS.least_loss_db_per_m(f, THICK_MM) == pytest.approx(expected, rel=0.005)


def test_where_the_skin_is_as_deep_as_the_wire_it_is_still_near() -> None:
    f = np.geomspace(1e-4, 1.0, 60)
    expected = round_wire_loop_ohm_per_m(THICK_MM, f) * 0.043429448
    assert BOUNDS.least_loss_db_per_m(f, THICK_MM) == pytest.approx(expected, rel=0.07)


def test_the_resistance_of_a_hundred_metres() -> None:
    """22 AWG: some 53 ohm a kilometre and conductor by handbook tables of wire, recalled."""
    assert BOUNDS.loop_ohm_per_m(BOUNDS.conductor_thickest_mm) * 100 == pytest.approx(10.6, abs=0.1)


def test_the_slowest_wave() -> None:
    assert pytest.approx(0.3536, abs=1e-4) == BOUNDS.slowest
