"""Figures that are too great as a whole: another unit, such as tenths of a dB or milliohm.

A bad contact, an open pair or water in a cable adds to some figures, or by a law of its own. What
is many times as great as that of any cable, for all pairs or at every frequency by the same factor,
is no fault of a link, so that it proves no fail either.
"""

from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from sweepbook.judging import phrases
from sweepbook.judging.curves import PAIRS, Curves
from sweepbook.judging.doubt_words import curve_of, path_of, shown
from sweepbook.judging.figures import Figure
from sweepbook.judging.lengths import Known
from sweepbook.judging.physics import LIGHT_M_PER_NS, Bounds
from sweepbook.judging.working import Discredited, Doubt, DoubtKind

OF_LOSS = {"next": ("acr_n", "psacr_n"), "fext": ("acr_f", "psacr_f"), "tctl": ("eltctl",)}
"""What the insertion loss is taken off, and what that makes."""
OF_LOOP = (
    "dc_loop_resistance",
    "dc_resistance_unbalance_within_pair",
    "dc_resistance_unbalance_between_pairs",
)


def scaled_loss(
    measured: Mapping[str, Curves], known: Sequence[Known], bounds: Bounds
) -> Iterator[Doubt]:
    """Yield every insertion loss that is a multiple of a cable's at every frequency.

    Args:
        measured: curves of the record as exported.
        known: lengths of the pairs.
        bounds: the thinnest conductor, the least multiple, and how steady it is.
    """
    lost = measured.get("insertion_loss")
    if lost is None or not lost.frequency_mhz.size:
        return
    thin = bounds.conductor_thinnest_mm
    per_metre = bounds.least_loss_db_per_m(lost.frequency_mhz, thin)
    middle = lost.frequency_mhz.size // 2
    made = tuple((name, ()) for raw, them in OF_LOSS.items() if raw in measured for name in them)
    for row, key in enumerate(lost.keys):
        one = next((item for item in known if key.pairs == (item.pair,)), None)
        most_m = _longest(one) if one is not None else np.inf
        if one is None or not np.isfinite(most_m):
            continue
        if lost.value[row, middle] <= bounds.loss_times_most * per_metre[middle] * most_m:
            continue  # not a multiple there, so not at every point
        there = ~np.isnan(lost.value[row])
        if not there.any():
            continue
        most = per_metre[there] * most_m
        times = lost.low[row, there] / most
        least, greatest = float(times.min()), float(times.max())
        if not (least > bounds.loss_times_most and greatest <= bounds.loss_times_spread * least):
            continue
        at = int(np.flatnonzero(there)[np.argmin(times)])
        text = (
            f"{curve_of(key)}, {shown(lost.value[row, at])} dB at "
            f"{phrases.frequency(float(lost.frequency_mhz[at]))}, is {least:.1f} to {greatest:.1f} "
            f"times that of thin copper at every point, by {one.words}: another unit, it seems"
        )
        nothing: Discredited = (("insertion_loss", key.pairs), *made, *one.discredits)
        yield Doubt(DoubtKind.CONTRADICTION, path_of(lost, row), text, nothing)


def scaled_loop(
    figures: Mapping[str, Sequence[Figure]], known: Sequence[Known], bounds: Bounds
) -> Iterator[Doubt]:
    """Yield one doubt if the loop resistances of all pairs are a multiple of a cable's."""
    thin = bounds.loop_ohm_per_m(bounds.conductor_thinnest_mm)
    longest = {one.pair: _longest(one) for one in known}
    loops = [one for one in figures.get("dc_loop_resistance", ()) if one.unit == "ohm"]
    if not {pair for one in loops for pair in one.pairs} >= set(PAIRS):
        return
    times = [one.low / (thin * longest.get(one.pair or "", np.inf)) for one in loops]
    if min(times) > bounds.loop_times_most:
        text = (
            f"loop resistance is {shown(loops[0].value)} ohm of pair {loops[0].pair}, and of every "
            f"pair {min(times):.0f} times that of thin copper or more: another unit, it seems"
        )
        nothing = tuple((name, ()) for name in OF_LOOP)
        yield Doubt(DoubtKind.CONTRADICTION, loops[0].path, text, nothing)


def _longest(known: Known) -> float:
    """How long a pair is at most in metres; infinite where nothing tells."""
    by_delay = max((one.high for one in known.delays), default=np.inf) * LIGHT_M_PER_NS
    return max(min(known.most_m, by_delay), 0.0) or np.inf
