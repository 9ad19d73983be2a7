"""The members of a stated figure: its number and its limit, whose names end in their unit."""

from collections.abc import Mapping
from functools import lru_cache
from typing import Any, NamedTuple

UNITS = {"db": "dB", "ns": "ns", "m": "m", "ohm": "ohm", "percent": "percent"}
"""Units as shown, by how a name ends."""


class Names(NamedTuple):
    """What a stated figure calls its members.

    Attributes:
        number: the figure itself.
        unit: its unit as shown.
        limit: the limit stated with it; None for none.
    """

    number: str
    unit: str
    limit: str | None


def names_of(figure: Mapping[str, Any]) -> Names:
    """What the members of a worst margin or a worst value are called.

    Raises:
        StopIteration: it has no number.
    """
    return _names(tuple(figure))


@lru_cache(maxsize=256)
def _names(members: tuple[str, ...]) -> Names:
    """Kept, since most figures of a job have the same members."""
    number = next(name for name in members if name.startswith(("margin_", "value_")))
    limit = next((name for name in members if name.startswith("limit_")), None)
    return Names(number, UNITS[number.partition("_")[2]], limit)
