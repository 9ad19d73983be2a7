"""What a record's document says, whatever shape it has, and naming what is found there."""

from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from sweepbook.judging.assessment import Margin, Origin
from sweepbook.judging.overview import Part
from sweepbook.record import vocabulary

SINGLE = (str, float, int)
"""Types of a value that is one text or number; a tuple made once, since it is asked for often."""
DECIMALS = 6
"""Of figures that were worked out; what the source states is told as it stands."""


def worked_out(figure: float | None) -> float | None:
    """A figure that was worked out, rounded, so that it does not show how a computer counts.

    What would be rounded to nothing keeps one digit, and with it its sign.
    """
    if not figure:
        return figure
    return round(figure, DECIMALS) or float(f"{figure:.1g}")


def value_of(part: Part) -> float | None:
    """The worst value of a curve, or a figure: as stated, or rounded where it was worked out."""
    value = part.worst_value_db if isinstance(part, Margin) else part.value
    made = part.origin is Origin.RECOMPUTED and is_derived(part.parameter)
    return worked_out(value) if made else value


def shortest_length_m(document: Mapping[str, Any]) -> float | None:
    """The length of the shortest pair as the source states it, in m."""
    results = document.get("results")
    scalars = results.get("scalars") if isinstance(results, dict) else None
    if not isinstance(scalars, list):
        return None
    lengths = [
        one.get("length_m")
        for one in scalars
        if isinstance(one, dict) and one.get("parameter") == "length"
    ]
    return min((metres for metres in lengths if isinstance(metres, float | int)), default=None)


@lru_cache(maxsize=256)
def title(parameter: str) -> str:
    """A parameter as people write it; a word that the vocabulary lacks stays as it is."""
    known = vocabulary.load().get(parameter)
    return known.title if known else parameter


@lru_cache(maxsize=256)
def is_derived(parameter: str) -> bool:
    """Whether it can be worked out from others."""
    known = vocabulary.load().get(parameter)
    return known is not None and bool(known.obtained_from)


@lru_cache(maxsize=256)
def unit(parameter: str) -> str:
    """The unit of a curve of this parameter."""
    known = vocabulary.load().get(parameter)
    return known.unit if known else "dB"
