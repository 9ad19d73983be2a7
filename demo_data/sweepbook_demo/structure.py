"""What varies along a cable: impedance and the coupling between pairs, section by section.

A cable is cut into short sections. Each section has its own impedance (random, smoothed over a
few sections, plus one sinusoid a pair, as a wobbling extruder leaves it) and its own mutual
inductance and capacitance for each of the six combinations. The couplings are independent from
section to section: their sum along the line is a random walk. Twisting is why they have no mean.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sweepbook_demo.line import CableType

Real = NDArray[np.float64]

SECTION_M = 0.05
COMBINATIONS = ((0, 1), (0, 2), (0, 3), (1, 2), (1, 3), (2, 3))


@dataclass(frozen=True, slots=True)
class Profile:
    """Variation along n sections.

    Attributes:
        factor: float64[n, 4], impedance relative to the cable's own.
        near_s: float64[n, 6], near-end coupling of each combination, seconds.
        far_s: float64[n, 6], far-end coupling of each combination, seconds.
    """

    factor: Real
    near_s: Real
    far_s: Real


@dataclass(frozen=True, slots=True)
class Crush:
    """A crushed spot: a stretch of cable whose impedance is a fraction of what it was."""

    at_m: float
    length_m: float
    factor: float


def draw_profile(
    cable: CableType, sections: int, seed: int, crushes: tuple[Crush, ...] = ()
) -> Profile:
    """Draw the variation of a length of cable; the same seed gives the same cable.

    `RandomState` is used because its stream is frozen across numpy versions.
    """
    random = np.random.RandomState(seed)
    position = (np.arange(sections) + 0.5) * SECTION_M
    rough = random.standard_normal((sections + 4, 4))
    kernel = np.array([1.0, 2.0, 3.0, 2.0, 1.0]) / np.sqrt(19.0)
    smooth = sum(weight * rough[i : i + sections] for i, weight in enumerate(kernel))
    phase = random.uniform(0.0, 2.0 * np.pi, 4)
    wave = np.sin(2.0 * np.pi * position[:, None] / np.array(cable.wave_m) + phase)
    factor = 1.0 + cable.roughness * smooth + cable.waviness * wave
    for crush in crushes:
        hit = (position >= crush.at_m) & (position < crush.at_m + crush.length_m)
        factor[hit] *= crush.factor
    step = np.sqrt(SECTION_M)
    near = random.standard_normal((sections, 6)) * np.array(cable.near_s) * step
    far = random.standard_normal((sections, 6)) * np.array(cable.far_s) * step
    return Profile(np.asarray(factor, dtype=np.float64), near, far)


def mutual(coupling: Real) -> Real:
    """Spread six combinations over a symmetric matrix: float64[..., 6] to float64[..., 4, 4]."""
    matrix = np.zeros((*coupling.shape[:-1], 4, 4))
    for place, (i, k) in enumerate(COMBINATIONS):
        matrix[..., i, k] = coupling[..., place]
        matrix[..., k, i] = coupling[..., place]
    return matrix
