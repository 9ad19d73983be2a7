"""Attributes that hold units, whatever they are called."""

from collections.abc import Iterable
from typing import TYPE_CHECKING

from sweepbook.dialect.units import spellings_of
from sweepbook.draft.parsed import UNIT_WORDS

if TYPE_CHECKING:
    from lxml.etree import _Element

_QUANTITIES = {**UNIT_WORDS, **dict.fromkeys(spellings_of("frequency"), "frequency")}
"""What is counted in a unit, by each spelling of it."""
_LEAST = 2
"""Quantities, or letters of a unit: a lone m may mean anything."""


def unit_names(elements: "Iterable[_Element]") -> frozenset[str]:
    """Names of attributes whose every text is a unit, and hardly something else as well.

    Args:
        elements: all of a file.
    """
    held: dict[str, set[str]] = {}
    others: set[str] = set()
    for element in elements:
        for name, text in element.items():
            if name in others:
                continue
            if text.strip() in _QUANTITIES:
                held.setdefault(str(name), set()).add(text.strip())
            else:
                others.add(str(name))
    return frozenset(
        name
        for name, texts in held.items()
        if name not in others
        and (len({_QUANTITIES[text] for text in texts}) >= _LEAST or max(map(len, texts)) >= _LEAST)
    )


def quantity_named(text: str) -> str:
    """What is counted in a unit that is spelled so; "" for any other text."""
    return _QUANTITIES.get(text.strip(), "")
