"""From single-ended to differential waves, and from one reference impedance to another.

With a real impedance z at a port, a = (v + z i) / (2 sqrt z) and b = (v - z i) / (2 sqrt z)
(K. Kurokawa, "Power waves and the scattering matrix", 1965, from memory).

The differential wave of two ports of equal impedance z is (a1 - a2) / sqrt 2 and refers to 2 z
(D. E. Bockelman, W. R. Eisenstadt, "Combined differential and common-mode scattering parameters",
1995, from memory), so that Sdd = T S T' with rows of T of +1/sqrt 2 and -1/sqrt 2. Two ports of
50 ohm make a differential one of 100 ohm.
"""

import numpy as np
from numpy.typing import NDArray

F64 = NDArray[np.float64]
C128 = NDArray[np.complex128]


def to_reference(s: C128, before: F64, after: F64) -> C128:
    """S-parameters at other reference impedances.

    With p = (sqrt(z/z') + sqrt(z'/z)) / 2 and m = (sqrt(z/z') - sqrt(z'/z)) / 2 the waves at z' are
    a' = p a + m b and b' = m a + p b, which follows from v and i staying what they are; so
    S' = (M + P S) (P + M S)^-1.

    Args:
        s: complex128[b, n, n].
        before: float64[n], ohms above 0.
        after: float64[n], ohms above 0.

    Returns:
        complex128[b, n, n].
    """
    ratio = np.sqrt(before / after)
    plus, minus = np.diag((ratio + 1.0 / ratio) / 2.0), np.diag((ratio - 1.0 / ratio) / 2.0)
    top, bottom = minus + plus @ s, plus + minus @ s
    turned = np.linalg.solve(bottom.transpose(0, 2, 1), top.transpose(0, 2, 1))
    made: C128 = turned.transpose(0, 2, 1).astype(np.complex128)
    return made


def spread(before: F64, after: F64) -> float:
    """By how much, at most, an error of S grows on the way to another reference.

    With r = (z' - z) / (z' + z) at each port, S' = D^-1 (S - R) (1 - R S)^-1 D, so to first order
    |dS'| <= |dS| / (1 - |r|)^2 in the matrix norm, as long as no more power comes out than goes in
    (|S| <= 1). The norm of n x n errors of e each is at most n e.
    """
    worst = float(np.abs((after - before) / (after + before)).max())
    return float(before.size / (1.0 - worst) ** 2)


def combined(s: C128, rows: F64) -> C128:
    """T S T' for rows T float64[m, n]: complex128[b, m, m] out of complex128[b, n, n]."""
    made: C128 = rows @ s @ rows.T
    return made
