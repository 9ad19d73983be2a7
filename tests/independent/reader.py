"""Recomputes every margin of a certification record: read it beside record-1.md and judging-0.md.

Left out: grids of runs, complex values, several sweeps of a curve or figures of one kind and pair,
figures with a frequency, insertion loss with an end, PSACR-F from exported ACR-F (judging-0.md, 3),
readings that are off (4), and all that rests on intervals (outcomes, completeness, judgement).
"""

import math
from collections import defaultdict
from itertools import product
from typing import Any

from .limit import limit

Curve = dict[float, float]  # frequency in MHz -> value
Key = tuple[str, str | None, tuple[str, ...]]  # parameter, end, pairs
Curves = defaultdict[Key, Curve]  # a curve that is not there is empty
Margins = dict[Key, tuple[float, float]]  # the worst margin and its frequency

PAIRS = ("1-2", "3-6", "4-5", "7-8")
OTHER_END = {"near": "far", "far": "near"}
CROSSTALK = (("next", "psnext", "acr_n", "psacr_n"), ("fext", "psfext", "acr_f", "psacr_f"))
UNITS = ("delay_ns", "length_m", "resistance_ohm", "unbalance_percent")  # of single figures


def key_of(item: dict[str, Any]) -> Key:
    """What a sweep or a single figure is of (record-1.md, 7.2 and 7.4)."""
    return item["parameter"], item.get("end"), tuple(item["pairs"])


def read_sweeps(record: dict[str, Any]) -> Curves:
    """The curves as they stand: a value for each position in no gap (record-1.md, 7.3 to 7.5)."""
    curves: Curves = defaultdict(dict)
    grids = {g["id"]: list(enumerate(g["frequency_mhz"])) for g in record["results"]["grids"]}
    for sweep in record["results"]["sweeps"]:
        gaps = {n for gap in sweep.get("gaps", []) for n in range(gap["from"], gap["to"] + 1)}
        values = iter(sweep["value_db"] if "value_db" in sweep else sweep["delay_ns"])
        curves[key_of(sweep)] = {f: next(values) for n, f in grids[sweep["grid"]] if n not in gaps}
    return curves


def read_figures(record: dict[str, Any]) -> Curves:
    """Single figures, as curves of one point at 10 MHz; none in dB (judging-0.md, 8)."""
    units = [(s, unit) for s, unit in product(record["results"]["scalars"], UNITS) if unit in s]
    return defaultdict(dict, {key_of(scalar): {10.0: scalar[unit]} for scalar, unit in units})


def crosstalk(curves: Curves, parameter: str, end: str, i: str, k: str) -> Curve:
    """NEXT or FEXT from i to k, else the reciprocal curve, which is the same (record-1.md, 9)."""
    reciprocal_end = end if parameter == "next" else OTHER_END[end]
    return curves[parameter, end, (i, k)] or curves[parameter, reciprocal_end, (k, i)]


def together(curves: list[Curve]) -> list[tuple[float, list[float]]]:
    """Each frequency that all the curves have, and their values there (record-1.md, 11)."""
    return [(f, [c[f] for c in curves]) for f in curves[0] if all(f in c for c in curves)]


def minus(curve: Curve, loss: Curve) -> Curve:
    """The curve less the insertion loss (record-1.md, 11)."""
    return {f: value - loss_there for f, (value, loss_there) in together([curve, loss])}


def power_sum(curves: list[Curve]) -> Curve:
    """The power sum of losses (record-1.md, 11)."""
    return {f: -10 * math.log10(sum(10 ** (-v / 10) for v in vs)) for f, vs in together(curves)}


def derive(curves: Curves) -> Curves:
    """Adds what is computed, which goes before what was exported (record-1.md, 11)."""
    for (raw, total, ratio, total_ratio), end, k in product(CROSSTALK, OTHER_END, PAIRS):
        loss = curves["insertion_loss", None, (k,)]  # of the disturbed pair, k
        disturbers = {i: crosstalk(curves, raw, end, i, k) for i in PAIRS if i != k}
        for i, curve in disturbers.items():
            curves[ratio, end, (i, k)] |= minus(curve, loss)
        curves[total, end, (k,)] |= power_sum(list(disturbers.values()))
        curves[total_ratio, end, (k,)] |= minus(curves[total, end, (k,)], loss)
    for f, delays in together([curves["propagation_delay", None, (k,)] for k in PAIRS]):
        for k, delay in zip(PAIRS, delays, strict=True):
            curves["delay_skew", None, (k,)][f] = delay - min(delays)
    return curves


def leave_out(curves: Curves, figures: Curves, table: dict[str, Any]) -> None:
    """Return loss for information only (judging-0.md, 4), and lengths but the shortest (8)."""
    for end, k in product(OTHER_END, PAIRS):
        loss, key = curves["insertion_loss", None, (k,)], ("return_loss", end, (k,))
        curves[key] = {f: value for f, value in curves[key].items() if loss.get(f, 3.0) >= 3.0}
    if table["parameters"]["length"]["decides"] == "shortest-pair":
        lengths = [key for key in figures if key[0] == "length"]
        for longer in sorted(lengths, key=lambda key: figures[key][10.0])[1:]:
            del figures[longer]


def margins_of(parameter: str, curve: Curve, table: dict[str, Any]) -> list[tuple[float, float]]:
    """The margin at each point that has a limit, and its frequency (judging-0.md, 5)."""
    sign = 1 if table["parameters"].get(parameter, {}).get("sense") == "min" else -1
    points = [(sign * (value - limit(table, parameter, f)), f) for f, value in curve.items()]
    return [point for point in points if not math.isnan(point[0])]


def worst_margins(curves: Curves, table: dict[str, Any]) -> Margins:
    """The smallest margin of each curve, of equals at the lowest frequency (judging-0.md, 5)."""
    points = {key: margins_of(key[0], curve, table) for key, curve in curves.items()}
    return {key: min(counting) for key, counting in points.items() if counting}


def margins(record: dict[str, Any], table: dict[str, Any]) -> tuple[Margins, Margins]:
    """The worst margin of every curve, and the margin of every single figure."""
    curves, figures = derive(read_sweeps(record)), derive(read_figures(record))
    leave_out(curves, figures, table)
    return worst_margins(curves, table), worst_margins(figures, table)
