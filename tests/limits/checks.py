"""Check values from outside the tables, read from `checkpoints/`, and how a table is held to them.

A check answers one question: is the table's figure, as a document would print it, the printed one?
"""

import json
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np

from sweepbook.limits.formulas import Floats, evaluate
from sweepbook.limits.interpretations import Interpretations
from sweepbook.limits.lines import unrounded_line
from sweepbook.limits.model import LimitTable
from sweepbook.limits.shape_model import Sum, VoltageSum
from sweepbook.limits.shapes import line

FOLDER = Path(__file__).with_name("checkpoints")
CURVES = ("public", "memory-tia", "memory-iso-d-e", "memory-iso-ea-fa", "parts")
READINGS = Interpretations.load()


@dataclass(frozen=True)
class Check:
    """Printed values of one parameter in one table.

    Attributes:
        source: id in `checkpoints/sources.json`.
        table: path.
        parameter: word of the vocabulary.
        part: what the value is of: "" for the limit, else how the table's part begins.
        decimals: digits of the source after the mark.
        bare: leave cap and floor out, where the source prints values without them.
        cut: whether the source drops the rest of some values instead of rounding.
        rounded: False for a value of before the document's own rounding.
        mhz: [n].
        printed: [n].
    """

    source: str
    table: str
    parameter: str
    part: str
    decimals: int
    bare: bool
    cut: bool
    rounded: bool
    mhz: Floats
    printed: Floats

    @property
    def public(self) -> bool:
        """Whether a public text shows the values."""
        return self.source not in ("memory", "by-hand")


def read(name: str) -> dict[str, Any]:
    """One file of checks."""
    found: dict[str, Any] = json.loads((FOLDER / f"{name}.json").read_text("utf-8"))
    return found


def checks(wrong: bool = False) -> Iterator[Check]:
    """Every check over frequency; with `wrong`, the values listed as wrong in their source."""
    for name in CURVES:
        for group in read(name)["groups"]:
            rows = group.get("exceptions", []) if wrong else group["values"]
            for table in group["tables"] if rows else ():
                yield Check(
                    source=group["source"],
                    table=table,
                    parameter=group["parameter"],
                    part=group.get("part", ""),
                    decimals=group["decimals"],
                    bare=group.get("cap") is False or group.get("floor") is False,
                    cut=group.get("printed") == "cut at places",
                    rounded=group.get("rounded", True),
                    mhz=np.array([float(row[0]) for row in rows]),
                    printed=np.array([float(row[1]) for row in rows]),
                )


def held(check: Check, table: LimitTable) -> list[bool]:
    """For each value of a check, whether the table gives it to half its last digit."""
    found = _figures(check, table)
    digit = 10.0**-check.decimals
    good = np.abs(found - check.printed) <= digit / 2 + 1e-9
    if check.cut:
        over = found - check.printed
        good |= (over >= 0.0) & (over < digit)
    answers: list[bool] = good.tolist()
    return answers


def _figures(check: Check, table: LimitTable) -> Floats:
    limit = table.parameters[check.parameter]
    if check.part:
        return _part(check, table)
    if check.bare:
        bare = replace(limit, cap=None, floor=None)
        table = replace(table, parameters={**table.parameters, check.parameter: bare})
    if limit.rounding is not None and check.rounded:  # the document rounds the limit itself
        return line(table, check.parameter, check.mhz, READINGS).value
    return unrounded_line(table, check.parameter, check.mhz).value


def _part(check: Check, table: LimitTable) -> Floats:
    """The loss of cable or of one connection alone, of the segment that is made of them."""
    made = (segment.shape for segment in table.parameters[check.parameter].segments)
    shape = next(shape for shape in made if isinstance(shape, Sum | VoltageSum))
    if isinstance(shape, VoltageSum):
        return evaluate(_named(check, shape.lines).line, check.mhz)
    return evaluate(Sum((replace(_named(check, shape.parts), times=1.0),)), check.mhz)


def _named(check: Check, parts: Any) -> Any:
    found: list[Any] = [part for part in parts if check.part in part.what]
    assert len(found) == 1, f"{check.table} {check.parameter} has no part {check.part}"
    return found[0]


@cache
def by_table() -> dict[str, list[Check]]:
    """The checks over frequency, by the path of their table."""
    found: dict[str, list[Check]] = {}
    for check in checks():
        found.setdefault(check.table, []).append(check)
    return found
