"""The option line: # <frequency unit> <parameter> <format> R <reference>, in any order.

Defaults and letters are those of Touchstone 1.1 and 2.0 (recalled): GHz, S, MA, R 50; upper and
lower case are the same.
"""

from typing import NamedTuple

from sweepbook import numerals

SHIFTS = {"HZ": -6, "KHZ": -3, "MHZ": 0, "GHZ": 3}
"""Power of ten from a unit of the frequency to MHz."""
PARAMETERS = ("S", "Y", "Z", "G", "H")
FORMS = ("RI", "MA", "DB")
LEAST_OHM, MOST_OHM = 1.0, 10_000.0
"""Reference impedances of ports that are read: far around those of 25 to 600 ohm that instruments
and lines have (common practice, no source)."""


class Options(NamedTuple):
    """What the option line says.

    Attributes:
        unit: of the frequency, as written.
        parameter: S, Y, Z, G or H.
        form: RI (real, imaginary), MA (magnitude, degrees) or DB (20 log of it, degrees).
        reference_ohm: impedance that all ports refer to, of version 1.
        text: the line.
    """

    unit: str = "GHz"
    parameter: str = "S"
    form: str = "MA"
    reference_ohm: float = 50.0
    text: str = "#"

    @property
    def shift(self) -> int:
        """Power of ten from the unit of the frequency to MHz."""
        return SHIFTS[self.unit.upper()]


class NotOptions(ValueError):
    """A line that begins with # is no option line."""


def parse(text: str) -> Options:
    """Read an option line.

    Raises:
        NotOptions: it holds something else, or one thing twice; says what.
    """
    words = text.removeprefix("#").split()
    found: dict[str, str | float] = {}
    while words:
        word = words.pop(0)
        name, value = _named(word)
        if name in found:
            raise NotOptions(f"{word!r} says the {name.removesuffix('_ohm')} a second time")
        found[name] = value or _reference(words.pop(0) if words else "")
    return Options(text=text, **found)  # type: ignore[arg-type]


def _named(word: str) -> tuple[str, str]:
    upper = word.upper()
    for name, known in (("unit", SHIFTS), ("parameter", PARAMETERS), ("form", FORMS)):
        if upper in known:
            return name, word if name == "unit" else upper
    if upper == "R":
        return "reference_ohm", ""
    raise NotOptions(
        f"{word!r} was read, expected are Hz, kHz, MHz or GHz; S; RI, MA or DB; R and one number"
    )


def _reference(word: str) -> float:
    try:
        value = numerals.parse(word).value
    except numerals.NotANumber:
        value = 0.0
    if not LEAST_OHM <= value <= MOST_OHM:
        raise NotOptions(
            f"one impedance of {LEAST_OHM:g} to {MOST_OHM:g} ohm is expected behind R, not {word!r}"
        )
    return value
