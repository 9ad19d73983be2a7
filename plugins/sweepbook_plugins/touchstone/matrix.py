"""Pairs of numbers to matrices: where each pair stands, and which complex number it is.

Order (Touchstone 1.1 and 2.0, recalled): row after row, the row being the port that receives; of
two ports in version 1, and in version 2.0 where it says 21_12, S21 comes before S12. Of a lower or
upper half the other one mirrors it.
"""

import numpy as np
from numpy.typing import NDArray

from sweepbook_plugins.touchstone.heading import Heading

F64 = NDArray[np.float64]
C128 = NDArray[np.complex128]


def square(cells: F64, ports: int, heading: Heading) -> F64:
    """Matrices out of the cells of some frequencies.

    Args:
        cells: float64[b, cells], one number of each pair, in the order of the file.
        ports: n.
        heading: says the order.

    Returns:
        float64[b, n, n], the receiving port first.
    """
    if heading.matrix != "full":
        made = np.empty((cells.shape[0], ports, ports))
        rows, columns = (np.tril_indices if heading.matrix == "lower" else np.triu_indices)(ports)
        made[:, rows, columns] = cells
        made[:, columns, rows] = cells
        return made
    made = cells.reshape(-1, ports, ports)
    turned = ports == 2 and heading.order == "21_12"
    return made.transpose(0, 2, 1) if turned else made


def complex_of(first: F64, second: F64, form: str) -> C128:
    """Complex numbers out of pairs: RI real and imaginary, MA magnitude and degrees, DB dB."""
    if form == "RI":
        return (first + 1j * second).astype(np.complex128)
    with np.errstate(over="ignore", invalid="ignore"):
        size = first if form == "MA" else 10.0 ** (first / 20.0)
        made = size * np.exp(1j * np.radians(second))
    return made.astype(np.complex128)
