"""Raw curves to grids and sweeps of a record, and the faults that physics shows at once."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import TYPE_CHECKING, Any, NamedTuple

from sweepbook.dialect import lost_points, misprints, signs
from sweepbook.dialect.marks import Mark, turned
from sweepbook.dialect.numbers import Numbers
from sweepbook.dialect.parameters import (
    DELAY_NS,
    RAW_LOSSES,
    can_be_swept,
    parameters,
    quantity_of,
)
from sweepbook.dialect.raw import Fault, Name, RawCurve

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

LARGEST_DB = 300.0
"""No receiver reads a loss as large as this; else the decimal mark is wrong. Common practice."""


class _Refused(Exception):
    """The axis of a curve cannot be used; the fault is kept with the grids, once for all curves."""


@dataclass
class _BadAxis:
    """An axis that cannot be used, and how many curves have it."""

    texts: Sequence[str]
    fault: Fault
    curves: int = 0

    def told(self) -> Fault:
        """The fault, with how many curves it is of."""
        if self.curves == 1:
            return self.fault
        message = f"{self.fault.message} (the same in {self.curves} curves)"
        return Fault(self.fault.place, message)


@dataclass
class _Grids:
    """Frequency axes of one test; equal ones are kept once.

    `before` counts those that a reader made itself.
    """

    numbers: Numbers
    before: int = 0
    found: list[tuple[Sequence[str], str]] = field(default_factory=list)
    entries: list[dict[str, Any]] = field(default_factory=list)
    bad: list[_BadAxis] = field(default_factory=list)
    notes: list[Fault] = field(default_factory=list)

    def grid(self, curve: RawCurve) -> str:
        """Id of the curve's axis; a new one is read and held against physics.

        Raises:
            _Refused: a frequency is no number, not above 0, or the unit cannot be right.
        """
        for texts, known in reversed(self.found):
            if texts is curve.frequency or texts == curve.frequency:
                return known
        for refused in self.bad:
            if refused.texts is curve.frequency or refused.texts == curve.frequency:
                break
        else:
            try:
                return self._new(curve)
            except Fault as fault:
                refused = _BadAxis(curve.frequency, fault)
                self.bad.append(refused)
        refused.curves += 1
        raise _Refused

    def _new(self, curve: RawCurve) -> str:
        """Id of an axis that is read now.

        Raises:
            Fault: it cannot be used.
        """
        axis = self.numbers.axis(curve.frequency, curve.axis_place_of)
        if axis.refused:
            raise Fault(curve.axis_place_of(axis.refused.at), axis.refused.message)
        if note := axis.not_rising:
            self.notes.append(Fault(curve.axis_place_of(note.at), note.message))
        name = f"g{self.before + len(self.entries) + 1}"
        self.found.append((curve.frequency, name))
        self.entries.append({"id": name, "frequency_mhz": axis.values})
        return name


def build(
    curves: Sequence[RawCurve],
    numbers: Numbers,
    negative: Callable[[Name], bool],
    before: int = 0,
) -> tuple[list[dict[str, Any]], list[dict[str, Any]], list[Fault], list[Fault]]:
    """Turn the curves of one test into a record's grids and sweeps.

    Args:
        curves: the curves as texts.
        numbers: how the export writes numbers.
        negative: whether a curve is exported with the opposite sign.
        before: grids that the test has already, g1 and so on.

    Returns:
        grids, sweeps, the faults that lose the test, and the notes that do not.
    """
    grids = _Grids(numbers, before)
    sweeps: list[dict[str, Any]] = []
    faults: list[Fault] = []
    seen: dict[Name, RawCurve] = {}
    read: list[tuple[RawCurve, str]] = []
    for curve in curves:
        try:
            if seen.setdefault(curve.name.bare, curve) is not curve:
                raise Fault(curve.place_of(0), f"the curve '{curve.name}' comes a second time")
            sweeps.append(_sweep(curve, grids, numbers, negative=negative(curve.name)))
            read.append((curve, sweeps[-1]["grid"]))
        except _Refused:
            continue
        except Fault as fault:
            faults.append(fault)
    faults = [*(bad.told() for bad in grids.bad), *signs.told(faults, sweeps)]
    axes = {entry["id"]: entry["frequency_mhz"] for entry in grids.entries}
    return grids.entries, sweeps, faults, [*grids.notes, *lost_points.notes(read, axes)]


def _sweep(curve: RawCurve, grids: _Grids, numbers: Numbers, *, negative: bool) -> dict[str, Any]:
    """One sweep of the record.

    Raises:
        Fault: a text is no number, or the values contradict the declared sign or unit.
        _Refused: the axis cannot be used.
    """
    name = curve.name
    kind = _kind(name)
    if kind.unfit:
        raise Fault(curve.place_of(0), kind.unfit)
    grid = grids.grid(curve)
    if name.unit:
        numbers = numbers.in_unit(kind.quantity, name.unit)
    read = numbers.curve(curve.value, kind.quantity, curve.place_of)
    values, decimals, marks, span, resolution = read
    if negative:
        values, span = _other_sign(values), span and (-span[1], -span[0])
        marks = marks and turned(marks)
    values.setflags(write=False)
    if values.size:
        least, greatest = span or (float(values.min()), float(values.max()))
        _check_values(curve, values, marks, least, greatest, negative=negative)
    sweep: dict[str, Any] = {"parameter": name.parameter}
    if name.end:
        sweep["end"] = name.end
    sweep["pairs"], sweep["grid"], sweep["decimals"] = list(name.pairs), grid, decimals
    if resolution is not None:
        sweep["resolution"] = resolution
    sweep[kind.value_name] = values
    return sweep | _marks(marks) if marks else sweep


def _other_sign(values: "NDArray[np.float64]") -> "NDArray[np.float64]":
    """The values with the opposite sign, never minus zero; written over where that can be done."""
    import numpy as np

    return np.subtract(0.0, values, out=values if values.flags.writeable else None)


class _Kind(NamedTuple):
    """What is known of the curves of a name.

    Attributes:
        unfit: why a record can hold none of them; "" where it can.
        quantity: what their values are.
        value_name: what a record calls these.
    """

    unfit: str
    quantity: str
    value_name: str


@lru_cache(maxsize=1024)
def _kind(name: Name) -> _Kind:
    """What is known of the curves of a name: the same in every test."""
    parameter = parameters()[name.parameter]
    return _Kind(_unfit(name), parameter.quantity, parameter.value_name)


def _unfit(name: Name) -> str:
    """Why a record can hold no curve of a name: it is none, or lacks its end; "" where it can."""
    parameter = name.parameter
    if not can_be_swept(parameter):
        return (
            f"{parameter} is a single figure, but has a frequency here; see [figures], and the "
            "templates that name curves"
        )
    if parameters()[parameter].end == "each" and name.end is None:
        return (
            f"'{name}' names no end; add {{end}} to the name, or \"\" to words.ends.near or "
            "words.ends.far if names without an end always mean that one"
        )
    return ""


def _marks(marks: Sequence[Mark]) -> dict[str, Any]:
    """The members `gaps` and `bounds`, those that are needed."""
    gaps = [
        {
            "from": mark.first,
            "to": mark.last,
            **({"as_stated": mark.as_stated} if mark.as_stated else {}),
            "reason": "no value in the source",
        }
        for mark in marks
        if mark.kind == "gap"
    ]
    bounds = [
        {
            "from": mark.first,
            "to": mark.last,
            "bound": mark.kind,
            "as_stated": mark.as_stated,
        }
        for mark in marks
        if mark.kind != "gap"
    ]
    return ({"gaps": gaps} if gaps else {}) | ({"bounds": bounds} if bounds else {})


def _check_values(
    curve: RawCurve,
    values: "NDArray[np.float64]",
    marks: Sequence[Mark],
    least: float,
    greatest: float,
    *,
    negative: bool,
) -> None:
    """Hold the values of a curve, in the record's unit, against physics.

    Args:
        curve: for its name and places.
        values: float64[n], those outside gaps.
        marks: of the curve.
        least: of the values.
        greatest: of the values.
        negative: whether the export writes them with the opposite sign.

    Raises:
        Fault: the sign, the unit or the decimal mark cannot be right.
    """
    parameter = curve.name.parameter
    furthest = max(-least, greatest)
    if least < 0.0 and parameter in RAW_LOSSES and int((values < 0.0).sum()) * 2 > values.size:
        raise signs.OtherSign(curve, negative=negative)
    if not furthest <= LARGEST_DB and quantity_of(parameter) == "loss":
        raise misprints.beyond(curve, values, marks, furthest, LARGEST_DB)
    low, high = DELAY_NS
    if parameter == "propagation_delay" and not low <= furthest <= high:
        raise Fault(
            curve.place_of(0),
            f"'{curve.name}' would reach {greatest:g} ns, which no cable has; see units.delay",
        )
