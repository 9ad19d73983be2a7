"""One test as it is exported: facts in words, rounded readings, what the tester states."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sweepbook_demo.curves import Curve, derive
from sweepbook_demo.instrument import Reading
from sweepbook_demo.limit_lines import LimitSet
from sweepbook_demo.tester import Statement, margins, scalar_margins, state

Real = NDArray[np.float64]

SCALAR_DECIMALS = {
    "length": 1,
    "propagation_delay": 0,
    "delay_skew": 0,
    "dc_loop_resistance": 2,
    "dc_resistance_unbalance_within_pair": 2,
    "dc_resistance_unbalance_between_pairs": 2,
}


@dataclass(frozen=True, slots=True)
class Sheet:
    """One test as it is exported.

    Attributes:
        facts: neutral name to text: label, places, parts, instruments, times.
        limit: the limit the tester judged by.
        frequency_khz: int64[n].
        curves: readings rounded to what is printed, losses positive, each float64[n].
        scalars: readings rounded to what is printed.
        stated: what the tester states, from its unrounded readings.
        decimals: digits printed after the mark in every loss.
    """

    facts: Mapping[str, str]
    limit: LimitSet
    frequency_khz: NDArray[np.int64]
    curves: Mapping[Curve, Real]
    scalars: Mapping[Curve, float]
    stated: Statement
    decimals: int = 2


def fill(
    reading: Reading, facts: Mapping[str, str], limit: LimitSet, accuracy: Mapping[str, float]
) -> Sheet:
    """Judge a reading as the tester does, then round it for export."""
    whole = reading.curves | derive(reading.curves, with_acr_n=limit.family == "iso")
    found = margins(limit, reading.frequency_khz, whole)
    found += scalar_margins(limit, reading.scalars)
    return Sheet(
        facts=facts,
        limit=limit,
        frequency_khz=reading.frequency_khz,
        curves=printed(reading.curves, 2),
        scalars={
            name: float(f"{value:.{SCALAR_DECIMALS[name.parameter]}f}")
            for name, value in reading.scalars.items()
        },
        stated=state(found, accuracy),
    )


def printed(curves: Mapping[Curve, Real], decimals: int) -> dict[Curve, Real]:
    """Round as a printed decimal does; delay always has one digit."""
    return {
        curve: _printed(values, 1 if curve.parameter == "propagation_delay" else decimals)
        for curve, values in curves.items()
    }


def _printed(values: Real, decimals: int) -> Real:
    return np.array([float(f"{value:.{decimals}f}") for value in values], dtype=np.float64)
