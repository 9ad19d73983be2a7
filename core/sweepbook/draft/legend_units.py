"""Units that an export explains itself: "f=kHz, IL=0.01 dB"."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from sweepbook.dialect.parameters import quantity_of
from sweepbook.dialect.units import UNITS, unit_of
from sweepbook.draft import numbers, phrases
from sweepbook.draft.trade_words import VALUES
from sweepbook.word_lists import words_of

_TIMES = re.compile(r"(0[.,]0{0,5}1)\s*\*?\s*(\D.*)")
"""A tenth, a hundredth and so on: any other number of a unit is a figure."""
_PART = re.compile(r"1\s*/\s*([0-9]+)\s*(\D.*)|(\D.*?)\s*/\s*(10+)")
_LONGEST, _SEVERAL = 40, 2
_ENOUGH = 0.6
"""So much of a text at least is the word for what has the unit."""
_LOSSES = (
    *VALUES,
    *words_of("loss, losses, values, levels, werte, messwerte, pegel, valeurs, valores"),
)
"""What values of curves are called where nothing says of which."""


@dataclass(frozen=True)
class Units:
    """The units that were explained.

    Attributes:
        names: by quantity, as a dialect writes them; several where they differ.
        texts: what said so, by quantity.
    """

    names: dict[str, list[str]] = field(default_factory=dict)
    texts: dict[str, list[str]] = field(default_factory=dict)

    def only(self, quantity: str) -> str | None:
        """The unit of a quantity, where it is one."""
        found = self.names.get(quantity, [])
        return found[0] if len(found) == 1 else None


def units_told(groups: Sequence[Sequence[Sequence[str]]]) -> Units:
    """The units in rows of two texts: what has a unit, and the unit.

    A tenth of a unit may be a figure as well, and counts only beside another unit that is told.
    """
    found = Units()
    for group in groups:
        told = [said for row in group if (said := _said(row))]
        alone = len({subject for subject, *_ in told}) < _SEVERAL
        for subject, quantity, unit, text in told:
            if alone and _TIMES.fullmatch(text):
                continue
            known = found.names.setdefault(quantity, [])
            known += [] if unit in known else [unit]
            found.texts.setdefault(quantity, []).append(f"{subject}: {text}")
    return found


def _said(row: Sequence[str]) -> tuple[str, str, str, str] | None:
    """What has a unit, its quantity, the unit as a dialect writes it and as it stands there."""
    texts = [text.strip() for text in row if text.strip()]
    if len(texts) != 2:
        return None
    for subject, text in (texts, texts[::-1]):
        quantity = _quantity(subject) if _may_be_unit(text) and len(subject) <= _LONGEST else None
        unit = unit_named(quantity, text) if quantity else None
        if quantity and unit:
            return subject, quantity, unit, text
    return None


def unit_named(quantity: str, text: str) -> str | None:
    """The unit that a text is, or so many of it, as a dialect writes it: "0.01 dB"."""
    if plain := _plain(quantity, text):
        return plain
    if part := _PART.fullmatch(text):
        unit, number = part[2] or part[3], part[1] or part[4]
        digits = number.rstrip("0")
        if digits == "1" and (plain := _plain(quantity, unit)):
            return f"0.{'0' * (len(number) - 2)}1 {plain}"
        return None
    if times := _TIMES.fullmatch(text):
        plain = _plain(quantity, times[2])
        called = f"{times[1].replace(',', '.')} {plain}"
        return called if plain and _is_unit(quantity, called) else None
    return None


def _plain(quantity: str, text: str) -> str | None:
    for name, unit in UNITS[quantity].items():
        if text == name or text in unit.spellings:
            return name
    if quantity == "frequency" and (named := numbers.unit_named(text)):
        return named if len(text.split()) == 1 else None
    return None


def _is_unit(quantity: str, called: str) -> bool:
    try:
        unit_of(quantity, called)
    except ValueError:
        return False
    return True


@lru_cache(maxsize=4096)
def _may_be_unit(text: str) -> bool:
    """Whether a text is a unit of anything, which is soon told; what has one takes longer."""
    return len(text) <= _LONGEST and any(unit_named(quantity, text) for quantity in UNITS)


@lru_cache(maxsize=4096)
def _quantity(text: str) -> str | None:
    """What a text says that has a unit."""
    if text in ("f", "F") or (numbers.is_frequency(text) and not numbers.unit_named(text)):
        return "frequency"
    if phrases.whole(text, _LOSSES):
        return "loss"
    span = phrases.parameter_in(text)
    letters = sum(map(str.isalnum, text))
    if span is None or span.end - span.start < _ENOUGH * letters:
        return None
    quantity = quantity_of(span.meaning)
    return quantity if quantity in UNITS else None
