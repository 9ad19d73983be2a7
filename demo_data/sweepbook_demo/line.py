"""One pair as a uniform transmission line: primary constants, propagation, impedance.

Formulas: the telegrapher's equations, gamma = sqrt(Z Y) and Zc = sqrt(Z / Y), as in D. M. Pozar,
"Microwave Engineering", chapter 2 (from memory). Series impedance has the skin effect's equal
real and imaginary parts growing with the square root of frequency (S. Ramo, J. R. Whinnery,
T. Van Duzer, "Fields and Waves in Communication Electronics", from memory), so that loss and
delay belong together: a line with a*sqrt(f) of loss is also slower at low frequencies.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

LIGHT_M_PER_S = 299_792_458.0
DB_PER_NEPER = 20.0 / np.log(10.0)

Real = NDArray[np.float64]
Complex = NDArray[np.complex128]


@dataclass(frozen=True, slots=True)
class CableType:
    """Constants of one invented cable.

    Attributes:
        impedance_ohm: characteristic impedance of each of the four pairs at high frequency.
        velocity: wave velocity along the wires as a fraction of the velocity of light.
        lay: length of wire in each pair per length of sheath; tighter twist, longer wire.
        sqrt_db: loss a in a*sqrt(f), dB per 100 m of wire, f in MHz, at 20 degrees Celsius.
        linear_db: loss b in b*f, dB per 100 m of wire, f in MHz (dielectric).
        per_degree: rise of the conductor loss per degree Celsius above 20.
        wire_ohm_per_m: direct-current resistance of one wire.
        roughness: standard deviation of the random impedance variation, relative.
        waviness: amplitude of the periodic impedance variation, relative.
        wave_m: period of that variation for each pair.
        near_s: near-end coupling of each pair combination, seconds per square root of metre.
        far_s: far-end coupling of each pair combination, seconds per square root of metre.
    """

    impedance_ohm: tuple[float, float, float, float]
    velocity: float
    lay: tuple[float, float, float, float]
    sqrt_db: float
    linear_db: float
    per_degree: float
    wire_ohm_per_m: float
    roughness: float
    waviness: float
    wave_m: tuple[float, float, float, float]
    near_s: tuple[float, float, float, float, float, float]
    far_s: tuple[float, float, float, float, float, float]


def propagation(cable: CableType, frequency_mhz: Real, celsius: float) -> tuple[Complex, Complex]:
    """Propagation constant and characteristic impedance of the four pairs.

    Args:
        cable: the cable's constants.
        frequency_mhz: float64[n], above zero.
        celsius: temperature of the cable.

    Returns:
        gamma complex128[4, n] in nepers and radians per metre of sheath, and the characteristic
        impedance complex128[4, n] in ohms.
    """
    omega = 2e6 * np.pi * frequency_mhz
    speed = cable.velocity * LIGHT_M_PER_S
    warm = 1.0 + cable.per_degree * (celsius - 20.0)
    skin = cable.sqrt_db / (100.0 * DB_PER_NEPER) * warm * np.sqrt(frequency_mhz)
    dielectric = cable.linear_db / (100.0 * DB_PER_NEPER) * frequency_mhz
    impedance = np.array(cable.impedance_ohm)[:, None]
    series = impedance * (2.0 * skin * (1.0 + 1.0j) + 1.0j * omega / speed)[None, :]
    shunt = (2.0 * dielectric + 1.0j * omega / speed)[None, :] / impedance
    lay = np.array(cable.lay)[:, None]
    return lay * np.sqrt(series * shunt), np.sqrt(series / shunt)
