"""Losses that no tester reads: the least of a curve above what any instrument can tell."""

from collections.abc import Iterator, Mapping

import numpy as np

from sweepbook.judging import phrases
from sweepbook.judging.curves import OWN_LOSSES, Curves
from sweepbook.judging.doubt_words import curve_of, path_of, shown
from sweepbook.judging.physics import Bounds
from sweepbook.judging.working import Doubt, DoubtKind


def too_good(measured: Mapping[str, Curves], bounds: Bounds) -> Iterator[Doubt]:
    """Yield every curve whose least value is above what a field tester can read at its best.

    Exported ACR-F is below the FEXT that it is made from.

    Args:
        measured: curves of the record as exported, at the points where their limit holds.
        bounds: with the highest least value of each loss in dB.
    """
    for parameter in OWN_LOSSES:
        curves = measured.get(parameter)
        if curves is None or not curves.frequency_mhz.size:
            continue
        most = bounds.highest_db(parameter)
        if curves.whole and all(one <= most for one in curves.least):
            continue  # one point that a tester reads is enough
        there = ~curves.holes & ~np.isposinf(curves.value)
        low = np.where(there, curves.low, np.inf)
        for row, at in enumerate(np.argmin(low, axis=1).tolist()):
            if there[row, at] and low[row, at] > most:
                key = curves.keys[row]
                text = (
                    f"{curve_of(key)} is {_plain(float(curves.value[row, at]))} dB or more "
                    f"at every point, and no tester reads {most:g} dB throughout"
                )
                yield Doubt(DoubtKind.CONTRADICTION, path_of(curves, row), text)


def _plain(value: float) -> str:
    """Two decimals, or few digits where the value is no measurement at all."""
    return phrases.figure(value) if abs(value) < 1e6 else shown(value)
