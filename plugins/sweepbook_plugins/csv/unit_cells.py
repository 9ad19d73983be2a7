"""A row of units below titles, whose other rows say themselves what they hold."""

from collections.abc import Iterator, Sequence
from functools import cache

from sweepbook.dialect.model import Meaning
from sweepbook.dialect.units import UNITS, spellings_of

_LEAST = 2
"""One alone may be the text of a row that lost its name."""

Cells = Sequence[tuple[str, str]]
"""Titles and texts."""


def are_units(cells: Cells) -> bool:
    """Whether all that a row says is units."""
    return len(cells) >= _LEAST and all(_bare(text) in _quantities() for _, text in cells)


def others(cells: Cells, meaning: Meaning) -> Iterator[str]:
    """What is to be told of units in which figures are not read.

    Args:
        cells: of a row of units.
        meaning: what the dialect says.
    """
    declared = {**meaning.numbers.units, **meaning.figure_units}
    for title, text in cells:
        known = _quantities()[_bare(text)]
        if all(declared.get(quantity) != unit for quantity, unit in known.items()):
            keys = " or ".join(f"units.{of} is {declared.get(of)}" for of in known)
            yield f"{text!r} stands below {title!r}, where {keys}"


def _bare(text: str) -> str:
    """A unit without the brackets around it."""
    return text.strip("[]() ")


@cache
def _quantities() -> dict[str, dict[str, str]]:
    """The units that a text may mean, by their quantity; "m" is one of length alone."""
    found: dict[str, dict[str, str]] = {}
    for quantity in UNITS:
        for text, unit in spellings_of(quantity).items():
            found.setdefault(text, {})[quantity] = unit
    return found
