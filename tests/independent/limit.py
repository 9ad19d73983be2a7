"""The limit at one frequency (judging-0.md, 2).

Left out: the intervals of limits; tables based on another one, and with them `tightened`
(limits-0.md, 1); `greater_of`, which needs a loop resistance (section 9): it has no limit here.
"""

import math
from typing import Any


def limit(table: dict[str, Any], parameter: str, frequency: float) -> float:
    """The limit with rounding and allowance (section 2, "Then"); NaN where none is usable."""
    value = plain_limit(table, parameter, frequency)
    entry = table["parameters"].get(parameter, {})
    if "rounding" in entry and not math.isnan(value):
        scale = 10 ** entry["rounding"]["decimals"]
        half = 0.5 if entry["rounding"]["mode"] == "nearest" else 0.0
        value = math.floor(value * scale + half + 1e-9) / scale
    return value * (1 + float(entry.get("allowance_percent", 0)) / 100)


def plain_limit(table: dict[str, Any], parameter: str, f: float) -> float:
    """Section 2, "Segment", "Grade", and cap and floor of "Then": the limit not yet rounded."""
    entry = table["parameters"].get(parameter, {"segments": [{}]})
    edges = entry["segments"][0].get("from_mhz", f), entry["segments"][-1].get("to_mhz", f)
    f = next((edge for edge in edges if abs(f - edge) <= 1e-6), f)
    holding = [s for s in entry["segments"] if s.get("from_mhz", f) <= f <= s.get("to_mhz", f)]
    # Where two segments meet, the upper one holds: the last.
    if not holding or (holding[-1].get("grade", "C") == "C" and "interval" not in holding[-1]):
        return math.nan
    value = shape_value(table, holding[-1]["shape"], f)
    return float(max(min(value, entry.get("cap", math.inf)), entry.get("floor", -math.inf)))


def log_line(line: dict[str, Any], f: float) -> float:
    """Section 2, "Shape": a line over the logarithm of the frequency."""
    return float(line["a"] + line["b"] * math.log10(f / line["f0_mhz"]))


def shape_value(table: dict[str, Any], shape: dict[str, Any], f: float) -> float:
    """Section 2, "Shape", by kind."""
    if shape["kind"] == "constant":
        return float(shape["value"])
    if shape["kind"] == "log_line":
        return log_line(shape, f)
    if shape["kind"] == "sum":
        terms = [(part["times"], term) for part in shape["parts"] for term in part["terms"]]
        return float(sum(times * term["c"] * f ** term["p"] for times, term in terms))
    if shape["kind"] == "voltage_sum":
        lines = [line["weight"] * 10 ** (-log_line(line, f) / 20) for line in shape["lines"]]
        return -20 * math.log10(sum(lines))
    if shape["kind"] == "difference_of":
        return plain_limit(table, shape["minuend"], f) - plain_limit(table, shape["subtrahend"], f)
    return math.nan
