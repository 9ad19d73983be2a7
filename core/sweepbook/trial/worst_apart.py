"""Stated worst values that no curve of the test has where they are said to be."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import numpy as np

from sweepbook.dialect.model import Dialect
from sweepbook.trial.together import Edit

_LEAST = 3
"""So many of them tell more than a slip of the tester would."""
_SHARE = 0.5
_NEAR_DB = 0.3
"""So far at most is a value that was rounded, or read between two points."""
_NEAR = 0.02
"""So near in frequency is a point at which it may have been read."""
_WEIGHT = 2


def apart(document: Mapping[str, Any], dialect: Dialect) -> Iterator[Edit]:
    """What to change where most worst values of a test are none of its curves: margins, perhaps.

    Args:
        document: of the record.
        dialect: by which it was read.
    """
    items = document.get("stated", {}).get("items", ())
    held = [
        found
        for item in items
        if (found := _is_of_a_curve(item, document.get("results", {}))) is not None
    ]
    others = held.count(False)
    if others >= _LEAST and others > _SHARE * len(held):
        what = (
            f"{others} of {len(held)} worst values that this test states are those of no curve at "
            "their frequency; if they are margins, write worst_margin.margin in place of "
            "worst_value.value, and worst_margin.frequency beside it"
        )
        yield Edit(f"{dialect.where}, worst_value.value", what, weight=_WEIGHT)


def _is_of_a_curve(item: Mapping[str, Any], results: Mapping[str, Any]) -> bool | None:
    """Whether a curve that a stated worst value may be of has it; None where nothing tells."""
    worst = item.get("worst_value", {})
    value, at = worst.get("value_db"), worst.get("frequency_mhz")
    if value is None or at is None:
        return None
    grids = {grid["id"]: grid["frequency_mhz"] for grid in results.get("grids", ())}
    near = [
        of
        for sweep in results.get("sweeps", ())
        if _may_be(item, sweep)
        for of in _near(sweep["value_db"], grids[sweep["grid"]], at)
    ]
    return min(abs(of - value) for of in near) <= _NEAR_DB if near else None


def _may_be(item: Mapping[str, Any], sweep: Mapping[str, Any]) -> bool:
    """Whether an item may be of a curve, by all that it names."""
    same = item["parameter"] == sweep["parameter"]
    end = item.get("end") in (None, sweep.get("end"))
    return same and end and (not item.get("pairs") or {*item["pairs"]} == {*sweep["pairs"]})


def _near(values: Sequence[float | None], mhz: Sequence[float], at: float) -> list[float]:
    """The values of a curve about a frequency."""
    where = np.flatnonzero(np.abs(np.asarray(mhz) - at) <= _NEAR * at).tolist()
    return [value for place in where if (value := values[place]) is not None]
