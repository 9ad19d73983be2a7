"""Rules about figures that can be computed again: derived curves and figures, lengths."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any, NamedTuple

import numpy as np

from sweepbook.judging.digits import half_digit
from sweepbook.judging.phrases import name
from sweepbook.judging.physics import LIGHT_M_PER_NS
from sweepbook.judging.working import Disagreement
from sweepbook.rules.case import Case
from sweepbook.rules.model import Hit
from sweepbook.rules.words import where


def derived_curves_follow(case: Case) -> Iterator[Hit]:
    """Yield every exported derived curve that follows from no definition of it.

    ACR-N that the record has in one order of two pairs only may be the worse of both orders.
    """
    for found in case.needed_working.disagreements:
        if found.at_mhz is not None and not found.cause:
            shared = _curve_arguments(found)
            as_what = " as the worse of both orders of the pairs" if found.of_both else ""
            yield Hit(found.path, {**shared, "as_what": as_what, "points": found.points})


def acr_f_by_disturbed_pair(case: Case) -> Iterator[Hit]:
    """Yield, once a parameter, the exported ones made with the disturbing pair's insertion loss."""
    groups: dict[str, list[Disagreement]] = {}
    for found in case.needed_working.disagreements:
        if found.at_mhz is not None and found.cause:
            groups.setdefault(found.key.parameter, []).append(found)
    for group in groups.values():
        widest = max(group, key=lambda found: abs(found.exported - found.recomputed))
        yield Hit(widest.path, {**_curve_arguments(widest), "curves": len(group)})


def derived_figures_follow(case: Case) -> Iterator[Hit]:
    """Yield every exported derived single figure, such as the skew, that does not follow."""
    for found in case.needed_working.disagreements:
        if found.at_mhz is None:
            yield Hit(
                found.path,
                {
                    "parameter": name(found.key.parameter),
                    "exported": found.exported,
                    "recomputed": found.recomputed,
                    "unit": found.unit,
                },
            )


class Delay(NamedTuple):
    """The delay of a pair: one figure, or what it is over frequency.

    Attributes:
        least_ns, most_ns: the same for one figure.
        half_ns: half a last digit.
    """

    least_ns: float
    most_ns: float
    half_ns: float


def length_is_of_delay(case: Case, allowance_percent: float, from_mhz: float) -> Iterator[Hit]:
    """Yield once lengths that are not the delay times the NVP and the speed of light.

    Length [m] = delay [ns] * NVP * 0.299792458 m/ns, by the definition of the NVP. Half a last
    digit of each figure is allowed for, and beyond it `allowance_percent`. Where the delay is a
    curve, any of its points may be the one that the length was made of.

    Args:
        case: the record, judged.
        allowance_percent: what the delay may differ by because the frequency is not stated.
        from_mhz: points of a curve that count.
    """
    cable = case.document["link"].get("cable", {})
    if "nvp" not in cable:
        return
    nvp, nvp_half = cable["nvp"], 0.5 * 10.0 ** -cable.get("nvp_decimals", 2)
    scalars = case.document["results"].get("scalars", [])
    lengths = [(at, of) for at, of in enumerate(scalars) if of["parameter"] == "length"]
    delays = _delays(scalars)
    if any(_delay_of(length, delays) is None for _, length in lengths):
        delays = {**_swept_delays(case, from_mhz), **delays}
    found: list[Hit] = []
    for position, length in lengths:
        delay = _delay_of(length, delays)
        if delay is None or not delay.least_ns > 0.0:
            continue
        length_m = length["length_m"]
        delay_ns = min(max(length_m / (nvp * LIGHT_M_PER_NS), delay.least_ns), delay.most_ns)
        expected = delay_ns * nvp * LIGHT_M_PER_NS
        relative = delay.half_ns / delay_ns + nvp_half / nvp
        slack = expected * (relative + allowance_percent / 100) + half_digit(length)
        if not abs(length_m - expected) <= slack:
            said = {"length_m": length_m, "delay_ns": delay_ns, "nvp": nvp, "expected_m": expected}
            found.append(Hit(f"$.results.scalars[{position}]", {"what": _called(length), **said}))
    if found:
        more = len(found) - 1
        what = f"{found[0].arguments['what']}{f' (and {more} more)' if more else ''}"
        yield Hit(found[0].path, {**found[0].arguments, "what": what})


def _delays(scalars: Sequence[dict[str, Any]]) -> dict[tuple[str, ...], Delay]:
    """Delays that are single figures, by their pair; () for one of the link."""
    return {
        tuple(of.get("pairs", ())): Delay(of["delay_ns"], of["delay_ns"], half_digit(of))
        for of in scalars
        if of["parameter"] == "propagation_delay"
    }


def _swept_delays(case: Case, from_mhz: float) -> dict[tuple[str, ...], Delay]:
    """Delays that are curves, by their pair, those known at all points from both sides."""
    curves = case.needed_working.measured_curves.get("propagation_delay")
    if curves is None:
        return {}
    high = curves.value[:, curves.frequency_mhz >= from_mhz]
    return {
        key.pairs: Delay(float(np.nanmin(values)), float(np.nanmax(values)), float(width) / 2.0)
        for key, values, width in zip(curves.keys, high, curves.width, strict=True)
        if np.isfinite(width) and np.isfinite(values).any()
    }


def _delay_of(length: dict[str, Any], delays: Mapping[tuple[str, ...], Delay]) -> Delay | None:
    """The delay of the same pair; for a length of the link the shortest one, None without any."""
    if pairs := length.get("pairs"):
        return delays.get(tuple(pairs))
    return min(delays.values(), key=lambda delay: delay.least_ns, default=None)


def _curve_arguments(found: Disagreement) -> dict[str, Any]:
    return {
        "parameter": name(found.key.parameter),
        "where": where(found.key.end, found.key.pairs),
        "frequency_mhz": found.at_mhz,
        "exported": found.exported,
        "recomputed": found.recomputed,
        "unit": found.unit,
    }


def _called(scalar: dict[str, Any]) -> str:
    pairs = scalar.get("pairs")
    return f"pair {pairs[0]}" if pairs else "the link, by its shortest pair"
