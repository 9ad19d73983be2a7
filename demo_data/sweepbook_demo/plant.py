"""A link as it was pulled and terminated: cables, cords and connectors in order, and its faults."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sweepbook_demo.cascade import REFERENCE_OHM, Run, Scattering, chain, scattering
from sweepbook_demo.line import DB_PER_NEPER, LIGHT_M_PER_S, CableType, propagation
from sweepbook_demo.structure import SECTION_M, Crush, draw_profile, mutual

Real = NDArray[np.float64]

_CONNECTOR_M = 0.04
_CONNECTOR_VELOCITY = 0.6
_OMEGA_100 = 2e8 * np.pi


@dataclass(frozen=True, slots=True)
class CablePiece:
    """A length of cable or cord.

    Attributes:
        cable: its constants.
        length_m: length of sheath.
        celsius: its temperature.
        crushes: crushed spots, measured from the near end of the piece.
    """

    cable: CableType
    length_m: float
    celsius: float = 20.0
    crushes: tuple[Crush, ...] = ()


@dataclass(frozen=True, slots=True)
class ConnectorPiece:
    """A mated plug and jack.

    Attributes:
        next_db: near-end crosstalk loss of the six combinations at 100 MHz, before scatter.
        fext_db: far-end crosstalk loss of the six combinations at 100 MHz, before scatter.
        sqrt_db: insertion loss in dB per square root of MHz.
        mismatch: standard deviation of the relative impedance error over 4 cm.
        contact_ohm: direct-current resistance of one contact.
        worst_by_db: dB by which the combination 3-6/4-5 is worse, for a badly dressed jack.
    """

    next_db: tuple[float, float, float, float, float, float]
    fext_db: tuple[float, float, float, float, float, float]
    sqrt_db: float
    mismatch: float
    contact_ohm: float
    worst_by_db: float = 0.0


Piece = CablePiece | ConnectorPiece


def solve(pieces: Sequence[Piece], frequency_mhz: Real, seed: int) -> Scattering:
    """Scattering parameters of a link at float64[n_f] MHz; the same seed gives the same link."""
    runs = [_run(piece, frequency_mhz, seed * 101 + place) for place, piece in enumerate(pieces)]
    return scattering(chain(runs, frequency_mhz))


def wire_resistance_ohm(pieces: Sequence[Piece], seed: int) -> Real:
    """Direct-current resistance of the eight wires end to end: float64[4, 2], ohms.

    Wires of one pair differ by a few tenths of a percent, contacts by some milliohms; copper
    gains 0.393 % per degree (handbook figure for annealed copper, from memory).
    """
    random = np.random.RandomState(seed + 9_000_000)
    total = np.zeros((4, 2))
    for piece in pieces:
        scatter = random.standard_normal((4, 2))
        if isinstance(piece, CablePiece):
            lay = np.array(piece.cable.lay)[:, None]
            warm = 1.0 + 0.00393 * (piece.celsius - 20.0)
            metre = piece.cable.wire_ohm_per_m * (1.0 + 0.003 * scatter)
            total = total + lay * metre * warm * piece.length_m
        else:
            total = total + piece.contact_ohm * (1.0 + 0.15 * np.abs(scatter))
    return total


def _run(piece: Piece, frequency_mhz: Real, seed: int) -> Run:
    if isinstance(piece, CablePiece):
        return cable_run(piece, frequency_mhz, seed)
    return connector_run(piece, frequency_mhz, seed)


def cable_run(piece: CablePiece, frequency_mhz: Real, seed: int) -> Run:
    """Sections of about 5 cm that make up a length of cable exactly."""
    sections = max(1, round(piece.length_m / SECTION_M))
    gamma, impedance = propagation(piece.cable, frequency_mhz, piece.celsius)
    profile = draw_profile(piece.cable, sections, seed, piece.crushes)
    return Run(
        length_m=piece.length_m / sections,
        gamma=gamma,
        impedance_ohm=impedance,
        factor=profile.factor,
        inductance_h=mutual(profile.near_s - profile.far_s) * REFERENCE_OHM,
        capacitance_f=mutual(profile.near_s + profile.far_s) / REFERENCE_OHM,
    )


def connector_run(piece: ConnectorPiece, frequency_mhz: Real, seed: int) -> Run:
    """Two short mismatched lines with the connector's coupling between them.

    Coupling that grows as j*omega has the 20 dB per decade of connecting hardware.
    """
    random = np.random.RandomState(seed)
    loss = piece.sqrt_db / (DB_PER_NEPER * _CONNECTOR_M) * np.sqrt(frequency_mhz)
    phase = 2e6 * np.pi * frequency_mhz / (_CONNECTOR_VELOCITY * LIGHT_M_PER_S)
    gamma = np.tile(loss + 1.0j * phase, (4, 1))
    factor = 1.0 + piece.mismatch * random.standard_normal(4)
    near = _coupling_s(piece.next_db, piece.worst_by_db, random)
    far = _coupling_s(piece.fext_db, piece.worst_by_db, random)
    share = np.array([1.0, 0.0])[:, None, None]
    return Run(
        length_m=_CONNECTOR_M / 2.0,
        gamma=gamma,
        impedance_ohm=np.full(gamma.shape, REFERENCE_OHM + 0.0j),
        factor=np.tile(factor, (2, 1)),
        inductance_h=share * mutual(near - far) * REFERENCE_OHM,
        capacitance_f=share * mutual(near + far) / REFERENCE_OHM,
    )


def _coupling_s(
    loss_db: tuple[float, ...], worst_by_db: float, random: np.random.RandomState
) -> Real:
    """Coupling times of the six combinations, seconds, scattered by 1.5 dB and of either sign."""
    scattered = np.array(loss_db) + 1.5 * random.standard_normal(6)
    scattered[3] -= worst_by_db
    sign = np.where(random.uniform(size=6) < 0.5, -1.0, 1.0)
    return sign * 10.0 ** (-scattered / 20.0) / _OMEGA_100
