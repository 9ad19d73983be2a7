"""A limit on the axis of the curves that are held against it, and what is known of it beforehand.

The links of a job share their axes, so a line and all that follows from it is worked out once.
"""

from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sweepbook.cached import cached_property
from sweepbook.judging.coverage import ONE_HZ_MHZ
from sweepbook.judging.curves import F64, Curves, Flags
from sweepbook.judging.derive import Places
from sweepbook.judging.settings import JudgeSettings
from sweepbook.limits.axes import axis_bytes
from sweepbook.limits.model import LimitTable, ParameterLimit
from sweepbook.limits.shapes import KEPT_POINTS, rounded_line, rounded_to

Sense = Literal["min", "max"]
"""What the limit is: the least that is allowed ("min", losses) or the most ("max")."""


@dataclass(frozen=True, eq=False)
class Limit:
    """A limit on an axis.

    Attributes:
        value, low, high: float64[n], or float64[m, n] where it differs between the curves; NaN
            where there is no limit; low < high where it is known only within an interval.
        grade: uint8[n], code of the letter "A" (best) to "D"; 0 where there is no limit.
        usable: bool[n], False where the limit is not known well enough to be used.
        level: values at which it is cut off, so that it does not change with the frequency.
    """

    value: F64
    low: F64
    high: F64
    grade: NDArray[np.uint8]
    usable: Flags
    level: tuple[float, ...] = ()

    @cached_property
    def there(self) -> Flags:
        """Where something can be held against it, of the shape of `value`."""
        return self.usable & ~np.isnan(self.value)

    @cached_property
    def floor(self) -> F64:
        """The least that is allowed: the value, and where there is none, whatever there is."""
        return np.where(self.there, self.value, -np.inf)

    @cached_property
    def ceiling(self) -> F64:
        """The most that is allowed, likewise."""
        return np.where(self.there, self.value, np.inf)

    @cached_property
    def exact(self) -> bool:
        """Whether it is known without an interval wherever it can be used."""
        same = (self.low == self.value) & (self.high == self.value)
        return bool((same | ~self.there).all())

    @cached_property
    def columns(self) -> slice | None:
        """The columns that it can be used in, if they are one run and the same for all curves."""
        if self.there.ndim > 1:
            return None
        found = np.flatnonzero(self.there)
        if not found.size:
            return slice(0, 0)
        first, last = int(found[0]), int(found[-1]) + 1
        return slice(first, last) if last - first == found.size else None

    @cached_property
    def one_grade(self) -> int | None:
        """The code of its grade wherever it can be used; None where there are several."""
        codes = np.unique(np.broadcast_to(self.grade, self.there.shape)[self.there])
        return int(codes[0]) if codes.size == 1 else None

    @cached_property
    def dim(self) -> Flags | None:
        """bool[n], where it is known too poorly to be used; None for nowhere."""
        found: Flags = ~self.usable & (self.grade > 0)
        return found if found.any() else None

    @cached_property
    def sloping(self) -> Places:
        """The points where it changes with the frequency, of a limit float64[n]."""
        found: Places = np.flatnonzero(np.isfinite(self.value) & ~np.isin(self.value, self.level))
        return found

    @cached_property
    def slopes_by(self) -> float:
        """Between its least and its greatest value there; 0 where there are no such points."""
        return float(np.ptp(self.value[self.sloping])) if self.sloping.size else 0.0

    def at(self, part: F64, rows: Places, columns: Places) -> F64:
        """One of its three lines at some points, float64[k]."""
        found: F64 = part[columns] if part.ndim == 1 else part[rows, columns]
        return found


def edges(rule: ParameterLimit) -> tuple[float, float]:
    """Lowest and highest frequency of a limit in MHz."""
    return float(rule.f_min_mhz or 0.0), float(rule.f_max_mhz or 0.0)


def where_held(curves: Curves, table: LimitTable | None) -> slice:
    """The points where the limit of the curves holds; all of them where they have none.

    FEXT without a limit of its own is looked at where that of ACR-F holds.
    """
    axis = curves.frequency_mhz
    limits = table.parameters if table is not None else {}
    rule = limits.get(curves.parameter)
    if rule is None and curves.parameter == "fext":
        rule = limits.get("acr_f")
    if rule is None or rule.f_min_mhz is None:
        return slice(0, axis.size)
    if axis.size > KEPT_POINTS:
        return _between(axis, *edges(rule))
    return _kept_between(axis_bytes(axis), *edges(rule))


@lru_cache(maxsize=256)
def _kept_between(axis: bytes, lowest: float, highest: float) -> slice:
    return _between(np.frombuffer(axis, dtype=np.float64), lowest, highest)


def _between(axis: F64, lowest: float, highest: float) -> slice:
    first = int(np.searchsorted(axis, lowest - ONE_HZ_MHZ, side="left"))
    last = int(np.searchsorted(axis, highest + ONE_HZ_MHZ, side="right"))
    return slice(first, max(first, last))


def limit_on(rule: ParameterLimit, axis: F64, table: LimitTable, settings: JudgeSettings) -> Limit:
    """The limit at each frequency of an axis, float64[n]; NaN outside its range.

    A frequency within 1 Hz of an end of the range is taken as that end.
    """
    asked = (table, rule.parameter, rounded_to(table, rule.parameter, settings.interpretations))
    if axis.size > KEPT_POINTS:
        return _line(*asked, axis, settings.grade_c)
    return _kept(*asked, axis_bytes(axis), settings.grade_c)


@lru_cache(maxsize=256)
def _kept(
    table: LimitTable, parameter: str, decimals: int | None, axis: bytes, grade_c: bool
) -> Limit:
    return _line(table, parameter, decimals, np.frombuffer(axis, dtype=np.float64), grade_c)


def _line(
    table: LimitTable, parameter: str, decimals: int | None, axis: F64, grade_c: bool
) -> Limit:
    rule = table.parameters[parameter]
    for end in edges(rule):
        beside = (np.abs(axis - end) <= ONE_HZ_MHZ) & (axis != end)
        if beside.any():
            axis = np.where(beside, end, axis)
    found = rounded_line(table, parameter, axis, decimals)
    usable = found.grade > 0 if grade_c else found.usable
    level = tuple(bound for bound in (rule.cap, rule.floor) if bound is not None)
    return Limit(found.value, found.low, found.high, found.grade, usable, level)
