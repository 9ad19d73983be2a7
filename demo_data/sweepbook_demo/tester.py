"""The tester's judgement of its own readings: verdicts, worst margins, the asterisk."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sweepbook_demo.curves import PAIRS, Curve, Curves
from sweepbook_demo.limit_lines import (
    HIGHER_IS_BETTER,
    LimitSet,
    curve_parameters,
    line,
    scalar_limit,
)

Real = NDArray[np.float64]

_ACCURACY_OF = {
    "insertion_loss": "insertion_loss",
    "return_loss": "return_loss",
    "next": "next",
    "psnext": "next",
    "acr_n": "next",
    "psacr_n": "next",
    "acr_f": "fext",
    "psacr_f": "fext",
}


@dataclass(frozen=True, slots=True)
class Worst:
    """A worst margin: which curve or scalar, how much, at which kHz (None for a scalar)."""

    curve: Curve
    margin: float
    frequency_khz: int | None


@dataclass(frozen=True, slots=True)
class Item:
    """What is stated of one parameter."""

    verdict: str
    worst: Worst


@dataclass(frozen=True, slots=True)
class Statement:
    """What a tester states: the overall verdict, and one item a parameter."""

    verdict: str
    items: dict[str, Item]


def margins(limit: LimitSet, khz: NDArray[np.int64], curves: Curves) -> list[Worst]:
    """Worst margin of every curve that has a limit, over the points that decide.

    Return loss is for information where the pair's insertion loss is below 3.0 dB. Missing
    points (NaN) do not decide. A curve with no deciding point is left out. TIA judges delay at
    10 MHz, ISO/IEC at every frequency.

    Args:
        limit: the limit.
        khz: int64[n].
        curves: measured and derived curves, float64[n] each.
    """
    frequency = khz / 1000.0
    lines = {name: line(limit, name, frequency) for name in curve_parameters(limit)}
    lines["propagation_delay"] = line(limit, "propagation_delay", frequency)
    found: list[Worst] = []
    for curve, values in curves.items():
        if curve.parameter not in lines:
            continue
        gap = values - lines[curve.parameter]
        margin = gap if curve.parameter in HIGHER_IS_BETTER else -gap
        deciding = _deciding(limit, curve, khz, curves) & ~np.isnan(margin)
        if deciding.any():
            place = int(np.argmin(np.where(deciding, margin, np.inf)))
            found.append(Worst(curve, float(margin[place]), int(khz[place])))
    return found


def _deciding(
    limit: LimitSet, curve: Curve, khz: NDArray[np.int64], curves: Curves
) -> NDArray[np.bool_]:
    """Points that decide: bool[n]."""
    every = np.ones(khz.size, dtype=np.bool_)
    if curve.parameter == "return_loss":
        wire = curves.get(Curve("insertion_loss", "", curve.pairs))
        return every if wire is None else np.asarray(wire >= 3.0, dtype=np.bool_)
    if curve.parameter == "propagation_delay" and limit.family == "tia":
        return np.asarray(khz == 10_000, dtype=np.bool_)
    return every


def delay_margins_at_10_mhz(limit: LimitSet, scalars: Mapping[Curve, float]) -> list[Worst]:
    """Margins of delays in ns that were read at 10 MHz only."""
    most = float(line(limit, "propagation_delay", np.array([10.0]))[0])
    names = [Curve("propagation_delay", "", (pair,)) for pair in PAIRS]
    return [Worst(name, most - scalars[name], 10_000) for name in names]


def scalar_margins(limit: LimitSet, scalars: Mapping[Curve, float]) -> list[Worst]:
    """Margins of length (shortest pair), skew and loop resistance, where they decide."""
    found: list[Worst] = []
    for name in ("length", "delay_skew", "dc_loop_resistance"):
        most = scalar_limit(limit, name)
        if most is None:
            continue
        values = {pair: scalars[Curve(name, "", (pair,))] for pair in PAIRS}
        pick = min if name == "length" else max
        pair = pick(values, key=values.__getitem__)
        found.append(Worst(Curve(name, "", (pair,)), most - values[pair], None))
    return found


def worst_by_parameter(found: list[Worst]) -> dict[str, Worst]:
    """The smallest margin of each parameter, in order of first appearance."""
    worst: dict[str, Worst] = {}
    for entry in found:
        held = worst.get(entry.curve.parameter)
        if held is None or entry.margin < held.margin:
            worst[entry.curve.parameter] = entry
    return worst


def state(found: list[Worst], accuracy: Mapping[str, float]) -> Statement:
    """State verdicts from margins.

    Args:
        found: margins of curves and scalars.
        accuracy: accuracy in dB of insertion loss, return loss, next and fext; empty for a
            tester that does not declare it and so never prints the asterisk.
    """
    items: dict[str, Item] = {}
    for name, worst in worst_by_parameter(found).items():
        near = abs(worst.margin) < accuracy.get(_ACCURACY_OF.get(name, ""), 0.0)
        word = "pass" if worst.margin >= 0.0 else "fail"
        items[name] = Item(word + ("*" if near else ""), worst)
    return Statement(overall([item.verdict for item in items.values()]), items)


def overall(verdicts: list[str]) -> str:
    """The overall verdict: the worst of all, in the order fail, fail*, pass*, pass."""
    order = ("fail", "fail*", "pass*", "pass")
    return min(verdicts, key=order.index)
