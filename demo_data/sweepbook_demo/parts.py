"""The invented parts: constants of cable, cord and connector.

All constants are invented. They are of the order a good 500 MHz unscreened cable of 23 AWG copper
has (common practice, no source), and were settled by looking at the margins of healthy links until
those came out plausible.
"""

from sweepbook_demo.line import CableType
from sweepbook_demo.plant import ConnectorPiece

WEFT_6A = CableType(
    impedance_ohm=(99.7, 98.4, 100.4, 99.1),
    velocity=0.705,
    lay=(1.012, 1.024, 1.006, 1.018),
    sqrt_db=1.68,
    linear_db=0.0062,
    per_degree=0.004,
    wire_ohm_per_m=0.0664,
    roughness=0.012,
    waviness=0.0010,
    wave_m=(0.362, 0.447, 0.391, 0.415),
    near_s=(7.6e-13, 6.7e-13, 8.1e-13, 8.6e-13, 7.0e-13, 7.8e-13),
    far_s=(2.0e-12, 1.7e-12, 2.1e-12, 2.4e-12, 1.8e-12, 2.0e-12),
)

WEFT_CORD = CableType(
    impedance_ohm=(98.0, 100.5, 97.0, 99.5),
    velocity=0.690,
    lay=(1.010, 1.022, 1.005, 1.016),
    sqrt_db=2.15,
    linear_db=0.0075,
    per_degree=0.004,
    wire_ohm_per_m=0.0905,
    roughness=0.013,
    waviness=0.0008,
    wave_m=(0.31, 0.37, 0.34, 0.29),
    near_s=(7.4e-13, 7.0e-13, 8.0e-13, 8.6e-13, 7.0e-13, 7.6e-13),
    far_s=(2.0e-12, 1.7e-12, 2.1e-12, 2.4e-12, 1.8e-12, 2.0e-12),
)

JACK_6A = ConnectorPiece(
    next_db=(60.0, 62.0, 66.0, 57.5, 60.0, 62.0),
    fext_db=(51.0, 52.0, 56.0, 47.5, 51.0, 52.0),
    sqrt_db=0.011,
    mismatch=0.10,
    contact_ohm=0.03,
)
