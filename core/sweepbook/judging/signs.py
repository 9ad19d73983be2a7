"""Losses that are below 0 throughout, or without bound throughout: a wrong sign, an empty field."""

from collections.abc import Iterator, Mapping

import numpy as np

from sweepbook.judging.coverage import ONE_HZ_MHZ
from sweepbook.judging.curves import LOSSES, Curves
from sweepbook.judging.doubt_words import curve_of, path_of
from sweepbook.judging.limit_line import edges
from sweepbook.judging.working import Doubt, DoubtKind
from sweepbook.limits.model import LimitTable

MADE_OF = {
    "next": ("psnext", "acr_n", "psacr_n"),
    "fext": ("psfext", "acr_f", "psacr_f"),
    "acr_f": ("psacr_f",),
    "psnext": ("psacr_n",),
    "psfext": ("psacr_f",),
    "tctl": ("eltctl",),
    "propagation_delay": ("delay_skew",),
}
"""What is made from the curves of a parameter, and proves no more than they do."""
EXPORTED = {
    "next": ("psnext", "acr_n", "psacr_n"),
    "fext": ("psfext", "acr_f", "psacr_f"),
}
"""Curves that stand as exported where the raw ones are not there."""


def turned(measured: Mapping[str, Curves], table: LimitTable | None) -> Iterator[Doubt]:
    """Losses below 0 at every point: the sign is the wrong way round, and they prove nothing.

    A ratio to the signal may well be below 0 at high frequencies. Exported ones are looked at where
    they are judged, and where they begin with the limit.
    """
    alone = [name for raw, them in EXPORTED.items() if raw not in measured for name in them]
    for parameter in (*LOSSES, *alone):
        curves = measured.get(parameter)
        if curves is None or _seen_above(curves):
            continue
        there = ~curves.holes
        wrong = there.any(axis=1) & ~(there & ~(curves.high < 0.0)).any(axis=1)
        if parameter in alone:
            rule = table.parameters.get(parameter) if table is not None else None
            first = edges(rule)[0] if rule is not None else -np.inf
            wrong &= there[:, curves.frequency_mhz <= first + ONE_HZ_MHZ].any(axis=1)
        made = tuple((name, ()) for name in MADE_OF.get(parameter, ()))
        for row in np.flatnonzero(wrong).tolist():
            key = curves.keys[row]
            text = f"{curve_of(key)} is below 0 dB at every point, and a loss is not"
            nothing = ((parameter, key.pairs), *made)
            yield Doubt(DoubtKind.IMPOSSIBLE, path_of(curves, row), text, nothing)


def _seen_above(curves: Curves) -> bool:
    """Whether the greatest value of every curve tells that none is below 0 throughout."""
    return curves.whole and all(one >= 0.0 for one in curves.most)


def silent(measured: Mapping[str, Curves]) -> Iterator[Doubt]:
    """Losses without bound at every point: zeros in place of an S-parameter, an empty field."""
    for parameter in LOSSES:
        curves = measured.get(parameter)
        if curves is None or curves.whole:
            continue
        there = ~curves.holes
        empty = there.any(axis=1) & ~(there & ~np.isposinf(curves.value)).any(axis=1)
        for row in np.flatnonzero(empty).tolist():
            text = f"{curve_of(curves.keys[row])} is zero at every point, and no measurement is"
            yield Doubt(DoubtKind.IMPOSSIBLE, path_of(curves, row), text)
