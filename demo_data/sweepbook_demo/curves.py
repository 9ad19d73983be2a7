"""Names of curves and scalars, and what follows from measured curves by arithmetic."""

from collections.abc import Mapping
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Real = NDArray[np.float64]

PAIRS = ("1-2", "3-6", "4-5", "7-8")
ENDS = ("near", "far")


class Curve(NamedTuple):
    """Which curve: a parameter, the end it was received at ("" if none), one or two pairs.

    For crosstalk the pairs are the driving and the receiving one.
    """

    parameter: str
    end: str
    pairs: tuple[str, ...]


Curves = Mapping[Curve, Real]


def combinations() -> list[tuple[str, str]]:
    """The six unordered combinations of two pairs."""
    return [(a, b) for place, a in enumerate(PAIRS) for b in PAIRS[place + 1 :]]


def ordered() -> list[tuple[str, str]]:
    """The twelve ordered combinations: driving pair, receiving pair."""
    return [(a, b) for a in PAIRS for b in PAIRS if a != b]


def next_of(curves: Curves, end: str, first: str, second: str) -> Real | None:
    """Near-end crosstalk of a combination in either order, or None if it was not exported."""
    straight = curves.get(Curve("next", end, (first, second)))
    return curves.get(Curve("next", end, (second, first))) if straight is None else straight


def fext_of(curves: Curves, end: str, driving: str, receiving: str) -> Real | None:
    """Far-end crosstalk received at an end, by reciprocity where only the other was measured."""
    other = "near" if end == "far" else "far"
    straight = curves.get(Curve("fext", end, (driving, receiving)))
    return curves.get(Curve("fext", other, (receiving, driving))) if straight is None else straight


def power_sum(losses: list[Real]) -> Real:
    """Power sum of losses in dB: -10 lg of the sum of 10^(-loss/10)."""
    total = np.sum([10.0 ** (-loss / 10.0) for loss in losses], axis=0)
    return np.asarray(-10.0 * np.log10(total), dtype=np.float64)


def derive(curves: Curves, *, with_acr_n: bool) -> dict[Curve, Real]:
    """Everything that follows from insertion loss, near-end and far-end crosstalk.

    A curve whose parts are not all there is left out. ACR-F subtracts the insertion loss of the
    receiving (disturbed) pair, as ISO/IEC 11801 and TIA-568 do (from memory).

    Args:
        curves: measured curves, each float64[n] in dB, losses positive.
        with_acr_n: make ACR-N and its power sum too.

    Returns:
        Derived curves, each float64[n] in dB.
    """
    derived: dict[Curve, Real] = {}
    for end in ENDS:
        derived.update(_near_end(curves, end, with_acr_n))
        derived.update(_far_end(curves, end))
    return derived


def _near_end(curves: Curves, end: str, with_acr_n: bool) -> dict[Curve, Real]:
    made: dict[Curve, Real] = {}
    for receiving in PAIRS:
        parts = {p: next_of(curves, end, p, receiving) for p in PAIRS if p != receiving}
        losses = {pair: loss for pair, loss in parts.items() if loss is not None}
        wire = curves.get(Curve("insertion_loss", "", (receiving,)))
        if with_acr_n and wire is not None:
            for pair, loss in losses.items():
                made[Curve("acr_n", end, (pair, receiving))] = loss - wire
        if len(losses) == 3:
            total = power_sum(list(losses.values()))
            made[Curve("psnext", end, (receiving,))] = total
            if with_acr_n and wire is not None:
                made[Curve("psacr_n", end, (receiving,))] = total - wire
    return made


def _far_end(curves: Curves, end: str) -> dict[Curve, Real]:
    made: dict[Curve, Real] = {}
    for receiving in PAIRS:
        wire = curves.get(Curve("insertion_loss", "", (receiving,)))
        parts = {p: fext_of(curves, end, p, receiving) for p in PAIRS if p != receiving}
        losses = {pair: loss for pair, loss in parts.items() if loss is not None}
        if wire is None:
            continue
        for pair, loss in losses.items():
            made[Curve("acr_f", end, (pair, receiving))] = loss - wire
        if len(losses) == 3:
            made[Curve("psacr_f", end, (receiving,))] = power_sum(list(losses.values())) - wire
    return made
