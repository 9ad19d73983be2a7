"""Frequencies of curves, held against what sweeps can be: once for all that share them."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.dialect import front, misprints
from sweepbook.dialect.readings import Values

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

HIGHEST_MHZ = (1.0, 10_000.0)
"""The highest frequency of a sweep lies between these for any balanced cabling; else the unit is
wrong. Common practice: categories run from 16 MHz to 2,000 MHz."""


class Doubt(NamedTuple):
    """What is wrong with an axis.

    Attributes:
        at: position of the frequency that shows it.
        message: what was read, what was expected, and the dialect's key to change.
    """

    at: int
    message: str


@dataclass(frozen=True, eq=False)
class Axis:
    """The frequencies of curves.

    Attributes:
        texts: n texts, as they stand in the export.
        read: the same as numbers in MHz; the array is not to be written into.
    """

    texts: Sequence[str]
    read: Values

    @property
    def values(self) -> "NDArray[np.float64]":
        """float64[n], in MHz."""
        return self.read.values

    @cached_property
    def refused(self) -> Doubt | None:
        """Why it cannot be used.

        A text is no number, a frequency is not above 0, a count stands in front of them, or the
        highest shows a wrong unit.
        """
        axis, texts, marks = self.values, self.texts, self.read.marks
        low, high = HIGHEST_MHZ
        if marks:
            mark = marks[0]
            message = f"{mark.as_stated!r} stands where a frequency was expected"
            return Doubt(mark.first, message)
        if not (axis > 0.0).all():
            position = int((axis > 0.0).argmin())
            return Doubt(
                position,
                f"a frequency is above 0, read was {texts[position]!r}; see numbers.decimal, the "
                "key that says where the frequency stands, and the mark between numbers",
            )
        if not low <= axis.max() <= high:
            return Doubt(
                int(axis.argmax()),
                f"the highest frequency would be {axis.max():g} MHz, which no sweep of cabling "
                "has; see units.frequency and numbers.decimal",
            )
        if none := front.counting(texts, axis):
            before = ", ".join(repr(texts[at].strip()) for at in range(none))
            return Doubt(
                0,
                f"the frequencies begin with {before}, of which one counts the "
                f"{axis.size - none} behind: what stands in front is no frequency; see the key "
                "that says where the frequencies begin (of marked lines csv.sections.frequencies)",
            )
        return None

    @cached_property
    def not_rising(self) -> Doubt | None:
        """Where frequencies repeat or fall; they are kept as they are."""
        axis = self.values
        rises = axis[1:] > axis[:-1]
        if rises.all():
            return None
        position = int(rises.argmin()) + 1
        if (lone := misprints.out_of_line(axis)) is not None:
            return Doubt(lone, misprints.lone_frequency(self.texts, lone, position))
        verb = "repeats" if axis[position] == axis[position - 1] else "falls"
        count = int((~rises).sum())
        more = f", and {count - 1} time{'s' if count > 2 else ''} more" if count > 1 else ""
        return Doubt(
            position,
            f"the frequency {verb} at {self.texts[position]}{more}; the points are kept as they "
            "are. Where two tests or two curves run together here, say where a test begins "
            "([csv.test], csv.rows.test, xml.test) or see words.ends and words.pairs; if not, mend "
            "the export",
        )
