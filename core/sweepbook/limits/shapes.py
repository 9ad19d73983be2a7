"""Limits to judge by: lines over frequency, and limits of single figures.

A line is a pure function of table, parameter, frequencies and the rounding that an interpretation
may ask for, so it is kept: the links of a building are swept over the same frequencies.
"""

import math
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from sweepbook.limits.axes import axis_bytes
from sweepbook.limits.formulas import Floats, round_to
from sweepbook.limits.lines import (
    Codes,
    LimitLine,
    amount_in,
    formula_line,
    parameter_limit,
    tightened,
)
from sweepbook.limits.model import LimitTable, ParameterLimit
from sweepbook.limits.shape_model import Constant, GreaterOf

if TYPE_CHECKING:
    from sweepbook.limits.interpretations import Interpretations

KEPT_POINTS = 20_000
"""Longer axes are not of a tester, and too long to be kept many at a time."""


class ScalarLimit(NamedTuple):
    """A limit of a single figure, in `unit`.

    Attributes:
        value: the limit.
        low, high: what it may be at least and at most.
        nominal: without the allowance for NVP; equal to `value` for all but a length.
        unit: ns, ohm, percent, m or dB.
        grade: how it is known.
        usable: False where a grade C comes without an interval.
        assumed: what had to be assumed, in words; "" where nothing was.
    """

    value: float
    low: float
    high: float
    nominal: float
    unit: str
    grade: str
    usable: bool
    assumed: str


def line(
    table: LimitTable, parameter: str, frequency_mhz: Floats, interpretations: "Interpretations"
) -> LimitLine:
    """The limit of a parameter at the given frequencies.

    Args:
        table: the limit table.
        parameter: word of the vocabulary.
        frequency_mhz: [n].
        interpretations: only the rounding of limits matters here; exclusions and relaxations
            depend on what was measured and are the judge's.

    Returns:
        The line; the upper segment owns its first frequency.

    Raises:
        SweepbookError: the table sets no limit for the parameter.
    """
    decimals = rounded_to(table, parameter, interpretations)
    return rounded_line(table, parameter, frequency_mhz, decimals)


def rounded_line(
    table: LimitTable, parameter: str, frequency_mhz: Floats, decimals: int | None
) -> LimitLine:
    """The same for a number of decimals that an interpretation rounds limits to; None for none."""
    points = np.ascontiguousarray(frequency_mhz, dtype=np.float64)
    if points.size > KEPT_POINTS:
        return _rounded(table, parameter, points, decimals)
    return _kept_line(table, parameter, axis_bytes(points), decimals)


def rounded_to(table: LimitTable, parameter: str, interpretations: "Interpretations") -> int | None:
    """Decimals that an interpretation rounds the limit to; None for none."""
    limit = parameter_limit(table, parameter)
    return interpretations.limit_decimals(table) if limit.unit == "dB" else None


@lru_cache(maxsize=512)
def _kept_line(table: LimitTable, parameter: str, points: bytes, decimals: int | None) -> LimitLine:
    return _rounded(table, parameter, np.frombuffer(points, dtype=np.float64), decimals)


def _rounded(table: LimitTable, parameter: str, points: Floats, decimals: int | None) -> LimitLine:
    made = formula_line(table, parameter, points)
    rounding = table.parameters[parameter].rounding
    digits, mode = (rounding.decimals, rounding.mode) if rounding else (decimals, "nearest")
    if digits is not None:
        value, low, high = (round_to(x, digits, mode) for x in (made.value, made.low, made.high))
        made = LimitLine(value, low, high, made.grade, made.usable)
    made = tightened(table.parameters[parameter], made)
    for array in (made.value, made.low, made.high, made.grade, made.usable):
        array.flags.writeable = False
    return made


def scalar_limit(
    table: LimitTable,
    parameter: str,
    interpretations: "Interpretations",
    frequency_mhz: float | None = None,
    base_ohm: float | None = None,
) -> ScalarLimit:
    """The limit of a single figure.

    Args:
        table: the limit table.
        parameter: word of the vocabulary.
        interpretations: as for `line`.
        frequency_mhz: frequency of the figure, if it has one; a delay without one is judged at
            10 MHz, any other figure at the lowest frequency of its limit, and `assumed` says so.
        base_ohm: the resistance that 100 percent refer to, for a limit of so many percent or so
            many ohm: the loop resistance of the pair within a pair, the sum of the two parallel
            resistances between pairs. Without it the limit is known from below only.

    Returns:
        The limit; value, low and high are NaN outside the limit's range.

    Raises:
        SweepbookError: the table sets no limit for the parameter.
    """
    decimals = rounded_to(table, parameter, interpretations)
    return rounded_scalar(table, parameter, decimals, frequency_mhz, base_ohm)


@lru_cache(maxsize=2048)
def rounded_scalar(
    table: LimitTable,
    parameter: str,
    decimals: int | None,
    frequency_mhz: float | None,
    base_ohm: float | None,
) -> ScalarLimit:
    """The same for a number of decimals that an interpretation rounds limits to; None for none."""
    limit = parameter_limit(table, parameter)
    at_mhz, assumed = _judged_at(limit, frequency_mhz)
    made = _kept_point(table, parameter, at_mhz, decimals)
    value, low, high = made.value, made.low, made.high
    shape = limit.segments[0].shape
    if isinstance(shape, GreaterOf):
        if base_ohm is None:
            assumed = "the percentage alone, since no resistance is known that it refers to"
        else:
            value = max(amount_in(shape, limit.unit), _ohm_as_percent(shape, base_ohm))
            value = low = high = value - (limit.tightened.by if limit.tightened else 0.0)
    percent = 100.0 + limit.allowance_percent
    return ScalarLimit(
        value=value * percent / 100.0,
        low=low * percent / 100.0,
        high=high * percent / 100.0,
        nominal=value,
        unit=limit.unit,
        grade=made.grade or limit.grade,
        usable=made.usable,
        assumed=assumed,
    )


def hangs_on_resistance(limit: ParameterLimit) -> bool:
    """Whether a limit of so many percent is another one by what the percents refer to."""
    return isinstance(limit.segments[0].shape, GreaterOf)


class _Point(NamedTuple):
    """A line at one frequency."""

    value: float
    low: float
    high: float
    grade: str | None
    usable: bool


@lru_cache(maxsize=1024)
def _kept_point(table: LimitTable, parameter: str, at_mhz: float, decimals: int | None) -> _Point:
    made = _kept_line(table, parameter, np.array([at_mhz], dtype=np.float64).tobytes(), decimals)
    value, low, high = (float(array[0]) for array in (made.value, made.low, made.high))
    return _Point(value, low, high, worst_grade(made.grade), bool(made.usable[0]))


def _judged_at(limit: ParameterLimit, frequency_mhz: float | None) -> tuple[float, str]:
    if frequency_mhz is not None:
        return frequency_mhz, ""
    lowest, highest = limit.f_min_mhz, limit.f_max_mhz
    if lowest is None or highest is None or all_constant(limit):
        return lowest or 0.0, ""
    at_mhz = 10.0 if lowest <= 10.0 <= highest else lowest
    return at_mhz, f"judged at {at_mhz:g} MHz, since it names no frequency"


def all_constant(limit: ParameterLimit) -> bool:
    """Whether the limit is one figure whatever the frequency."""
    return len(limit.segments) == 1 and isinstance(limit.segments[0].shape, Constant)


def _ohm_as_percent(shape: GreaterOf, base_ohm: float) -> float:
    return 100.0 * amount_in(shape, "ohm") / base_ohm if base_ohm > 0.0 else math.inf


def worst_grade(codes: Codes) -> str | None:
    """The worst grade among points, or None where no point has one.

    Args:
        codes: [n] ASCII codes as in `LimitLine.grade`.
    """
    worst = int(codes.max()) if codes.size else 0
    return chr(worst) if worst else None
