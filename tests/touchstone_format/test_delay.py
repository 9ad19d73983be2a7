"""The phase delay of lines whose delay is known, and the sweeps that do not tell it."""

import numpy as np
import pytest
from numpy.typing import NDArray

from sweepbook_demo.grid import standard_grid_khz
from sweepbook_plugins.touchstone.delay import Delay, phase_delay

Real = NDArray[np.float64]
Complex = NDArray[np.complex128]

GRIDS: dict[str, Real] = {
    "field": standard_grid_khz() / 1000.0,
    "linear": np.arange(1.0, 500.0, 0.3),
    "logarithmic": np.geomspace(0.3, 500.0, 801),
    "late": np.arange(10.0, 250.0, 0.25),
}


def line(f: Real, length_m: float) -> tuple[Complex, Real]:
    """A line with the delay that standards allow of cable, 534 + 36 / sqrt f ns a 100 m.

    The formula is that of TIA-568 and ISO/IEC 11801 (recalled); here it is a delay like any other.
    """
    delay = (534.0 + 36.0 / np.sqrt(f)) * length_m / 100.0
    size = 10.0 ** (-2.0 * np.sqrt(f) * length_m / 100.0 / 20.0)
    return size * np.exp(-2e-3j * np.pi * f * delay), delay


@pytest.mark.parametrize("grid", GRIDS)
@pytest.mark.parametrize("length_m", [0.5, 15.0, 90.0, 106.0, 190.0])
def test_the_delay_of_a_line_comes_back(grid: str, length_m: float) -> None:
    f = GRIDS[grid]
    s21, delay = line(f, length_m)
    random = np.random.RandomState(1)
    noise = 2e-6 * (random.standard_normal(f.size) + 1j * random.standard_normal(f.size))
    found = phase_delay(f, s21 + noise)
    assert isinstance(found, Delay)
    assert not found.turned
    off = np.abs(noise) / np.abs(s21) / (2e-3 * np.pi * f)
    assert (np.abs(found.delay_ns - delay) <= 1.1 * off + 1e-6).all()


def test_the_other_time_convention_is_told() -> None:
    s21, delay = line(GRIDS["field"], 90.0)
    found = phase_delay(GRIDS["field"], s21.conj())
    assert isinstance(found, Delay)
    assert found.turned
    assert found.delay_ns == pytest.approx(delay)


@pytest.mark.parametrize(
    ("f", "told"),
    [
        (np.arange(1.0, 500.0, 1.0), "in steps of 1 MHz; it takes 10 and 0.4 MHz"),
        (np.arange(50.0, 500.0, 0.25), "begin at 50 MHz"),
        (np.arange(1.0, 8.0, 0.25), "it takes 32 rising frequencies above 0"),
        (np.arange(0.0, 80.0, 0.25), "it takes 32 rising frequencies above 0"),
        (np.arange(80.0, 1.0, -0.25), "it takes 32 rising frequencies above 0"),
    ],
)
def test_a_sweep_that_does_not_tell_the_turns_is_left_out(f: Real, told: str) -> None:
    s21 = np.ones(f.size, dtype=np.complex128)
    assert told in str(phase_delay(f, s21))


def test_exchanged_contacts_and_noise_have_no_delay() -> None:
    f = GRIDS["field"]
    s21, _ = line(f, 90.0)
    assert "contacts of one end exchanged" in str(phase_delay(f, -s21))
    random = np.random.RandomState(2)
    noise = random.standard_normal(f.size) + 1j * random.standard_normal(f.size)
    assert isinstance(phase_delay(f, noise), str)
    assert "is 0 somewhere" in str(phase_delay(f, s21 * (f < 100.0)))
    far = np.concatenate([f[f < 20.0], f[f > 400.0]])
    assert isinstance(phase_delay(far, line(far, 190.0)[0]), str)
