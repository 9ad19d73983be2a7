"""How long each pair is for certain, by the length it is stated with or by its delay."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from sweepbook.judging.curves import PAIRS, Curves
from sweepbook.judging.figures import Figure
from sweepbook.judging.physics import LIGHT_M_PER_NS, Bounds
from sweepbook.judging.working import Discredited


@dataclass(frozen=True, slots=True)
class Known:
    """What is known of the length of one pair.

    Attributes:
        pair: which.
        stated: its length as exported, the link's where the pair has none; None without.
        delays: its delays as exported; of a sweep the one nearest to the frequency asked.
        least_m, most_m: between these the length lies: by the stated one, else by the delay.
        words: where that comes from, for a sentence.
        discredits: parameters that prove nothing where this length is contradicted.
    """

    pair: str
    stated: Figure | None
    delays: tuple[Figure, ...]
    least_m: float
    most_m: float
    words: str
    discredits: Discredited

    @property
    def what(self) -> str:
        """The pair, or the link where its length is stated as one."""
        whole = self.stated is not None and not self.stated.pairs
        return f"pair {self.pair}" + (" and the link" if whole else "")


def lengths(
    measured: Mapping[str, Curves], figures: Mapping[str, Sequence[Figure]], bounds: Bounds
) -> list[Known]:
    """What is known of each pair; pairs without length and delay are left out."""
    return [
        known
        for pair in PAIRS
        for known in _known(pair, measured.get("propagation_delay"), figures, bounds)
    ]


def _known(
    pair: str,
    swept: Curves | None,
    figures: Mapping[str, Sequence[Figure]],
    bounds: Bounds,
) -> Iterator[Known]:
    found = [one for one in figures.get("length", ()) if one.unit == "m"]
    own = [one for one in found if one.pairs == (pair,)]
    whole = [one for one in found if not one.pairs]
    delays = [
        one
        for one in figures.get("propagation_delay", ())
        if one.pairs == (pair,) and one.unit == "ns"
    ]
    delays.extend(_swept(swept, pair, bounds.delay_at_mhz))
    # Of several lengths of one pair the least is the one that proves the least.
    stated = min(own or whole, key=lambda one: one.low, default=None)
    if stated is not None and stated.value > 0.0 and np.isfinite(stated.low):
        words = f"{stated.value:g} m of pair {pair}"
        most = stated.high if stated.pairs else np.inf
        yield Known(pair, stated, tuple(delays), stated.low, most, words, (("length", ()),))
    elif delays:
        least = min(one.low for one in delays) * LIGHT_M_PER_NS * bounds.nvp_lowest
        most = max(one.high for one in delays) * LIGHT_M_PER_NS
        words = f"{min(one.value for one in delays):g} ns of pair {pair}"
        nothing: Discredited = (("propagation_delay", ()), ("delay_skew", ()))
        yield Known(pair, stated, tuple(delays), max(least, 0.0), most, words, nothing)


def _swept(curves: Curves | None, pair: str, at_mhz: float) -> Iterator[Figure]:
    """The delay of a pair at the point of its sweep that is nearest to a frequency."""
    if curves is None:
        return
    for row, key in enumerate(curves.keys):
        if key.pairs != (pair,):
            continue
        there = np.flatnonzero(~np.isnan(curves.value[row]))
        if not there.size:
            continue
        at = int(there[np.argmin(np.abs(curves.frequency_mhz[there] - at_mhz))])
        ends = curves.ends_at(np.array([row]), np.array([at]))
        value, low, high = float(curves.value[row, at]), float(ends.low[0]), float(ends.high[0])
        path = f"$.results.sweeps[{curves.sweeps[row][0]}]"
        mhz = float(curves.frequency_mhz[at])
        yield Figure("propagation_delay", (pair,), value, low, high, "ns", mhz, path)
