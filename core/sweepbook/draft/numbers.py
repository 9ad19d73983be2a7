"""How an export writes numbers: marks, words for nothing, clipped values, the unit of frequency."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import pairwise

from sweepbook.dialect.units import UNITS, spellings_of
from sweepbook.draft import phrases
from sweepbook.draft.trade_words import FREQUENCY, NO_VALUE
from sweepbook.numerals import POINT, NotANumber, Notation, parse, plainly

_GROUPS = "' \u2019\u00a0\u2009\u202f"
"""Marks between groups of three digits that part no decimals: an apostrophe, a blank."""
NUMERAL = rf"[0-9]+(?:[{_GROUPS}][0-9]{{3}}){{0,4}}(?:[.,][0-9]+){{0,5}}"
"""Pattern of a number without a sign, in any notation."""
NUMERIC = re.compile(rf"[+-]?{NUMERAL}(?:[eE][+-]?[0-9]+)?|[+-]?[.,][0-9]+")
_DIGITS = rf"[+-]?[0-9]++(?:[{_GROUPS}][0-9]{{3}})*+[0-9.,]*+"
"""Nothing of it is given back, or a long row of digits would be tried at every length."""
_CLIPPED = re.compile(rf"([<>\u2264\u2265]=?\s*)({_DIGITS})|({_DIGITS})(\s*\+)")
FREQUENCIES = tuple(text for unit in UNITS["frequency"].values() for text in unit.spellings)
"""How units of frequency are written."""
_OF_CURVES = (*UNITS["loss"]["dB"].spellings, *FREQUENCIES)
_WITH_UNIT = re.compile(
    rf"((?:[<>\u2264\u2265]=?\s*)?{_DIGITS}(?:\s*\+)?)\s*"
    rf"({'|'.join(map(re.escape, _OF_CURVES))})"
)
_GROUPED = re.compile(rf"[+-]?[0-9]{{1,3}}(?:([.,{_GROUPS}])[0-9]{{3}})+")
_UNIT = re.compile(r"(?<![^\W\d_])([kKMG]?)(?:Hz|hz|HZ)(?![^\W\d_])|(kilo|mega|giga)?hertz", re.I)
_FURTHER_UNIT = re.compile(
    "|".join(
        rf"(?<![^\W\d_]){re.escape(text)}(?![^\W\d_])" for text in FREQUENCIES if not text.isascii()
    )
)
_BETWEEN_NUMBERS = re.compile(r"\s*[;|]\s*|\s+")
_PLAIN = re.compile(r"[+-]?[0-9]+(?:\.[0-9]+)?")
_LEAST_OF_AN_AXIS = 20
_RISING = 0.9
_SPAN = 4.0
"""The highest frequency of a sweep is at least so many times the lowest."""
_HIGHEST = (15.0, 3_000.0)
"""MHz where sweeps of balanced cabling end: categories run from 16 MHz to 2,000 MHz."""
_ENDS_OF_CLASSES = (16.0, 20.0, 100.0, 250.0, 500.0, 600.0, 1_000.0, 2_000.0)
"""MHz where classes and categories end: ISO/IEC 11801-1 and ANSI/TIA-568, recalled."""
_ABOUT = 0.05


def without_unit(text: str) -> tuple[str, str]:
    """A number without the unit behind it, where that is one of curves, and the unit or ""."""
    found = _WITH_UNIT.fullmatch(text) if text.endswith(_OF_CURVES) else None
    return (found[1], found[2]) if found else (text, "")


def _are_several(text: str) -> bool:
    """Whether a text is several numbers with blanks or marks of a list between them."""
    pieces = _BETWEEN_NUMBERS.split(text.strip())
    return len(pieces) > 1 and all(map(is_numeric, pieces))


@lru_cache(maxsize=65_536)
def is_numeric(text: str) -> bool:
    """Whether a text is a number in some notation, clipped or not."""
    text = text.strip()
    return NUMERIC.fullmatch(text) is not None or _CLIPPED.fullmatch(text) is not None


def is_figure(text: str) -> bool:
    """Whether a text is a number, and no pair."""
    return is_numeric(text) and not phrases.PAIR_LIKE.fullmatch(text)


def either(text: str) -> float | None:
    """The number of a text in which either mark may part the decimals; None for any other text."""
    plain = text.strip().replace(",", ".")
    if (found := plainly(plain, POINT)) is not None:
        return found.value
    try:
        return parse(plain, POINT).value
    except NotANumber:
        return None


def values_of(texts: Sequence[str]) -> list[float] | None:
    """Numbers in the notation that they show together; None where one of them is none.

    Where no notation fits all, either mark may part the decimals of each.
    """
    texts = [text.strip() for text in texts]
    if not all(map(NUMERIC.fullmatch, texts)):
        return None
    plain = all(map(_PLAIN.fullmatch, texts))
    notation = POINT if plain else _marks(texts, texts)[0]
    try:
        return [(plainly(of, notation) or parse(of, notation)).value for of in texts]
    except NotANumber:
        values = [of for text in texts if (of := either(text)) is not None]
        return values if len(values) == len(texts) else None


def rises(texts: Sequence[str]) -> bool:
    """Whether all texts are such numbers, and each is larger than the one before."""
    values = values_of(texts)
    return values is not None and all(a < b for a, b in pairwise(values))


@dataclass
class Notes:
    """What was found of numbers.

    Attributes:
        notation: decimal and thousands marks.
        sure: whether the decimal mark was seen.
        missing: words where a value should stand.
        at_least, at_most: forms of clipped values.
        samples: numbers seen with the decimal mark.
        clipped: clipped values as they stand.
    """

    notation: Notation = field(default_factory=Notation)
    sure: bool = False
    missing: list[str] = field(default_factory=list)
    at_least: list[str] = field(default_factory=list)
    at_most: list[str] = field(default_factory=list)
    samples: list[str] = field(default_factory=list)
    clipped: list[str] = field(default_factory=list)

    def lack(self, texts: Iterable[str]) -> None:
        """Keep texts that stand where a value should, each once; several numbers are no word."""
        kept = {*self.missing}
        self.missing += [
            of for of in dict.fromkeys(texts) if of not in kept and not _are_several(of)
        ]

    def value(self, text: str) -> float | None:
        """The number of a text, its mark of clipping left out; None for anything else."""
        text = text.strip()
        if (found := plainly(text, self.notation)) is not None:
            return found.value
        clipped = _CLIPPED.fullmatch(text)
        if clipped:
            text = clipped[2] or clipped[3]
        try:
            return parse(text, self.notation).value
        except NotANumber:
            return None

    def plain(self, text: str) -> float | None:
        """The number of a text; None for anything else, a clipped one included."""
        return None if _CLIPPED.fullmatch(text.strip()) else self.value(text)


def look_at(values: Iterable[str], frequencies: Iterable[str], singles: Iterable[str]) -> Notes:
    """Find the notation.

    Args:
        values: texts of curves.
        frequencies: texts of axes.
        singles: single figures.
    """
    values, axes = list(values), list(frequencies)
    found = Notes()
    texts = [text for text in (*values, *singles) if is_numeric(text)]
    found.notation, found.sure, found.samples = _marks(texts, axes)
    for text in dict.fromkeys(text.strip() for text in values):
        clipped = _CLIPPED.fullmatch(text)
        if clipped:
            found.clipped.append(text)
            form = f"{clipped[1]}{{}}" if clipped[1] else f"{{}}{clipped[4]}"
            kept = found.at_most if form[0] in "<\u2264" else found.at_least
            if form not in kept:
                kept.append(form)
        elif found.value(text) is None:
            found.lack([text])
    return found


def _marks(texts: Sequence[str], axes: Sequence[str]) -> tuple[Notation, bool, list[str]]:
    """Decimal and thousands mark, whether the first was seen, and where."""
    decimals = {mark: [t for t in texts if _is_decimal(t, mark)] for mark in ".,"}
    mark = "," if len(decimals[","]) > len(decimals["."]) else "."
    seen = decimals[mark]
    if not seen:
        seen = [t for t in axes if "." in t or "," in t]
        plain = [t for t in seen if not _GROUPED.fullmatch(t)]
        mark = "," if plain and all("," in t for t in plain) else "."
        seen = plain
    thousands = ""
    for text in (*axes, *texts):
        grouped = _GROUPED.match(text.strip())
        if grouped and grouped[1] != mark and (thousands in ("", grouped[1])):
            thousands = grouped[1]
    return Notation(mark, thousands), bool(seen), seen[:3]


def _is_decimal(text: str, mark: str) -> bool:
    """Whether a mark in a text parts the decimals for certain."""
    text = text.strip()
    if text.count(mark) != 1:
        return False
    other = "," if mark == "." else "."
    if other in text:
        return text.index(other) < text.index(mark)
    return len(re.sub(r"[^0-9]", "", text.rpartition(mark)[2])) != 3 or text.lstrip(
        "+-"
    ).startswith(f"0{mark}")


def unit_named(text: str) -> str | None:
    """The unit of frequency that a text names, e.g. "Freq (kHz)"."""
    match = _UNIT.search(text)
    if match is None:
        further = None if text.isascii() else _FURTHER_UNIT.search(text)
        return spellings_of("frequency")[further[0]] if further else None
    if match[0].lower().endswith("hertz"):
        word = (match[2] or "").lower()
        return {"": "Hz", "kilo": "kHz", "mega": "MHz", "giga": "GHz"}[word]
    return {"": "Hz", "k": "kHz", "m": "MHz", "g": "GHz"}[match[1].lower()]


@lru_cache(maxsize=4096)
def is_frequency(title: str) -> bool:
    """Whether a title is that of an axis."""
    if unit_named(title):
        return not phrases.has(title, NO_VALUE)
    return phrases.has(title, FREQUENCY) or title in ("f", "F")


def is_sweep(texts: Sequence[str]) -> bool:
    """Whether many numbers are the axes of sweeps, which run up and begin again for each curve.

    A sweep spans many times its lowest frequency and ends where those of cabling do; running
    numbers of records seldom do both.
    """
    values = values_of(texts)
    if values is None or len(values) < _LEAST_OF_AN_AXIS or min(values) < 0.0:
        return False
    rising = sum(a < b for a, b in pairwise(values))
    wide = max(values) >= _SPAN * min(values)
    return wide and bool(units_possible(max(values))) and rising >= _RISING * (len(values) - 1)


def units_possible(highest: float) -> list[str]:
    """The units in which a highest frequency is one that sweeps of cabling end at."""
    units = UNITS["frequency"].items()
    return [name for name, unit in units if is_highest(highest * 10.0**unit.shift)]


def is_highest(mhz: float) -> bool:
    """Whether sweeps of cabling end at such a frequency."""
    low, high = _HIGHEST
    return low <= mhz <= high


def is_end_of_class(mhz: float) -> bool:
    """Whether a class of balanced cabling ends about there, so that its sweeps do."""
    return any(abs(mhz - end) <= _ABOUT * end for end in _ENDS_OF_CLASSES)
