"""How far off a printed figure may be."""

from collections.abc import Mapping
from typing import Any


def half_digit(figure: Mapping[str, Any]) -> float:
    """Half the last digit of a sweep or figure, in its unit: how far off the value may be."""
    if "resolution" in figure:
        return float(figure["resolution"]) / 2.0
    return 0.5 * 10.0 ** -int(figure["decimals"])


def opened(low: float, high: float, bound: str | None) -> tuple[float, float]:
    """The interval of a single figure that may be clipped: at_least or at_most."""
    if bound == "at_least":
        return low, float("inf")
    if bound == "at_most":
        return float("-inf"), high
    return low, high
