"""One figure that an export states in two units side by side, as a length in m and in ft."""

from sweepbook.dialect.model import Meaning
from sweepbook.dialect.parameters import quantity_of
from sweepbook.dialect.raw import RawFigure


def spare(one: RawFigure, other: RawFigure, meaning: Meaning) -> RawFigure | None:
    """Which of two figures of one name and role need not be read; None where both say something.

    Args:
        one: the first.
        other: the second.
        meaning: its declared unit is the one to read; of two others the first is.
    """
    units = one.name.unit, other.name.unit
    if not all(units) or units[0] == units[1]:
        return None
    if one.role == "verdict" and one.cell.text.strip() != other.cell.text.strip():
        return None
    declared = meaning.figure_numbers.units[quantity_of(one.name.parameter)]
    return one if other.name.unit == declared else other


def keyed(figure: RawFigure) -> RawFigure:
    """A figure under a key of its own: that of the source, or what it is of with its unit."""
    if figure.key:
        return figure
    return figure._replace(key=f"{figure.role} {figure.name} ({figure.name.unit})")
