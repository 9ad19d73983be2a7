"""Four coupled pairs in cascade: from sections to the scattering parameters of eight ports.

Every section is four uncoupled lines followed by a lumped coupling: series mutual inductances
and shunt mutual capacitances. The chain (ABCD) matrix of a line is the textbook's cosh and sinh
form, and chain matrices multiply along the cascade (D. M. Pozar, "Microwave Engineering",
chapter 4, from memory). Lines of positive loss are passive, inductances and capacitances with
symmetric matrices are lossless and reciprocal, so the cascade is passive and reciprocal.

A mutual inductance Lm and a mutual capacitance Cm between two lines of impedance Z send
j*omega*(Cm*Z + Lm/Z)/2 backwards and j*omega*(Cm*Z - Lm/Z)/2 forwards (weak-coupling theory,
H. W. Johnson, M. Graham, "High-Speed Digital Design", from memory). With coupling times n and f
for near and far, Lm = Z*(n - f) and Cm = (n + f)/Z.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Real = NDArray[np.float64]
Complex = NDArray[np.complex128]

REFERENCE_OHM = 100.0


@dataclass(frozen=True, slots=True)
class Run:
    """Sections of equal length and equal propagation, in order from near to far.

    Attributes:
        length_m: length of one section.
        gamma: complex128[4, n_f], nepers and radians per metre.
        impedance_ohm: complex128[4, n_f].
        factor: float64[n, 4], relative impedance of each section and pair.
        inductance_h: float64[n, 4, 4], symmetric, mutual inductance after each section.
        capacitance_f: float64[n, 4, 4], symmetric, mutual capacitance after each section.
    """

    length_m: float
    gamma: Complex
    impedance_ohm: Complex
    factor: Real
    inductance_h: Real
    capacitance_f: Real


@dataclass(frozen=True, slots=True)
class Scattering:
    """Scattering parameters of four pairs, 100 ohm at every port; each complex128[n_f, 4, 4].

    The first index is the receiving pair, the second the driven pair: s21[f, k, i] leaves pair
    k at the far end when pair i is driven at the near end.
    """

    s11: Complex
    s12: Complex
    s21: Complex
    s22: Complex

    def whole(self) -> Complex:
        """All eight ports as one matrix, near ports first: complex128[n_f, 8, 8]."""
        top = np.concatenate([self.s11, self.s12], axis=2)
        return np.concatenate([top, np.concatenate([self.s21, self.s22], axis=2)], axis=1)


def chain(runs: Sequence[Run], frequency_mhz: Real) -> Complex:
    """Chain matrix of a cascade.

    Args:
        runs: in order from the near to the far end.
        frequency_mhz: float64[n_f].

    Returns:
        complex128[n_f, 8, 8]; voltages and currents of the near ports from those of the far
        ports, currents flowing from near to far.
    """
    count = frequency_mhz.size
    omega = (2e6 * np.pi * frequency_mhz)[None, :, None]
    volt = np.zeros((4, count, 8), dtype=np.complex128)
    amp = np.zeros((4, count, 8), dtype=np.complex128)
    for pair in range(4):
        volt[pair, :, pair] = 1.0
        amp[pair, :, 4 + pair] = 1.0
    for run in reversed(runs):
        volt, amp = _through(run, omega, volt, amp)
    return np.concatenate([volt, amp]).transpose(1, 0, 2)


def _through(run: Run, omega: Real, volt: Complex, amp: Complex) -> tuple[Complex, Complex]:
    """Walk one run from its far end to its near end."""
    angle = run.gamma * run.length_m
    cosh = np.cosh(angle)[:, :, None]
    sinh = np.sinh(angle)
    ahead = (run.impedance_ohm * sinh)[:, :, None]
    across = (sinh / run.impedance_ohm)[:, :, None]
    for section in range(run.factor.shape[0] - 1, -1, -1):
        volt = volt + 1.0j * omega * _mix(run.inductance_h[section], amp)
        amp = amp - 1.0j * omega * _mix(run.capacitance_f[section], volt)
        factor = run.factor[section][:, None, None]
        volt, amp = (
            cosh * volt + (factor * ahead) * amp,
            (across / factor) * volt + cosh * amp,
        )
    return volt, amp


def _mix(matrix: Real, state: Complex) -> Complex:
    """matrix[4, 4] times state[4, n_f, 8] over the pairs."""
    flat = state.reshape(4, -1).view(np.float64)
    return (matrix @ flat).view(np.complex128).reshape(state.shape)


def scattering(chain_matrix: Complex) -> Scattering:
    """Scattering parameters from a chain matrix complex128[n_f, 8, 8], 100 ohm at every port."""
    a = chain_matrix[:, :4, :4]
    b = chain_matrix[:, :4, 4:] / REFERENCE_OHM
    c = chain_matrix[:, 4:, :4] * REFERENCE_OHM
    d = chain_matrix[:, 4:, 4:]
    inverse: Complex = np.linalg.inv(a + b + c + d).astype(np.complex128)
    s21 = 2.0 * inverse
    s22 = -inverse @ (a - b + c - d)
    lean = a + b - c - d
    s11 = 0.5 * lean @ s21
    s12 = 0.5 * (lean @ s22 + (a - b - c + d))
    return Scattering(s11, s12, s21, s22)
