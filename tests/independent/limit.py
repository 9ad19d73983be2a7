"""The limit at a frequency, by judging-0.md 2 alone; the standard library only."""

import math
from typing import Any

Json = dict[str, Any]


def limit(table: Json, name: str, f: float, finished: bool = True) -> float:
    """The limit at a frequency, NaN where there is none to be used.

    A part of a difference is not `finished`: it is neither rounded nor tightened.
    """
    rule = table["parameters"][name]
    segments = rule["segments"]
    for end in (segments[0].get("from_mhz", f), segments[-1].get("to_mhz", f)):
        f = end if abs(f - end) <= 1e-6 else f
    here = [s for s in segments if s.get("from_mhz", f) <= f <= s.get("to_mhz", f)]
    if not here or (here[-1]["grade"] == "C" and "interval" not in here[-1]):
        return math.nan
    value = min(formula(table, here[-1]["shape"], f), rule.get("cap", math.inf))
    value = max(value, rule.get("floor", -math.inf))
    if finished and "rounding" in rule:
        unit = 10.0 ** rule["rounding"]["decimals"]
        half = 0.5 if rule["rounding"]["mode"] == "nearest" else 0
        value = math.floor(value * unit + half + 1e-9) / unit
    if finished and "tightened" in rule:
        value += rule["tightened"]["by"] * (1 if rule["sense"] == "min" else -1)
    return float(value * (1 + rule.get("allowance_percent", 0) / 100))


def formula(table: Json, shape: Json, f: float) -> float:
    def line(a: Json) -> float:
        return float(a["a"] + a["b"] * math.log10(f / a["f0_mhz"]))

    match shape:
        case {"kind": "constant", "value": value}:
            return float(value)
        case {"kind": "log_line"}:
            return line(shape)
        case {"kind": "sum", "parts": parts}:
            sums = [p["times"] * sum(t["c"] * f ** t["p"] for t in p["terms"]) for p in parts]
            return float(sum(sums))
        case {"kind": "voltage_sum", "lines": lines}:
            return -20 * math.log10(sum(n["weight"] * 10 ** (-line(n) / 20) for n in lines))
        case {"kind": "difference_of", "minuend": a, "subtrahend": b}:
            return limit(table, a, f, finished=False) - limit(table, b, f, finished=False)
    raise ValueError(shape["kind"])
