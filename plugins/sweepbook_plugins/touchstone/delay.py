"""Propagation delay of a pair out of the phase of its insertion loss.

The delay is the phase delay -phi / (2 pi f), phi being counted from 0 at frequency 0 (any textbook
on lines; that the limits of ISO/IEC 11801-1 and ANSI/TIA-568.2-D, 534 + 36 / sqrt f ns a 100 m, are
of the phase delay and not of the group delay is recalled). A file has phi only up to whole turns.
They are told where the sweep begins low and finely enough, and nowhere else: between neighbours
the phase turns by less than half a turn, and the straight line through the first points meets 0 Hz
at a whole number of turns. From then on each point is the one nearest to where the delay before it
leads.
"""

from typing import NamedTuple

import numpy as np

from sweepbook_plugins.touchstone.matrix import C128, F64

FIRST_POINTS = 32
HIGHEST_START_MHZ = 10.0
LARGEST_STEP_MHZ = 0.4
"""With it less than half a turn lies between neighbours, up to LONGEST_NS."""
LONGEST_NS = 1200.0
"""Beyond any link of balanced cabling: some 200 m. Common practice, no source."""
SHORTEST_NS = -5.0
"""A link of no length, and noise."""
MOST_TURNS_OFF = 0.2
"""By how much the line through the first points may miss a whole turn: the skin effect bends it by
some hundredths of a turn."""
MOST_TURNS_ASIDE = 0.1
"""By how much a point may lie beside where the delay before it leads."""


class Delay(NamedTuple):
    """A delay over frequency.

    Attributes:
        delay_ns: float64[n].
        turned: whether the phase rises with the delay, as under exp(-jwt).
    """

    delay_ns: F64
    turned: bool


def phase_delay(frequency_mhz: F64, s21: C128) -> Delay | str:
    """The phase delay of a transmission, or why it cannot be told.

    Args:
        frequency_mhz: float64[n].
        s21: complex128[n].
    """
    rises = (frequency_mhz[1:] > frequency_mhz[:-1]).all()
    if frequency_mhz.size < FIRST_POINTS or not rises or not frequency_mhz[0] > 0.0:
        return f"it takes {FIRST_POINTS} rising frequencies above 0"
    first = frequency_mhz[:FIRST_POINTS]
    step = float(np.diff(first).max())
    if not (first[0] <= HIGHEST_START_MHZ and step <= LARGEST_STEP_MHZ):
        return (
            f"its first {FIRST_POINTS} points begin at {first[0]:g} MHz in steps of {step:g} MHz; "
            f"it takes {HIGHEST_START_MHZ:g} and {LARGEST_STEP_MHZ:g} MHz at most"
        )
    if not (np.abs(s21) > 0.0).all():
        return "the transmission is 0 somewhere"
    turns = -np.angle(s21) / (2.0 * np.pi)
    for turned in (False, True):
        found = _followed(frequency_mhz, -turns if turned else turns)
        if found is not None:
            return Delay(found, turned)
    return "the phase does not lead back to 0 at 0 Hz; are the contacts of one end exchanged?"


def _followed(frequency_mhz: F64, turns: F64) -> F64 | None:
    """Delays float64[n] in ns by turns float64[n], each up to whole ones; None where not sound."""
    first = frequency_mhz[:FIRST_POINTS]
    start = np.unwrap(turns[:FIRST_POINTS], period=1.0)
    slope, offset = np.polyfit(first, start, 1)
    if not SHORTEST_NS <= slope * 1e3 <= LONGEST_NS:
        return None
    if not abs(offset - np.round(offset)) <= MOST_TURNS_OFF:
        return None
    made = np.empty_like(turns)
    made[:FIRST_POINTS] = start - np.round(offset)
    for at in range(FIRST_POINTS, turns.size):
        ahead = made[at - 1] * frequency_mhz[at] / frequency_mhz[at - 1]
        made[at] = turns[at] + np.round(ahead - turns[at])
        if not abs(made[at] - ahead) <= MOST_TURNS_ASIDE:
            return None
    delay: F64 = made / frequency_mhz * 1e3
    return delay
