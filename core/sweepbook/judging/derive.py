"""The arithmetic of derived parameters on intervals, nothing else.

Formulas: common practice of the trade and of ISO/IEC 11801 and TIA-568 (recalled, the texts were
not at hand): PSNEXT_k = -10 lg sum over i of 10^(-NEXT_ik / 10); ACR-N_ik = NEXT_ik - IL_k;
ACR-F_ik = FEXT_ik - IL_k with the insertion loss of the disturbed pair k.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

F64 = NDArray[np.float64]
Places = NDArray[np.intp]

_NEPER = np.log(10.0) / 10.0


class Ends(NamedTuple):
    """Lower and upper ends of an interval, float64 of one shape; NaN in both for a hole."""

    low: F64
    high: F64


def powers(loss_db: F64) -> F64:
    """Power ratio 10^(-loss/10) of a loss in dB, any shape."""
    with np.errstate(all="ignore"):
        ratio: F64 = loss_db * -_NEPER
        np.exp(ratio, out=ratio)
    return ratio


def losses(power: F64) -> F64:
    """Loss -10 lg(power) in dB of a power ratio, any shape; inf for no power at all."""
    with np.errstate(all="ignore"):
        loss: F64 = np.log(power)
        loss /= -_NEPER
    return loss


def total(power: F64, index: Places) -> F64:
    """Sums of the rows that each row of an index names, one after another.

    Args:
        power: float64[k, n].
        index: int[m, c].

    Returns:
        float64[m, n].
    """
    found: F64 = power[index[:, 0]]
    for place in range(1, index.shape[1]):
        found += power[index[:, place]]
    return found


def power_sum(members_db: F64) -> F64:
    """Power sum of losses in dB.

    Args:
        members_db: float64[k, ...], k losses to be summed over the first axis.

    Returns:
        float64[...]: -10 lg sum 10^(-member/10); NaN where any member is NaN.
    """
    return losses(powers(members_db).sum(axis=0))


def difference(first: Ends, second: Ends) -> Ends:
    """Ends of `first - second`: the lowest less the highest, and the other way round."""
    with np.errstate(all="ignore"):
        return Ends(first.low - second.high, first.high - second.low)
