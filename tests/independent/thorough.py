"""A third reader, of more: runs of frequencies, values repeated, clipped or measured at either end.

Written from record-1.md and judging-0.md; the standard library only. Not read: complex values,
unbalance, what a verdict needs.
"""

import math
from collections.abc import Iterable
from decimal import Decimal
from itertools import product
from typing import Any

from .limit import limit

PAIRS = ("1-2", "3-6", "4-5", "7-8")
OTHER_END = {"near": "far", "far": "near"}
Json = dict[str, Any]
Curve = dict[float, float]  # value by frequency
Curves = dict[tuple[str, str | None, tuple[str, ...]], Curve]  # by parameter, end, pairs
Margins = dict[tuple[str, str | None, tuple[str, ...]], tuple[float, float]]  # with frequency
LESS_IS_BETTER = {"insertion_loss", "propagation_delay", "delay_skew"}
FIGURES = {
    "propagation_delay": "delay_ns",
    "delay_skew": "delay_ns",
    "length": "length_m",
    "dc_loop_resistance": "resistance_ohm",
}


def frequencies(grid: Json) -> list[float]:
    """A list, or runs of decimal texts expanded exactly (record 7.3)."""
    runs = [(Decimal(r["start"]), Decimal(r["step"]), r["count"]) for r in grid.get("runs", [])]
    expanded = [float(start + n * step) for start, step, count in runs for n in range(count)]
    return [*grid.get("frequency_mhz", expanded)]


def power_sum(curves: list[Curve]) -> Curve:
    """At the frequencies that all have (record 11)."""
    common = [f for f in curves[0] if all(f in c for c in curves)]
    return {f: -10 * math.log10(sum(10 ** (-c[f] / 10) for c in curves)) for f in common}


def less(a: Curve, b: Curve) -> Curve:
    """The difference at the frequencies that both have."""
    return {f: a[f] - b[f] for f in a if f in b}


def positions(runs: Iterable[Json]) -> set[int]:
    """The positions that gaps or bounds cover (record 7.5)."""
    return {n for run in runs for n in range(run["from"], run["to"] + 1)}


def sweeps(results: Json) -> tuple[Curves, Curves]:
    """All curves as they stand, and the highest that each value may be (record 7, judging 3)."""
    grids = {grid["id"]: frequencies(grid) for grid in results.get("grids", [])}
    values: Curves = {}
    highs: Curves = {}
    for s in results.get("sweeps", []):
        name, gaps = s["parameter"], positions(s.get("gaps", []))
        clipped = positions(b for b in s.get("bounds", []) if b["bound"] == "at_least")
        half = s.get("resolution", 10.0 ** -s["decimals"]) / 2
        key = name, s.get("end"), tuple(sorted(s["pairs"]) if name == "next" else s["pairs"])
        value, high = values.setdefault(key, {}), highs.setdefault(key, {})
        worse = max if name in LESS_IS_BETTER else min
        points = [(n, f) for n, f in enumerate(grids[s["grid"]]) if n not in gaps]
        for (n, f), v in zip(points, s["value_db" if "value_db" in s else "delay_ns"], strict=True):
            value[f] = worse(v, value.get(f, v))
            high[f] = max(math.inf if n in clipped else v + half, high.get(f, -math.inf))
    return values, highs


def figures(results: Json) -> Curves:
    """Single figures as curves of one point, at 10 MHz where none is named (judging 8)."""
    values: Curves = {}
    delays: dict[float | None, dict[str, float]] = {}
    for s in results.get("scalars", []):
        if (name := s["parameter"]) in FIGURES:
            f, value = s.get("frequency_mhz"), s[FIGURES[name]]
            values.setdefault((name, None, tuple(s["pairs"])), {})[10.0 if f is None else f] = value
            if name == "propagation_delay":
                delays.setdefault(f, {}).update(dict.fromkeys(s["pairs"], value))
    whole = {f: delay for f, delay in delays.items() if len(delay) == len(PAIRS)}
    if whole:
        values = {key: curve for key, curve in values.items() if key[0] != "delay_skew"}
    for (f, delay), k in product(whole.items(), PAIRS):
        skew = values.setdefault(("delay_skew", None, (k,)), {})
        skew[10.0 if f is None else f] = delay[k] - min(delay.values())
    return values


def insertion_loss(raw: Curves, end: str, pair: str) -> Curve:
    """The one of the end, else the one without end, else that of the other end (record 9)."""
    ends = (end, None, OTHER_END[end])
    return next((c for e in ends if (c := raw.get(("insertion_loss", e, (pair,))))), {})


def derive(raw: Curves) -> Curves:
    """All curves: the computed value where there is one, else the exported (record 9 and 11)."""

    def get(name: str, end: str | None, *pairs: str) -> Curve:
        return raw.get((name, end, pairs), {})

    out = dict(raw)
    for end, k in product(OTHER_END, PAIRS):
        loss, others = insertion_loss(raw, end, k), [i for i in PAIRS if i != k]
        near = [get("next", end, *sorted((i, k))) for i in others]
        far = [get("fext", end, i, k) or get("fext", OTHER_END[end], k, i) for i in others]
        psnext = get("psnext", end, k) | power_sum(near)
        psfext = get("psfext", end, k) | power_sum(far)
        exported = power_sum([get("acr_f", end, i, k) for i in others])
        out["psnext", end, (k,)] = psnext
        out["psacr_n", end, (k,)] = get("psacr_n", end, k) | less(psnext, loss)
        out["psacr_f", end, (k,)] = get("psacr_f", end, k) | (less(psfext, loss) or exported)
        for i, near_i, far_i in zip(others, near, far, strict=True):
            out["acr_n", end, (i, k)] = get("acr_n", end, i, k) | less(near_i, loss)
            out["acr_f", end, (i, k)] = get("acr_f", end, i, k) | less(far_i, loss)
    delays = [get("propagation_delay", None, k) for k in PAIRS]
    fastest = {f: min(d[f] for d in delays) for f in delays[0] if all(f in d for d in delays)}
    for k, delay in zip(PAIRS, delays, strict=True):
        out["delay_skew", None, (k,)] = get("delay_skew", None, k) | less(delay, fastest)
    return out


def worst(curves: Curves, highs: Curves, table: Json) -> Margins:
    """The worst margin of each curve or figure that has a limit (judging 4, 5 and 8)."""
    every = {f for curve in curves.values() for f in curve}
    found: Margins = {}
    for name, rule in table["parameters"].items():
        if not (judged := [key for key in curves if key[0] == name]):
            continue
        if rule["decides"] == "shortest-pair":
            judged = [min(judged, key=lambda key: min(curves[key].values()))]
        sign = 1 if rule["sense"] == "min" else -1
        # A contract moves the limit before the allowance of a length (judging 2).
        tighter = rule.get("tightened", {"by": 0.0})["by"]
        moved = sign * tighter * (1 + rule.get("allowance_percent", 0) / 100)
        limits = {f: limit(table, name, f) + moved for f in every}
        for key in judged:
            _, end, pairs = key
            of_pair = insertion_loss(highs, end, pairs[0]) if end and name == "return_loss" else {}
            counting = [f for f in curves[key] if of_pair.get(f, math.inf) >= 3.0]
            points = [(sign * (curves[key][f] - limits[f]), f) for f in counting]
            if points := [point for point in points if not math.isnan(point[0])]:
                found[key] = min(points)
    return found


def margins(record: Json, table: Json) -> tuple[Margins, Margins]:
    """Of the sweeps and of the single figures."""
    values, highs = sweeps(record["results"])
    return worst(derive(values), highs, table), worst(figures(record["results"]), {}, table)
