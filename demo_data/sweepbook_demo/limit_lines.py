"""The limits the testers judge by, written out as plain functions of frequency in MHz.

Category 6A of TIA-568.2-D and Class EA of ISO/IEC 11801-1:2017, channel and permanent link
without consolidation point, and the Category 6 permanent link of TIA-568.2-D. The near-end cable
and connector terms (44.3 and 54 dB, 42.3 and 50 dB at 100 MHz) are shown in public texts;
everything else is recalled, not looked up in a standard. Nothing in the line model reads
this module.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Real = NDArray[np.float64]

HIGHER_IS_BETTER = frozenset(
    {"return_loss", "next", "psnext", "acr_n", "psacr_n", "acr_f", "psacr_f"}
)


@dataclass(frozen=True, slots=True)
class LimitSet:
    """One limit: family "tia" or "iso", configuration "channel" or "permanent-link".

    Category "6A" (Class EA), or "6" for the TIA permanent link.
    """

    family: str
    configuration: str
    category: str = "6A"

    @property
    def is_channel(self) -> bool:
        """Whether cords belong to what is judged."""
        return self.configuration == "channel"

    @property
    def top_khz(self) -> int:
        """The highest frequency that is judged."""
        return 250_000 if self.category == "6" else 500_000


def curve_parameters(limit: LimitSet) -> tuple[str, ...]:
    """Swept parameters that decide, in the order a sheet lists them."""
    near = ("acr_n", "psacr_n") if limit.family == "iso" else ()
    return ("insertion_loss", "return_loss", "next", "psnext", *near, "acr_f", "psacr_f")


def line(limit: LimitSet, parameter: str, f: Real) -> Real:
    """Limit in dB (propagation delay in ns) at float64[n] MHz.

    Raises:
        KeyError: the parameter has no line here.
    """
    return {
        "insertion_loss": _insertion_loss,
        "return_loss": _return_loss,
        "next": _next,
        "psnext": _psnext,
        "acr_n": lambda lim, x: _next(lim, x) - _insertion_loss(lim, x),
        "psacr_n": lambda lim, x: _psnext(lim, x) - _insertion_loss(lim, x),
        "acr_f": lambda lim, x: _far(lim, x, 27.8, 43.1, 65.0),
        "psacr_f": lambda lim, x: _far(lim, x, 24.8, 40.1, 62.0),
        "propagation_delay": _delay,
    }[parameter](limit, f)


def scalar_limit(limit: LimitSet, parameter: str) -> float | None:
    """Largest length in m (TIA, with 10 % for the NVP), skew in ns, loop resistance in ohm (ISO).

    None where the family does not let the parameter decide.
    """
    tia = limit.family == "tia"
    table = {
        "length": (110.0, 99.0) if tia else None,
        "delay_skew": (50.0, 44.0),
        "dc_loop_resistance": None if tia else (25.0, 21.0),
    }
    both = table[parameter]
    return None if both is None else both[0 if limit.is_channel else 1]


def _insertion_loss(limit: LimitSet, f: Real) -> Real:
    cable, connectors = (1.05, 4.0) if limit.is_channel else (0.9, 3.0)
    root = np.sqrt(f)
    skin, leak, low = (1.808, 0.017, 0.2) if limit.category == "6" else (1.82, 0.0091, 0.25)
    loss = cable * (skin * root + leak * f + low / root) + connectors * 0.02 * root
    if limit.family == "iso":
        return np.asarray(np.maximum(loss, 4.0), dtype=np.float64)
    deviation = 0.0 if limit.is_channel else 0.00015 * f**1.5
    return np.asarray(loss + deviation, dtype=np.float64)


def _return_loss(limit: LimitSet, f: Real) -> Real:
    shift = 0.0 if limit.is_channel else 2.0
    lg = np.log10(f)
    loss = np.select([f < 10.0, f < 40.0, f < 398.1], [19.0 + 0.0 * f, 24.0 - 5.0 * lg,
                     32.0 - 10.0 * lg], 6.0) + shift  # fmt: skip
    if limit.family == "tia" and not limit.is_channel:
        loss = np.where(f < 3.0, 21.0 + 4.0 * np.log10(f / 3.0), loss)
    return np.asarray(loss, dtype=np.float64)


def _voltage_sum(f: Real, cable: float, cable_slope: float, jack: float, jacks: float) -> Real:
    lg = np.log10(f / 100.0)
    total = 10.0 ** (-(cable - cable_slope * lg) / 20.0)
    total = total + jacks * 10.0 ** (-(jack - 20.0 * lg) / 20.0)
    return np.asarray(-20.0 * np.log10(total), dtype=np.float64)


def _next(limit: LimitSet, f: Real) -> Real:
    loss = np.minimum(_voltage_sum(f, 44.3, 15.0, 54.0, 2.0 if limit.is_channel else 1.0), 65.0)
    if limit.family == "tia" and limit.is_channel:
        loss = np.where(f >= 330.0, 31.0 - 27.15 * np.log10(f / 330.0), loss)
    if limit.family == "tia" and not limit.is_channel:
        loss = np.where(f >= 300.0, 34.0 - 33.13 * np.log10(f / 300.0), loss)
    if limit.family == "iso" and not limit.is_channel:
        loss = np.where(f >= 300.0, 87.46 - 21.57 * np.log10(f), loss)
    return np.asarray(loss, dtype=np.float64)


def _psnext(limit: LimitSet, f: Real) -> Real:
    loss = np.minimum(_voltage_sum(f, 42.3, 15.0, 50.0, 2.0 if limit.is_channel else 1.0), 62.0)
    if limit.family == "tia" and limit.is_channel:
        loss = np.where(f >= 330.0, 28.0 - 26.6 * np.log10(f / 330.0), loss)
    if limit.family == "tia" and not limit.is_channel:
        loss = np.where(f >= 300.0, 31.4 - 34.44 * np.log10(f / 300.0), loss)
    if limit.family == "iso" and not limit.is_channel:
        loss = np.where(f >= 300.0, 87.56 - 22.67 * np.log10(f), loss)
    return np.asarray(loss, dtype=np.float64)


def _far(limit: LimitSet, f: Real, cable: float, jack: float, cap: float) -> Real:
    loss = _voltage_sum(f, cable, 20.0, jack, 4.0 if limit.is_channel else 3.0)
    return np.asarray(np.minimum(loss, cap) if limit.family == "iso" else loss, dtype=np.float64)


def _delay(limit: LimitSet, f: Real) -> Real:
    share, connectors = (1.0, 4.0) if limit.is_channel else (0.9, 3.0)
    delay = share * (534.0 + 36.0 / np.sqrt(f)) + connectors * 2.5
    # TIA prints whole nanoseconds, cut off; ISO/IEC rounds to a thousandth of a microsecond.
    whole = np.floor(delay) if limit.family == "tia" else np.round(delay)
    return np.asarray(whole, dtype=np.float64)
