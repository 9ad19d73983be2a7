"""What becomes of numbers of an export: one of a cell, or those of a curve."""

from typing import TYPE_CHECKING, NamedTuple

from sweepbook.dialect.marks import OTHER_BOUND, Mark

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray


class Values(NamedTuple):
    """Numbers of a curve.

    Attributes:
        values: float64[n], those outside gaps in the record's unit.
        decimals: the most digits of any after the mark.
        marks: gaps and clipped stretches, rising.
        span: the least and the greatest value, where that came with the reading.
        resolution: the last digit's worth in the record's unit, where `decimals` does not say it.
    """

    values: "NDArray[np.float64]"
    decimals: int
    marks: list[Mark]
    span: tuple[float, float] | None = None
    resolution: float | None = None


class Reading(NamedTuple):
    """A number in the record's unit.

    Attributes:
        value: the double nearest to the decimal of the export, after unit and sign.
        decimals: digits after the mark in the record's unit.
        resolution: the last digit's worth in the record's unit, where that is no power of ten.
        bound: at_least or at_most where the export clipped the value, else None.
    """

    value: float
    decimals: int
    resolution: float | None = None
    bound: str | None = None


def turned(reading: Reading) -> Reading:
    """A number with the opposite sign, never minus zero."""
    return reading._replace(
        value=0.0 - reading.value, bound=reading.bound and OTHER_BOUND[reading.bound]
    )
