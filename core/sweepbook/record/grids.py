"""The frequencies of a sweep: listed, or runs of equal steps worked out in decimal."""

import re
from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Any

import numpy as np

from sweepbook.errors import SweepbookError
from sweepbook.record.arrays import F64

MOST_POINTS = 1_000_000
"""The largest grid; one of 10^12 points would fill the memory before anything could be said."""

_DECIMAL = re.compile(r"[0-9]{1,9}(?:\.[0-9]{1,12})?")

Run = tuple[str, str, int]


class BadGrid(SweepbookError):
    """A run of a grid cannot be worked out."""


def frequency_mhz(document: Mapping[str, Any], grid_id: str) -> F64:
    """The frequencies of a grid, float64[n] in MHz, read-only.

    Args:
        document: of a record that follows its schema.
        grid_id: which grid.

    Raises:
        KeyError: no grid has this id.
        BadGrid: a run cannot be worked out.
    """
    for grid in document.get("results", {}).get("grids", ()):
        if grid["id"] == grid_id:
            return of_grid(grid)
    raise KeyError(grid_id)


def of_grid(grid: Mapping[str, Any]) -> F64:
    """The frequencies of one grid, float64[n] in MHz, read-only.

    Raises:
        BadGrid: a run cannot be worked out.
    """
    if "runs" in grid:
        return expanded(_runs(grid))
    listed: F64 = grid["frequency_mhz"]
    return listed


def rises(grid: Mapping[str, Any]) -> bool:
    """Whether each frequency of a grid is above the one before.

    Raises:
        BadGrid: a run cannot be worked out.
    """
    return _runs_rise(_runs(grid)) if "runs" in grid else _rises(of_grid(grid))


def _runs(grid: Mapping[str, Any]) -> tuple[Run, ...]:
    return tuple((run["start"], run["step"], run["count"]) for run in grid["runs"])


@lru_cache(maxsize=64)
def _runs_rise(runs: tuple[Run, ...]) -> bool:
    return _rises(expanded(runs))


def _rises(axis: F64) -> bool:
    return bool((axis[1:] > axis[:-1]).all())


@lru_cache(maxsize=64)
def expanded(runs: Sequence[Run]) -> F64:
    """The frequencies of runs, one after another: float64[n] in MHz, read-only.

    start + k * step is worked out in whole numbers of the last digit and divided once; Python
    rounds the quotient of two integers to the nearest double.

    Args:
        runs: (start, step, count) each, start and step as decimal text in MHz.

    Raises:
        BadGrid: a text is no decimal number, or there are more than `MOST_POINTS` points.
    """
    total = sum(count for _, _, count in runs)
    if not total <= MOST_POINTS:
        raise BadGrid(
            f"A grid has {total} points, more than {MOST_POINTS}.",
            "Read its source again; no sweep has so many.",
        )
    values: list[float] = []
    for start, step, count in runs:
        digits = max(_digits(start), _digits(step))
        first, add, unit = _whole(start, digits), _whole(step, digits), 10**digits
        values.extend((first + position * add) / unit for position in range(count))
    array = np.array(values, dtype=np.float64)
    array.setflags(write=False)
    return array


def _digits(number: str) -> int:
    """Digits after the mark of a decimal number without exponent."""
    if not _DECIMAL.fullmatch(number):
        raise BadGrid(
            f"{number!r} is no decimal number of MHz for a run of a grid.",
            "Write digits and at most one point, e.g. 31.25, without sign and exponent.",
        )
    return len(number.partition(".")[2])


def _whole(number: str, digits: int) -> int:
    """The number in units of 10^-digits."""
    before, _, after = number.partition(".")
    return int(before + after.ljust(digits, "0"))
