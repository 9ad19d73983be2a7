"""A made-up link of 62 m with every sweep a full proof needs, smooth and far from any limit."""

import copy
from functools import cache
from itertools import combinations, permutations
from typing import Any

import numpy as np
from numpy.typing import NDArray

F64 = NDArray[np.float64]
PAIRS = ("1-2", "3-6", "4-5", "7-8")
ENDS = ("near", "far")
LENGTH_M = 62.0
DELAYS_NS = {"1-2": 301, "3-6": 304, "4-5": 302, "7-8": 306}
NVP = 0.685


@cache
def grid() -> F64:
    """1 to 500 MHz by 0.15, 0.25, 0.5 and 1 MHz, as field tests step: common practice."""
    parts = [
        1.0 + 0.15 * np.arange(202),
        31.25 + 0.25 * np.arange(275),
        100.0 + 0.5 * np.arange(300),
        250.0 + np.arange(251.0),
    ]
    return np.asarray(np.round(np.concatenate(parts), 2), dtype=np.float64)


def clean(length_m: float = LENGTH_M) -> dict[str, Any]:
    """Members of a record of a good link: link, test, results, stated; number lists as lists."""
    return copy.deepcopy(_clean(length_m))


@cache
def _clean(length_m: float) -> dict[str, Any]:
    return {
        "link": _link(),
        "test": _test(),
        "results": {
            "wire_map": {"pins": [[str(pin), str(pin)] for pin in range(1, 9)], "screen": "none"},
            "scalars": _scalars(length_m),
            "grids": [{"id": "g", "frequency_mhz": grid().tolist()}],
            "sweeps": _sweeps(length_m),
        },
        "stated": {"overall": {"verdict": "pass", "as_stated": "PASS"}},
    }


def _link() -> dict[str, Any]:
    return {
        "label": "1A-P1-03",
        "near": {"place": {"site": "Thornquay Library"}, "termination": "K1-P1-03"},
        "far": {"termination": "RR-03"},
        "cable": {"construction": "U/UTP", "nvp": NVP, "nvp_decimals": 3},
    }


def _test() -> dict[str, Any]:
    def end(serial: str) -> dict[str, Any]:
        dates = {"calibrated_on": "2025-09-15", "calibration_due": "2026-09-15"}
        return {"instrument": {"serial": serial, **dates}}

    return {
        "purpose": "initial",
        "limit": {"as_stated": "TIA-568.2-D Category 6A Permanent Link"},
        "configuration": {"kind": "permanent-link"},
        "started": time("2026-03-04T09:12:40+00:00"),
        "near": end("BH5-00412"),
        "far": end("BH5-00413"),
        "field_reference": {"performed": time("2026-03-04T08:20:00+00:00")},
    }


def time(text: str) -> dict[str, str]:
    """A time as a record has it."""
    return {"as_stated": text, "rfc3339": text, "zone_source": "stated"}


def _scalars(length_m: float) -> list[dict[str, Any]]:
    """Those of 62 m, or as many times more or less."""
    share = length_m / LENGTH_M

    def one(parameter: str, pair: str, name: str, value: float, decimals: int) -> dict[str, Any]:
        return {"parameter": parameter, "pairs": [pair], name: value, "decimals": decimals}

    delays = {pair: round(delay * share) for pair, delay in DELAYS_NS.items()}
    shortest = min(delays.values())
    scalars = []
    for row, pair in enumerate(PAIRS):
        delay = delays[pair]
        length = round(delay * NVP * 0.299792458, 1)
        ohm = round((8.91 + 0.04 * row) * share, 2)
        scalars += [
            one("length", pair, "length_m", length, 1),
            one("propagation_delay", pair, "delay_ns", delay, 0),
            one("delay_skew", pair, "delay_ns", delay - shortest, 0),
            one("dc_loop_resistance", pair, "resistance_ohm", ohm, 2),
        ]
    return scalars


def _sweeps(length_m: float) -> list[dict[str, Any]]:
    """IL as a + b of the cable formula's shape, the rest as straight lines over lg f, rippled."""
    f = grid()
    lines = {
        pair: (length_m / 100) * (1.0 + 0.02 * row) * (1.8 * np.sqrt(f) + 0.009 * f)
        for row, pair in enumerate(PAIRS)
    }
    sweeps = [_sweep("insertion_loss", None, (pair,), lines[pair]) for pair in PAIRS]
    falling = 20 * np.log10(f)
    for end in ENDS:
        for row, pair in enumerate(PAIRS):
            level = 40.0 + 0.3 * row - 0.45 * falling
            sweeps.append(_sweep("return_loss", end, (pair,), level))
        for row, two in enumerate(combinations(PAIRS, 2)):
            sweeps.append(_sweep("next", end, two, 95.0 + 0.4 * row - falling))
    for row, (disturbing, disturbed) in enumerate(permutations(PAIRS, 2)):
        level = 75.0 + 0.2 * row - falling + lines[disturbed]
        sweeps.append(_sweep("fext", "far", (disturbing, disturbed), level))
    for number, sweep in enumerate(sweeps):  # no two measurements are the same
        ripple = 0.4 * np.sin((1.0 + 0.01 * number) * f[300:700])
        rough = ripple if sweep["parameter"] in ("return_loss", "next") else 0.0
        middle = np.round(np.asarray(sweep["value_db"][300:700]) + 0.01 * number + rough, 2)
        sweep["value_db"][300:700] = middle.tolist()
    return sweeps


def _sweep(
    parameter: str, end: str | None, pairs: tuple[str, ...], value_db: F64
) -> dict[str, Any]:
    where = {} if end is None else {"end": end}
    values = np.round(value_db, 2).tolist()
    body = {"pairs": list(pairs), "grid": "g", "decimals": 2, "value_db": values}
    return {"parameter": parameter, **where, **body}
