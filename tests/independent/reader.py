"""A second reader, by record-0.md and judging-0.md alone: the worst margins of a record.

It shares nothing with the program and uses the standard library only. Where both come to the same
margins, the two texts were enough. Here each curve is one sweep, insertion loss has no end, and
single delays go by 10 MHz; `thorough.py` reads the rest.
"""

import math
from decimal import Decimal
from itertools import product
from typing import Any

from .limit import limit

Json = dict[str, Any]
Key = tuple[str, str | None, tuple[str, ...]]  # parameter, end, pairs
Curves = dict[Key, dict[float, float]]  # value by frequency
Margins = dict[Key, tuple[float, float]]  # with its frequency
PAIRS = ("1-2", "3-6", "4-5", "7-8")
OTHER_END = {"near": "far", "far": "near"}
VALUES = ("delay_ns", "length_m", "resistance_ohm")


def frequencies(grid: Json) -> list[float]:
    runs = [(Decimal(r["start"]), Decimal(r["step"]), r["count"]) for r in grid.get("runs", [])]
    expanded = [float(start + n * step) for start, step, count in runs for n in range(count)]
    return [*grid.get("frequency_mhz", expanded)]


def sweeps(results: Json) -> Curves:
    grids = {grid["id"]: frequencies(grid) for grid in results.get("grids", [])}
    curves: Curves = {}
    for s in results.get("sweeps", []):
        gaps = {n for gap in s.get("gaps", []) for n in range(gap["from"], gap["to"] + 1)}
        points = [f for n, f in enumerate(grids[s["grid"]]) if n not in gaps]
        pairs = tuple(sorted(s["pairs"]) if s["parameter"] == "next" else s["pairs"])
        values = s["value_db" if "value_db" in s else "delay_ns"]
        curves[s["parameter"], s.get("end"), pairs] = dict(zip(points, values, strict=True))
    return curves


def figures(results: Json) -> Curves:
    """Single figures, as curves of one point at 10 MHz; those in dB and unbalance are left out."""
    found = [s for s in results.get("scalars", []) if any(name in s for name in VALUES)]
    keys = [(s["parameter"], None, tuple(s["pairs"])) for s in found]
    values = [next(s[name] for name in VALUES if name in s) for s in found]
    curves: Curves = {key: {10.0: v} for key, v in zip(keys, values, strict=True)}
    delays = [curves.get(("propagation_delay", None, (k,)), {}) for k in PAIRS]
    if all(delays):
        curves = {key: curve for key, curve in curves.items() if key[0] != "delay_skew"}
    return curves | skew(delays)


def skew(delays: list[dict[float, float]]) -> Curves:
    common = [f for f in delays[0] if all(f in delay for delay in delays)]
    least = {f: min(delay[f] for delay in delays) for f in common}
    named = zip(PAIRS, delays, strict=True)
    return {("delay_skew", None, (k,)): less(delay, least) for k, delay in named if least}


def power_sum(curves: list[dict[float, float]]) -> dict[float, float]:
    common = [f for f in curves[0] if all(f in c for c in curves)]
    return {f: -10 * math.log10(sum(10 ** (-c[f] / 10) for c in curves)) for f in common}


def less(a: dict[float, float], b: dict[float, float]) -> dict[float, float]:
    return {f: a[f] - b[f] for f in a if f in b}


def derive(raw: Curves) -> Curves:
    """The measured curves, and the derived ones: computed where that is possible, else exported."""

    def get(name: str, end: str | None, *pairs: str) -> dict[float, float]:
        return raw.get((name, end, pairs), {})

    out = dict(raw)
    for end, k in product(OTHER_END, PAIRS):
        loss, others = get("insertion_loss", None, k), [i for i in PAIRS if i != k]
        near = [get("next", end, *sorted((i, k))) for i in others]
        far = [get("fext", end, i, k) or get("fext", OTHER_END[end], k, i) for i in others]
        made = {("psnext", k): power_sum(near)} | {
            (name, i, k): less(crosstalk, loss)
            for name, curves in (("acr_n", near), ("acr_f", far))
            for i, crosstalk in zip(others, curves, strict=True)
        }
        made["psacr_n", k] = less(made["psnext", k], loss)
        made["psacr_f", k] = less(power_sum(far), loss)
        for (name, *pairs), curve in made.items():
            out[name, end, tuple(pairs)] = get(name, end, *pairs) | curve
    return out | skew([get("propagation_delay", None, k) for k in PAIRS])


def margins(record: Json, table: Json) -> tuple[Margins, Margins]:
    """The worst margins of the sweeps and of the single figures, each with its frequency."""
    results = record["results"]
    return worst(derive(sweeps(results)), table, results), worst(figures(results), table, results)


def worst(curves: Curves, table: Json, results: Json) -> Margins:
    """Of each curve that has a limit; of lengths, the shortest alone."""
    digits = [
        s["decimals"] for s in results.get("sweeps", []) if s["parameter"] == "insertion_loss"
    ]
    half_digit = 10.0 ** -max(digits, default=0) / 2
    found = {}
    for name, rule in table["parameters"].items():
        judged = [key for key in curves if key[0] == name and curves[key]]
        if rule["decides"] == "shortest-pair":
            judged = sorted(judged, key=lambda key: min(curves[key].values()))[:1]
        sign = 1 if rule["sense"] == "min" else -1
        for key in judged:
            loss = curves.get(("insertion_loss", None, key[2]), {}) if name == "return_loss" else {}
            counting = [f for f in curves[key] if loss.get(f, math.inf) + half_digit >= 3.0]
            every = [(sign * (curves[key][f] - limit(table, name, f)), f) for f in counting]
            if known := [margin for margin in every if not math.isnan(margin[0])]:
                found[key] = min(known)
    return found
