"""Limit lines and single limits, with how far they are known.

A line is a pure function of table, parameter, frequencies and the rounding that an interpretation
may ask for, so it is kept: the links of a building are swept over the same frequencies.
"""

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, TypeAlias

import numpy as np
from numpy.typing import NDArray

from sweepbook.errors import SweepbookError
from sweepbook.limits.formulas import Floats, evaluate, round_to
from sweepbook.limits.model import LimitTable, ParameterLimit, Segment
from sweepbook.limits.shape_model import Constant, DifferenceOf, GreaterOf

if TYPE_CHECKING:
    from sweepbook.limits.interpretations import Interpretations

Codes: TypeAlias = NDArray[np.uint8]
Flags: TypeAlias = NDArray[np.bool_]

_C = ord("C")


@dataclass(frozen=True, slots=True, eq=False)
class LimitLine:
    """A limit over frequency; all arrays are [n] and read-only.

    Attributes:
        value: the limit in the parameter's unit, NaN outside its range.
        low, high: what the limit may be at least and at most; equal to `value` where nothing
            better is known.
        grade: ASCII code of "A", "B" or "C" a point, 0 outside the range.
        usable: False outside the range, and where a grade C comes without an interval: such a
            limit is used only on request.
    """

    value: Floats
    low: Floats
    high: Floats
    grade: Codes
    usable: Flags


@dataclass(frozen=True, slots=True)
class ScalarLimit:
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


def parameter_limit(table: LimitTable, parameter: str) -> ParameterLimit:
    """The limit of a parameter.

    Raises:
        SweepbookError: the table sets no limit for it.
    """
    limit = table.parameters.get(parameter)
    if limit is None:
        raise SweepbookError(
            f"{table.path} sets no limit for {parameter}.",
            f"It sets limits for {', '.join(table.parameters)}.",
        )
    return limit


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
    limit = parameter_limit(table, parameter)
    decimals = interpretations.limit_decimals(table) if limit.unit == "dB" else None
    points = np.ascontiguousarray(frequency_mhz, dtype=np.float64)
    return _kept_line(table, parameter, points.tobytes(), decimals)


@lru_cache(maxsize=512)
def _kept_line(table: LimitTable, parameter: str, points: bytes, decimals: int | None) -> LimitLine:
    made = unrounded_line(table, parameter, np.frombuffer(points, dtype=np.float64))
    rounding = table.parameters[parameter].rounding
    digits, mode = (rounding.decimals, rounding.mode) if rounding else (decimals, "nearest")
    if digits is not None:
        value, low, high = (round_to(x, digits, mode) for x in (made.value, made.low, made.high))
        made = LimitLine(value, low, high, made.grade, made.usable)
    for array in (made.value, made.low, made.high, made.grade, made.usable):
        array.flags.writeable = False
    return made


def unrounded_line(table: LimitTable, parameter: str, frequency_mhz: Floats) -> LimitLine:
    """The limit as its formula gives it, cap and floor applied, before any rounding.

    Args:
        table: the limit table.
        parameter: word of the vocabulary.
        frequency_mhz: [n].

    Returns:
        The line, not kept.

    Raises:
        SweepbookError: the table sets no limit for the parameter.
    """
    limit = parameter_limit(table, parameter)
    n = frequency_mhz.shape
    value, low, high = (np.full(n, np.nan) for _ in range(3))
    grade = np.zeros(n, dtype=np.uint8)
    usable = np.zeros(n, dtype=np.bool_)
    for segment, mine in zip(limit.segments, _owners(limit, frequency_mhz), strict=True):
        part = _segment_line(table, limit, segment, frequency_mhz[mine])
        value[mine], low[mine], high[mine] = part.value, part.low, part.high
        grade[mine], usable[mine] = part.grade, part.usable
    value, low, high = (_bounded(limit, x) for x in (value, low, high))
    return LimitLine(value, low, high, grade, usable)


def _owners(limit: ParameterLimit, frequency_mhz: Floats) -> list[Flags]:
    """For each segment, which points are its own; the last one owns its end as well."""
    owners: list[Flags] = []
    last = limit.segments[-1]
    for segment in limit.segments:
        if segment.from_mhz is None or segment.to_mhz is None:
            mine = np.ones(frequency_mhz.shape, dtype=np.bool_)
        else:
            below = frequency_mhz <= segment.to_mhz
            if segment is not last:
                below = frequency_mhz < segment.to_mhz
            mine = (frequency_mhz >= segment.from_mhz) & below
        owners.append(mine)
    return owners


def _segment_line(
    table: LimitTable, limit: ParameterLimit, segment: Segment, frequency_mhz: Floats
) -> LimitLine:
    code = ord(segment.grade)
    grade = np.full(frequency_mhz.shape, code, dtype=np.uint8)
    usable = np.full(frequency_mhz.shape, code < _C or segment.interval is not None)
    if isinstance(segment.shape, DifferenceOf):
        whole = unrounded_line(table, segment.shape.minuend, frequency_mhz)
        less = unrounded_line(table, segment.shape.subtrahend, frequency_mhz)
        value = whole.value - less.value
        low, high = whole.low - less.high, whole.high - less.low
        grade = np.maximum(grade, np.maximum(whole.grade, less.grade))
        usable = usable & whole.usable & less.usable
    elif isinstance(segment.shape, GreaterOf):
        value = np.full(frequency_mhz.shape, _in_unit(segment.shape, limit.unit))
        low, high = value, np.full(frequency_mhz.shape, np.inf)
    else:
        value = low = high = evaluate(segment.shape, frequency_mhz)
    if segment.interval is not None:
        low, high = low + segment.interval.low, high + segment.interval.high
    return LimitLine(value, low, high, grade, usable)


def _bounded(limit: ParameterLimit, values: Floats) -> Floats:
    """A minimum limit above the cap becomes the cap, a maximum limit below the floor the floor."""
    if limit.cap is not None:
        values = np.minimum(values, limit.cap)
    if limit.floor is not None:
        values = np.maximum(values, limit.floor)
    return values


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
    limit = parameter_limit(table, parameter)
    at_mhz, assumed = _judged_at(limit, frequency_mhz)
    made = line(table, parameter, np.array([at_mhz]), interpretations)
    value, low, high = (float(x[0]) for x in (made.value, made.low, made.high))
    shape = limit.segments[0].shape
    if isinstance(shape, GreaterOf):
        if base_ohm is None:
            assumed = "the percentage alone, since no resistance is known that it refers to"
        else:
            value = low = high = max(_in_unit(shape, limit.unit), _ohm_as_percent(shape, base_ohm))
    percent = 100.0 + limit.allowance_percent
    return ScalarLimit(
        value=value * percent / 100.0,
        low=low * percent / 100.0,
        high=high * percent / 100.0,
        nominal=value,
        unit=limit.unit,
        grade=worst_grade(made.grade) or limit.grade,
        usable=bool(made.usable[0]),
        assumed=assumed,
    )


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


def _in_unit(shape: GreaterOf, unit: str) -> float:
    return next(amount.value for amount in shape.of if amount.unit == unit)


def _ohm_as_percent(shape: GreaterOf, base_ohm: float) -> float:
    ohm = next(amount.value for amount in shape.of if amount.unit == "ohm")
    return 100.0 * ohm / base_ohm if base_ohm > 0.0 else math.inf


def worst_grade(codes: Codes) -> str | None:
    """The worst grade among points, or None where no point has one.

    Args:
        codes: [n] ASCII codes as in `LimitLine.grade`.
    """
    worst = int(codes.max()) if codes.size else 0
    return chr(worst) if worst else None
