"""Units of an export, and how a number in them becomes one in the record's unit."""

import re
from collections.abc import Mapping, Sequence
from decimal import Decimal
from functools import cache
from typing import NamedTuple


class Unit(NamedTuple):
    """How a unit relates to the record's unit of the same quantity.

    Attributes:
        shift: power of ten, done by moving the decimal mark.
        factor: exact factor where no power of ten will do, else None.
        offset: what is taken off before the factor.
        spellings: how the unit may stand beside a number in a cell, or in a title.
    """

    shift: int
    factor: Decimal | None = None
    offset: Decimal = Decimal(0)
    spellings: tuple[str, ...] = ()

    @property
    def moved(self) -> int:
        """Power of ten with which a number is read; 0 where `scale` is multiplied with after."""
        return self.shift if self.scale is None else 0

    @property
    def scale(self) -> Decimal | None:
        """What a number is multiplied with once it is read; None where moving the mark will do.

        A unit larger than the record's leaves places before the mark that the source did not give:
        4 in units of 10 m is 40 m, give or take 5.
        """
        if self.factor is not None:
            return self.factor
        return Decimal(1).scaleb(self.shift) if self.shift > 0 else None

    @property
    def times(self) -> float:
        """How many of the record's unit it is, its offset apart."""
        return float(self.factor if self.factor is not None else Decimal(1).scaleb(self.shift))


_OHM_SIGNS = ("\N{GREEK CAPITAL LETTER OMEGA}", "\N{OHM SIGN}")

UNITS: dict[str, dict[str, Unit]] = {
    "frequency": {
        "Hz": Unit(-6, spellings=("Hz", "Гц", "赫兹")),
        "kHz": Unit(-3, spellings=("kHz", "кГц", "千赫")),
        "MHz": Unit(0, spellings=("MHz", "МГц", "兆赫")),
        "GHz": Unit(3, spellings=("GHz", "ГГц", "吉赫")),
    },
    "loss": {"dB": Unit(0, spellings=("dB", "дБ", "分贝", "分貝"))},
    "delay": {
        "ps": Unit(-3, spellings=("ps", "пс", "皮秒")),
        "ns": Unit(0, spellings=("ns", "нс", "纳秒", "奈秒", "ナノ秒")),
        "us": Unit(
            3,
            spellings=("us", "\N{MICRO SIGN}s", "\N{GREEK SMALL LETTER MU}s", "мкс", "微秒"),
        ),
    },
    "length": {
        "m": Unit(0, spellings=("m", "м", "米", "公尺", "メートル")),
        "cm": Unit(-2, spellings=("cm", "см", "厘米")),
        "mm": Unit(-3, spellings=("mm", "мм", "毫米")),
        "ft": Unit(0, Decimal("0.3048"), spellings=("ft", "'", "英尺")),
    },
    "resistance": {
        "ohm": Unit(
            0,
            spellings=(
                "ohm",
                "Ohm",
                "OHM",
                "ohms",
                "Ohms",
                "OHMS",
                "om",
                "Ом",
                "欧姆",
                *_OHM_SIGNS,
            ),
        ),
        "mohm": Unit(
            -3,
            spellings=(
                *("mohm", "mOhm", "mohms", "mOhms", "мОм", "毫欧"),
                *(f"m{sign}" for sign in _OHM_SIGNS),
            ),
        ),
    },
    "unbalance": {"%": Unit(0, spellings=("%",))},
    "temperature": {
        "C": Unit(0, spellings=("C", "\N{DEGREE SIGN}C")),
        "F": Unit(0, Decimal(5) / Decimal(9), Decimal(32), ("F", "\N{DEGREE SIGN}F")),
    },
    "nvp": {"fraction": Unit(0), "%": Unit(-2, spellings=("%",))},
}
"""The international foot is 0.3048 m exactly (NIST SP 811, 2008, appendix B.6).

Spellings in Cyrillic are those of GOST 8.417, in Chinese and Japanese those of use: from memory.
"""

Spelt = tuple[tuple[str, tuple[str, ...]], ...]
"""Further spellings by the name of their unit, as a dialect declares them."""


_SCALED = re.compile(r"([0-9]{1,9}(?:\.[0-9]{1,12})?) (\S.*)")
_MOST_PLACES = 9
"""Powers of ten that are spelled out: no export counts in smaller parts."""


@cache
def unit_of(quantity: str, called: str, spelt: Spelt = ()) -> Unit:
    """A unit by its name, or so many of it: "dB", "0.01 dB", "31.25 kHz".

    Args:
        quantity: a key of `UNITS`.
        called: one of its units, or a decimal number above 0, a blank and one of its units.
        spelt: further spellings.

    Raises:
        ValueError: that is no unit of the quantity.
    """
    known = UNITS[quantity]
    if called in known:
        more = dict(spelt).get(called, ())
        return known[called]._replace(spellings=(*known[called].spellings, *more))
    found = _SCALED.fullmatch(called)
    if found is None or found[2] not in known or not Decimal(found[1]):
        raise ValueError(f"{called!r} is no unit of {quantity}")
    times, unit = Decimal(found[1]), unit_of(quantity, found[2], spelt)
    spellings = _spelled(times, unit.spellings or (found[2],))
    scale = times * (unit.factor or 1)
    places = scale.normalize().as_tuple()
    if unit.factor is None and places.digits == (1,):
        return Unit(unit.shift + int(places.exponent), None, unit.offset / times, spellings)
    return Unit(0, scale.scaleb(unit.shift), unit.offset / times, spellings)


def _spelled(times: Decimal, units: tuple[str, ...]) -> tuple[str, ...]:
    """How so many of a unit are written in titles: 0.01 dB, dB/100, 1/100 dB, 1e-2 dB."""
    plain = f"{times.normalize():f}"
    found = [f"{number} {unit}" for unit in units for number in (plain, plain.replace(".", ","))]
    _, digits, exponent = times.normalize().as_tuple()
    if digits == (1,) and -_MOST_PLACES <= int(exponent) < 0:
        parts = 10 ** -int(exponent)
        found += [
            form.format(unit=unit, parts=parts)
            for unit in units
            for form in ("{unit}/{parts}", "{unit} / {parts}", "1/{parts} {unit}")
        ]
    return tuple(dict.fromkeys(found))


PARTS = ("0.1", "0.01", "0.001")
"""Parts of a unit in which exports count: common practice, no source."""


@cache
def spellings_of(quantity: str) -> dict[str, str]:
    """Name of a unit by how it is written, of all units of a quantity and of their parts."""
    names = [*UNITS[quantity], *(f"{part} {name}" for name in UNITS[quantity] for part in PARTS)]
    return {text: name for name in reversed(names) for text in unit_of(quantity, name).spellings}


def spelt_of(declared: Mapping[str, Sequence[str]]) -> Spelt:
    """Further spellings as a dialect declares them.

    Args:
        declared: spellings by the name of a unit.

    Raises:
        ValueError: there is no such unit, or a spelling is a number or that of another unit.
    """
    made = tuple((name, tuple(some)) for name, some in declared.items())
    for name, some in made:
        of = [quantity for quantity, units in UNITS.items() if name in units]
        if not of:
            raise ValueError(f"{name!r} is no unit")
        for text in some:
            if text != text.strip() or not text or any(map(str.isdigit, text)):
                raise ValueError(
                    f"{text!r} cannot stand for {name}: it has a digit or outer blanks"
                )
            for quantity in of:
                for unit in UNITS[quantity]:
                    if unit != name and text in unit_of(quantity, unit, made).spellings:
                        raise ValueError(f"{text!r} is declared for {name}, and stands for {unit}")
    return made


@cache
def in_names(quantity: str, declared: str, figures: str = "") -> tuple[str, ...]:
    """The units that may stand in a name and are then those of what it names, declared ones first.

    Whose numbers are declared to be parts of a unit may write the unit itself all the same, so
    that this is none of them.

    Args:
        quantity: a key of `UNITS`.
        declared: the export's unit.
        figures: its unit of single figures, where that is another one.
    """
    said = [declared, figures] if figures else [declared]
    counted = {name for name in UNITS[quantity] for of in said if of.endswith(f" {name}")}
    return tuple(dict.fromkeys([*said, *(name for name in UNITS[quantity] if name not in counted)]))


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
