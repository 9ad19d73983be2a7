"""Rules about figures that can be computed again: derived curves and figures, lengths."""

from collections.abc import Iterator
from typing import Any

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


def length_is_of_delay(case: Case, allowance_percent: float) -> Iterator[Hit]:
    """Yield every pair whose length is not its delay times the NVP and the speed of light.

    Length [m] = delay [ns] * NVP * 0.299792458 m/ns, by the definition of the NVP. Half a last
    digit of each figure is allowed for, and beyond it `allowance_percent`.

    Args:
        case: the record, judged.
        allowance_percent: what the delay may differ by because the frequency is not stated.
    """
    cable = case.document["link"].get("cable", {})
    if "nvp" not in cable:
        return
    nvp, nvp_half = cable["nvp"], 0.5 * 10.0 ** -cable.get("nvp_decimals", 2)
    scalars = case.document["results"].get("scalars", [])
    delays = [scalar for scalar in scalars if scalar["parameter"] == "propagation_delay"]
    for position, length in enumerate(scalars):
        delay = _delay_of(length, delays) if length["parameter"] == "length" else None
        if delay is None or not delay["delay_ns"]:
            continue
        expected = delay["delay_ns"] * nvp * LIGHT_M_PER_NS
        relative = _half_digit(delay) / delay["delay_ns"] + nvp_half / nvp
        slack = expected * (relative + allowance_percent / 100) + _half_digit(length)
        if not abs(length["length_m"] - expected) <= slack:
            yield Hit(
                f"$.results.scalars[{position}]",
                {
                    "what": _called(length),
                    "length_m": length["length_m"],
                    "delay_ns": delay["delay_ns"],
                    "nvp": nvp,
                    "expected_m": expected,
                },
            )


def _delay_of(length: dict[str, Any], delays: list[dict[str, Any]]) -> dict[str, Any] | None:
    """The delay of the same pair; for a length of the link the shortest one, None without any."""
    if length.get("pairs"):
        delays = [delay for delay in delays if delay.get("pairs") == length["pairs"]]
    return min(delays, key=lambda delay: delay["delay_ns"], default=None)


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


def _half_digit(scalar: dict[str, Any]) -> float:
    """Half of what the last digit stands for, in the unit of the figure."""
    return float(scalar.get("resolution", 10.0 ** -scalar["decimals"])) / 2
