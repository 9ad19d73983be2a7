"""Units of an export, and how a number in them becomes one in the record's unit."""

from decimal import Decimal
from functools import cache
from typing import NamedTuple


class Unit(NamedTuple):
    """How a unit relates to the record's unit of the same quantity.

    Attributes:
        shift: power of ten, done by moving the decimal mark.
        factor: exact factor where no power of ten will do, else None.
        offset: what is taken off before the factor.
        spellings: how the unit may stand beside a number in a cell.
    """

    shift: int
    factor: Decimal | None = None
    offset: Decimal = Decimal(0)
    spellings: tuple[str, ...] = ()


_OHM_SIGNS = ("\N{GREEK CAPITAL LETTER OMEGA}", "\N{OHM SIGN}")

UNITS: dict[str, dict[str, Unit]] = {
    "frequency": {
        "Hz": Unit(-6, spellings=("Hz",)),
        "kHz": Unit(-3, spellings=("kHz",)),
        "MHz": Unit(0, spellings=("MHz",)),
        "GHz": Unit(3, spellings=("GHz",)),
    },
    "loss": {"dB": Unit(0, spellings=("dB",))},
    "delay": {
        "ps": Unit(-3, spellings=("ps",)),
        "ns": Unit(0, spellings=("ns",)),
        "us": Unit(3, spellings=("us", "\N{MICRO SIGN}s", "\N{GREEK SMALL LETTER MU}s")),
    },
    "length": {
        "m": Unit(0, spellings=("m",)),
        "ft": Unit(0, Decimal("0.3048"), spellings=("ft", "'")),
    },
    "resistance": {
        "ohm": Unit(0, spellings=("ohm", "Ohm", "OHM", "ohms", "Ohms", "OHMS", *_OHM_SIGNS)),
        "mohm": Unit(
            -3, spellings=("mohm", "mOhm", "mohms", "mOhms", *(f"m{sign}" for sign in _OHM_SIGNS))
        ),
    },
    "unbalance": {"%": Unit(0, spellings=("%",))},
    "temperature": {
        "C": Unit(0, spellings=("C", "\N{DEGREE SIGN}C")),
        "F": Unit(0, Decimal(5) / Decimal(9), Decimal(32), ("F", "\N{DEGREE SIGN}F")),
    },
    "nvp": {"fraction": Unit(0), "%": Unit(-2, spellings=("%",))},
}
"""The international foot is 0.3048 m exactly (NIST SP 811, 2008, appendix B.6)."""


@cache
def longest_first(spellings: tuple[str, ...]) -> tuple[str, ...]:
    """Spellings of a unit with those first that may end in another one."""
    return tuple(sorted(spellings, key=len, reverse=True))


DEFAULTS = {
    "frequency": "MHz",
    "loss": "dB",
    "delay": "ns",
    "length": "m",
    "resistance": "ohm",
    "unbalance": "%",
    "temperature": "C",
    "nvp": "fraction",
}
