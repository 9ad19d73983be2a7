"""Shapes over frequency. A difference and a choice between units need the table: see `shapes`."""

from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from sweepbook.limits.shape_model import Constant, LogLine, Shape, Sum, VoltageSum

Floats: TypeAlias = NDArray[np.float64]


def evaluate(shape: Shape, frequency_mhz: Floats) -> Floats:
    """Evaluate a shape that needs nothing but the frequency.

    Args:
        shape: a sum, a line over log f, a voltage sum or a constant.
        frequency_mhz: [n], above 0 for all but a constant.

    Returns:
        [n] values in the parameter's unit.

    Raises:
        TypeError: the shape is a difference, a choice between units or unknown.
    """
    match shape:
        case Sum():
            return _sum(shape, frequency_mhz)
        case LogLine():
            return _log_line(shape, frequency_mhz)
        case VoltageSum():
            return _voltage_sum(shape, frequency_mhz)
        case Constant():
            return np.full(frequency_mhz.shape, shape.value)
        case _:
            raise TypeError(f"{type(shape).__name__} needs the table")


def _sum(shape: Sum, frequency_mhz: Floats) -> Floats:
    total = np.zeros(frequency_mhz.shape)
    for part in shape.parts:
        for term in part.terms:
            total += part.times * term.c * frequency_mhz**term.p
    return total


def _log_line(shape: LogLine, frequency_mhz: Floats) -> Floats:
    line: Floats = shape.a + shape.b * np.log10(frequency_mhz / shape.f0_mhz)
    return line


def _voltage_sum(shape: VoltageSum, frequency_mhz: Floats) -> Floats:
    volts = np.zeros(frequency_mhz.shape)
    for item in shape.lines:
        volts += item.weight * 10.0 ** (_log_line(item.line, frequency_mhz) / -20.0)
    loss: Floats = -20.0 * np.log10(volts)
    return loss


def round_to(values: Floats, decimals: int, mode: str) -> Floats:
    """Round as a document rounds a limit.

    Args:
        values: [n], NaN stays NaN.
        decimals: digits kept after the mark.
        mode: "nearest", where a half goes up, or "truncate", which drops the rest.

    Returns:
        [n] rounded values.
    """
    scaled = values * 10.0**decimals
    # A half that binary numbers put a hair below it is a half all the same.
    hair = 1e-9
    whole = np.trunc(scaled + np.copysign(hair, scaled))
    if mode == "nearest":
        whole = np.floor(scaled + 0.5 + hair)
    rounded: Floats = whole / 10.0**decimals
    return rounded
