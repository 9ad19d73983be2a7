"""The arithmetic of derived parameters on intervals, nothing else.

Formulas: common practice of the trade and of ISO/IEC 11801 and TIA-568 (recalled, the texts were
not at hand): PSNEXT_k = -10 lg sum over i of 10^(-NEXT_ik / 10); ACR-N_ik = NEXT_ik - IL_k;
ACR-F_ik = FEXT_ik - IL_k with the insertion loss of the disturbed pair k.
"""

from typing import NamedTuple

import numpy as np

from sweepbook.judging.curves import F64

_NEPER = np.log(10.0) / 10.0


class Interval(NamedTuple):
    """Three arrays of one shape, in dB: low <= value <= high; NaN in all three for a hole."""

    value: F64
    low: F64
    high: F64


def powers(loss_db: F64) -> F64:
    """Power ratio 10^(-loss/10) of a loss in dB, any shape."""
    with np.errstate(all="ignore"):
        ratio: F64 = np.exp(loss_db * -_NEPER)
    return ratio


def losses(power: F64) -> F64:
    """Loss -10 lg(power) in dB of a power ratio, any shape; inf for no power at all."""
    with np.errstate(all="ignore"):
        loss: F64 = np.log(power) / -_NEPER
    return loss


def power_sum(members_db: F64) -> F64:
    """Power sum of losses in dB.

    Args:
        members_db: float64[k, ...], k losses to be summed over the first axis.

    Returns:
        float64[...]: -10 lg sum 10^(-member/10); NaN where any member is NaN.
    """
    return losses(powers(members_db).sum(axis=0))


def difference(first: Interval, second: Interval) -> Interval:
    """`first - second` with its interval: the lowest less the highest, and the other way round."""
    with np.errstate(all="ignore"):
        return Interval(
            first.value - second.value, first.low - second.high, first.high - second.low
        )
