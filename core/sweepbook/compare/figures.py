"""Single figures of two tests of one link: length, delay and resistance, one beside the other."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

UNITS = {"length_m": "m", "delay_ns": "ns", "resistance_ohm": "ohm"}
MOST_SHARE = 0.2
MOST = {"length": 3.0, "propagation_delay": 15.0}
"""How far two tests of one cable may be apart, in m and ns and as a share of the larger figure.

Work on its ends takes off centimetres, another velocity of propagation some percent. Common
practice, no source; the rule about lengths of one label has the same figures."""

Figures = Mapping[tuple[str, str], tuple[float, str]]
"""Value and unit by parameter and pairs."""


@dataclass(frozen=True, slots=True)
class Figure:
    """A single figure that both tests have.

    Attributes:
        parameter: word of the vocabulary.
        pairs: "1-2", "1-2/3-6", or "" for the whole link.
        earlier, later: value in the one test and the other, in `unit`.
        unit: m, ns or ohm.
    """

    parameter: str
    pairs: str
    earlier: float
    later: float
    unit: str

    @property
    def apart(self) -> float:
        """Later less earlier."""
        return self.later - self.earlier

    @property
    def of_another_cable(self) -> bool:
        """Whether no work on the ends of one cable explains it."""
        most = MOST.get(self.parameter)
        largest = max(abs(self.earlier), abs(self.later))
        return most is not None and abs(self.apart) > max(most, MOST_SHARE * largest)


def figures_of(document: Mapping[str, Any]) -> Figures:
    """The lengths, delays and resistances of a record that follows its schema."""
    return {
        (one["parameter"], "/".join(one["pairs"])): (float(one[size]), unit)
        for one in document["results"].get("scalars", ())
        for size, unit in UNITS.items()
        if size in one
    }


def held_together(first: Figures, second: Figures) -> Iterator[Figure]:
    """Each figure that both have in one unit, in the order of the earlier test."""
    for (parameter, pairs), (value, unit) in first.items():
        later, its_unit = second.get((parameter, pairs), (0.0, ""))
        if unit == its_unit:
            yield Figure(parameter, pairs, value, later, unit)


def telling(figures: Sequence[Figure]) -> list[Figure]:
    """Of each parameter the figure that differs most."""
    most: dict[str, Figure] = {}
    for one in figures:
        best = most.setdefault(one.parameter, one)
        if abs(one.apart) > abs(best.apart):
            most[one.parameter] = one
    return list(most.values())
