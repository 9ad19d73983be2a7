"""Checks that are no values over frequency: single figures, ranges, relaxations, steps."""

from collections.abc import Iterator
from typing import Any

import numpy as np

from sweepbook.limits.effects import Relaxation
from sweepbook.limits.lines import unrounded_line
from sweepbook.limits.model import LimitTable
from sweepbook.limits.shapes import scalar_limit
from sweepbook.limits.steps import largest_step_mhz

from .checks import READINGS, read

FIGURES = read("figures")


def figure_held(figure: dict[str, Any], table: LimitTable) -> bool:
    """Whether the single limit is the figure, exactly."""
    found = scalar_limit(
        table, figure["parameter"], READINGS, base_ohm=figure.get("base_ohm")
    ).value
    return bool(abs(found - figure["value"]) <= 1e-9)


def range_held(parameter: str, span: dict[str, Any], table: LimitTable) -> bool:
    """Whether the limit holds from the first frequency to the last, and nowhere beside them."""
    low, high = float(span["from_mhz"]), float(span["to_mhz"])
    at = np.array([low * 0.999, low, high, high * 1.001])
    there = ~np.isnan(unrounded_line(table, parameter, at).value)
    return bool((there == [False, True, True, False]).all())


def relaxation_held(row: dict[str, Any], table: LimitTable) -> bool:
    """Whether the relaxation takes off what is recalled, under the condition that is recalled."""
    data = table.parameters[row["parameter"]].relaxed_when
    if data is None or (data.at_mhz, data.below_db) != (row["at_mhz"], row["below_db"]):
        return False
    taken = Relaxation("", data.companion, data.at_mhz, data.below_db, "own", data)
    at = np.array([float(mhz) for mhz, _ in row["values"]])
    printed = np.array([db for _, db in row["values"]])
    return bool((np.abs(taken.amount_db(at) - printed) <= 0.05 + 1e-9).all())


def steps_held(table: LimitTable) -> bool:
    """Whether the largest steps, and the longest length, are those that are recalled."""
    length = 100.0 if table.configuration == "channel" else 90.0
    for row in FIGURES["steps"]:
        if table.path in row["tables"]:
            at = np.array([float(mhz) for mhz, _ in row["values"]])
            top = float(row["nothing_above_mhz"])
            found = largest_step_mhz(table, np.concatenate([at, [at[0] * 0.999, top, top * 1.001]]))
            given = found[: at.size] == np.array([step for _, step in row["values"]])
            beside = np.isnan(found[at.size :]).tolist() == [True, False, True]
            return bool(given.all()) and beside and table.longest_length_m == length
    return False


def others_held(table: LimitTable, parameter: str) -> Iterator[bool]:
    """Every check of these kinds that a parameter of a table must hold."""
    for figure in FIGURES["figures"]:
        if table.path in figure["tables"] and figure["parameter"] == parameter:
            yield figure_held(figure, table)
    for span in FIGURES["ranges"]:
        if table.path in span["tables"] and parameter in span["parameters"]:
            yield range_held(parameter, span, table)
    for row in FIGURES["relaxations"]:
        if table.path in row["tables"] and row["parameter"] == parameter:
            yield relaxation_held(row, table)
