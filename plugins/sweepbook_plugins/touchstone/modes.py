"""From single-ended to differential waves, and from one reference impedance to another.

With a real impedance z at a port, a = (v + z i) / (2 sqrt z) and b = (v - z i) / (2 sqrt z)
(K. Kurokawa, "Power waves and the scattering matrix", 1965, from memory).

The differential wave of two ports of equal impedance z is (a1 - a2) / sqrt 2 and refers to 2 z
(D. E. Bockelman, W. R. Eisenstadt, "Combined differential and common-mode scattering parameters",
1995, from memory), so that Sdd = T S T' with rows of T of +1/sqrt 2 and -1/sqrt 2. Two ports of
50 ohm make a differential one of 100 ohm.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

F64 = NDArray[np.float64]
C128 = NDArray[np.complex128]


class Converted(NamedTuple):
    """S-parameters at other reference impedances, and how errors come through.

    Attributes:
        s: complex128[b, n, n].
        left, right: float64[n, n]; where S is off by no more than E, element by element, S' is off
            by no more than left E right, to first order.
    """

    s: C128
    left: F64
    right: F64


def to_reference(s: C128, before: F64, after: F64) -> Converted:
    """S-parameters at other reference impedances.

    With p = (sqrt(z/z') + sqrt(z'/z)) / 2 and m = (sqrt(z/z') - sqrt(z'/z)) / 2 the waves at z' are
    a' = p a + m b and b' = m a + p b, which follows from v and i staying what they are; so
    S' = (M + P S) (P + M S)^-1, and dS' = (P - S' M) dS (P + M S)^-1.

    Args:
        s: complex128[b, n, n].
        before: float64[n], ohms above 0.
        after: float64[n], ohms above 0.
    """
    ratio = np.sqrt(before / after)
    plus, minus = np.diag((ratio + 1.0 / ratio) / 2.0), np.diag((ratio - 1.0 / ratio) / 2.0)
    inverse = np.linalg.inv(plus + minus @ s)
    made: C128 = ((minus + plus @ s) @ inverse).astype(np.complex128)
    left: F64 = np.abs(plus - made @ minus).max(axis=0)
    right: F64 = np.abs(inverse).max(axis=0)
    return Converted(made, left, right)


def combined(s: C128, rows: F64) -> C128:
    """T S T' for rows T float64[m, n]: complex128[b, m, m] out of complex128[b, n, n]."""
    made: C128 = rows @ s @ rows.T
    return made
