"""Rows of the single figures that a record holds, whether there is a limit for them or not."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from sweepbook_plugins.asbuilt.values import Value, clean, number, text, whole, word

if TYPE_CHECKING:
    from sweepbook_plugins.asbuilt.kinds import Kinds

UNITS = {
    "delay_ns": "ns",
    "length_m": "m",
    "resistance_ohm": "ohm",
    "unbalance_percent": "percent",
    "value_db": "dB",
}
"""Unit by the name under which a record holds a single figure."""

KIND = ("parameter", "at_end", "pairs", "unit", "decimals", "bound")
"""Order of the words of a figure, which is that of the table of kinds."""
COLUMNS = ("test_id", "position", "kind_id", "value", "at_mhz")
"""Order of the cells, which is that of the table of values."""
_ENDS = ("near", "far")
_BOUNDS = ("at_least", "at_most")


def add_figures(
    cells: list[Value], test_id: int, scalars: Sequence[Mapping[str, Any]], kinds: "Kinds"
) -> None:
    """Add the cells of one row a figure; of none where it holds no number under a known name."""
    known = kinds.known
    for position, entry in enumerate(scalars):
        name = _name(entry)
        value = entry.get(name)
        if value.__class__ is not float or value - value != 0.0:
            value = number(entry, name)
        if value is None:
            continue
        end, bound, pairs = entry.get("end"), entry.get("bound"), entry.get("pairs")
        decimals = entry.get("decimals")
        if decimals.__class__ is not int:  # True and 2.0 are equal to 1 and 2, and no such number
            decimals = None
        try:
            joined = "/".join(pairs) if pairs.__class__ is list else None
            kind = known.get((name, entry.get("parameter"), end, bound, joined, decimals))
        except TypeError:
            kind = None
        if kind is None:
            kind = _kind(name, entry, kinds)
        if kind is not None:
            at_mhz = number(entry, "frequency_mhz") if "frequency_mhz" in entry else None
            cells += (test_id, position, kind, value, at_mhz)


def _name(entry: Mapping[str, Any]) -> str:
    for name in UNITS:
        if name in entry:
            return name
    return ""


def _kind(name: str, entry: Mapping[str, Any], kinds: "Kinds") -> int | None:
    """The number of what a figure is; None where it has no parameter."""
    parameter, pairs = text(entry, "parameter"), _pairs(entry.get("pairs"))
    if parameter is None:
        return None
    end, bound = word(entry, "end", _ENDS), word(entry, "bound", _BOUNDS)
    decimals = whole(entry, "decimals")
    words = (parameter, end, pairs, UNITS[name], decimals, bound)
    return kinds.number((name, parameter, end, bound, pairs, decimals), words)


def _pairs(stated: object) -> str | None:
    """Pairs as one text, None for none."""
    if not isinstance(stated, list):
        return None
    return clean("/".join(map(str, stated))) or None
