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
    metres = [one for one in figures.get("length", ()) if one.unit == "m"]
    delays = [one for one in figures.get("propagation_delay", ()) if one.unit == "ns"]
    delays += _swept(measured.get("propagation_delay"), bounds.delay_at_mhz)
    return [known for pair in PAIRS for known in _known(pair, metres, delays, bounds)]


def _known(
    pair: str, metres: Sequence[Figure], every: Sequence[Figure], bounds: Bounds
) -> Iterator[Known]:
    own = [one for one in metres if one.pairs == (pair,)]
    whole = [one for one in metres if not one.pairs]
    delays = [one for one in every if one.pairs == (pair,)]
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


def _swept(curves: Curves | None, at_mhz: float) -> list[Figure]:
    """The delay of each curve at the point of its sweep that is nearest to a frequency."""
    found: list[Figure] = []
    if curves is None:
        return found
    far = np.abs(curves.frequency_mhz - at_mhz)
    nearest = np.where(curves.holes, np.inf, far).argmin(axis=1) if far.size else None
    if nearest is None:
        return found
    rows = np.arange(len(curves.keys))
    low, high = (end.tolist() for end in curves.ends_at(rows, nearest))
    values, axis = curves.value[rows, nearest].tolist(), curves.frequency_mhz[nearest].tolist()
    for row, key in enumerate(curves.keys):
        if not np.isnan(values[row]):
            path = f"$.results.sweeps[{curves.sweeps[row][0]}]"
            between = values[row], low[row], high[row]
            found.append(Figure("propagation_delay", key.pairs, *between, "ns", axis[row], path))
    return found
