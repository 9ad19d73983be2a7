"""Limit lines as their formulas give them, with how far they are known."""

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from sweepbook.errors import SweepbookError
from sweepbook.limits.formulas import Floats, evaluate
from sweepbook.limits.model import LimitTable, ParameterLimit, Segment
from sweepbook.limits.shape_model import DifferenceOf, GreaterOf, Unknown

Codes: TypeAlias = NDArray[np.uint8]
Flags: TypeAlias = NDArray[np.bool_]

_C = ord("C")


@dataclass(frozen=True, slots=True, eq=False)
class LimitLine:
    """A limit over frequency; all arrays are [n] and read-only.

    Attributes:
        value: the limit in the parameter's unit, NaN outside its range and for a grade D.
        low, high: what the limit may be at least and at most; equal to `value` where nothing
            better is known.
        grade: ASCII code of "A" to "D" a point, 0 outside the range.
        usable: False outside the range, for a grade D, which is never used, and where a grade C
            comes without an interval, which is used only on request.
    """

    value: Floats
    low: Floats
    high: Floats
    grade: Codes
    usable: Flags


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


def unrounded_line(table: LimitTable, parameter: str, frequency_mhz: Floats) -> LimitLine:
    """The limit as its formula gives it, cap and floor applied, tightened, without any rounding.

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
    return tightened(limit, formula_line(table, parameter, frequency_mhz))


def tightened(limit: ParameterLimit, line: LimitLine) -> LimitLine:
    """A line moved by what the limit is tighter than its formula; the line itself where nothing."""
    if limit.tightened is None:
        return line
    by = limit.tightened.by if limit.sense == "min" else -limit.tightened.by
    return LimitLine(line.value + by, line.low + by, line.high + by, line.grade, line.usable)


def formula_line(table: LimitTable, parameter: str, frequency_mhz: Floats) -> LimitLine:
    """The limit as its formula gives it, cap and floor applied; see `unrounded_line`."""
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


def segment_at(limit: ParameterLimit, frequency_mhz: float) -> Segment | None:
    """The segment that a frequency belongs to; None outside the limit's range."""
    owners = _owners(limit, np.array([frequency_mhz], dtype=np.float64))
    owned = (one for one, mine in zip(limit.segments, owners, strict=True) if mine[0])
    return next(owned, None)


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
        whole = formula_line(table, segment.shape.minuend, frequency_mhz)
        less = formula_line(table, segment.shape.subtrahend, frequency_mhz)
        value = whole.value - less.value
        low, high = whole.low - less.high, whole.high - less.low
        grade = np.maximum(grade, np.maximum(whole.grade, less.grade))
        usable = usable & whole.usable & less.usable
    elif isinstance(segment.shape, GreaterOf):
        value = np.full(frequency_mhz.shape, amount_in(segment.shape, limit.unit))
        low, high = value, np.full(frequency_mhz.shape, np.inf)
    elif isinstance(segment.shape, Unknown):
        value = low = high = np.full(frequency_mhz.shape, np.nan)
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


def amount_in(shape: GreaterOf, unit: str) -> float:
    """The amount of a choice between units that is in the given one."""
    return next(amount.value for amount in shape.of if amount.unit == unit)
