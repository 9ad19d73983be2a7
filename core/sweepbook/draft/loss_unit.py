"""The unit of losses: named beside curves, or by what a loss of cabling can be."""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from sweepbook.dialect.parameters import quantity_of
from sweepbook.dialect.sweeps import LARGEST_DB
from sweepbook.dialect.units import PARTS, spellings_of, unit_of
from sweepbook.draft.curve_facts import Measured
from sweepbook.draft.document import FOUND, UNSETTLED, UNTOLD, Note
from sweepbook.draft.legend_units import Units

PLAIN = "dB"
_LARGEST = (15.0, 150.0)
"""dB between which the largest return loss or crosstalk of a link lies: return loss is seldom below
20 dB at its best, and a receiver ends at some 100. A decade, so that one part of a unit fits.
Common practice, no source."""


class LossUnit(NamedTuple):
    """The unit of losses, as a dialect calls it, and what that rests on; None where it is usual."""

    name: str = PLAIN
    note: Note | None = None


def settle(
    told: Units, spelled: Sequence[str], texts: Iterable[str], curves: Sequence[Measured]
) -> LossUnit:
    """Find the unit.

    Args:
        told: units that the export explains.
        spelled: spellings of units of loss in names of curves and figures.
        texts: those of keys, of which one may be the unit.
        curves: as numbers.
    """
    if unit := told.only("loss"):
        note = Note(FOUND, "the file says so", told.texts["loss"])
        return LossUnit(unit, note if unit != PLAIN else None)
    known = spellings_of("loss")
    named = [text for text in (*spelled, *texts) if known.get(text, PLAIN) != PLAIN]
    if named:
        return LossUnit(known[named[0]], Note(FOUND, "named in the file", named[:1]))
    return _by_size(curves)


def _by_size(curves: Sequence[Measured]) -> LossUnit:
    """By the largest value, where that is none in dB."""
    sizes: dict[bool, float] = {}
    for curve in curves:
        parameter = curve.name.parameter
        if parameter and quantity_of(parameter) == "loss":
            largest = max((abs(value) for value in curve.value if value is not None), default=0.0)
            lost = parameter == "insertion_loss"
            sizes[lost] = max(sizes.get(lost, 0.0), largest)
    largest = max(sizes.values(), default=0.0)
    if largest <= LARGEST_DB:
        return LossUnit()
    said = f"{largest:g} dB is what nothing measures"
    low, high = _LARGEST
    for part in PARTS:
        name = f"{part} {PLAIN}"
        shown = sizes.get(False, 0.0) * unit_of("loss", name).times
        if low < shown <= high:
            note = (
                f"{said}; in {name} the largest return loss or crosstalk is {shown:g} dB. Where "
                'margins are in dB all the same, add figures = { loss = "dB" }'
            )
            return LossUnit(name, Note(FOUND, note))
    note = f"{said}, and no return loss or crosstalk shows which part of a dB is counted"
    return LossUnit(UNSETTLED, Note(UNTOLD, note))


def scaled(unit: LossUnit, curves: Sequence[Measured]) -> list[Measured]:
    """Curves with their losses in dB."""
    if unit.name in (PLAIN, UNSETTLED):
        return [*curves]
    times = unit_of("loss", unit.name).times
    return [
        curve._replace(value=[None if value is None else value * times for value in curve.value])
        if curve.name.parameter and quantity_of(curve.name.parameter) == "loss"
        else curve
        for curve in curves
    ]
