"""Rows of the single figures that a record holds, whether there is a limit for them or not."""

from collections.abc import Mapping, Sequence
from typing import Any

from sweepbook_plugins.asbuilt.results import Cells
from sweepbook_plugins.asbuilt.values import clean, number, text, whole, word

UNITS = {
    "delay_ns": "ns",
    "length_m": "m",
    "resistance_ohm": "ohm",
    "unbalance_percent": "percent",
    "value_db": "dB",
}
"""Unit by the name under which a record holds a single figure."""

COLUMNS = (
    "test_id",
    "position",
    "parameter",
    "at_end",
    "pairs",
    "value",
    "unit",
    "decimals",
    "at_mhz",
    "bound",
)
"""Order of the cells, which is that of the table."""
_ENDS = ("near", "far")
_BOUNDS = ("at_least", "at_most")


def figures(test_id: int, scalars: Sequence[Mapping[str, Any]]) -> list[Cells]:
    """One row a figure; none where it holds no number under a known name."""
    rows: list[Cells] = []
    for position, entry in enumerate(scalars):
        name = next((name for name in UNITS if name in entry), "")
        value, parameter = number(entry, name), text(entry, "parameter")
        if value is None or parameter is None:
            continue
        rows.append(
            (
                test_id,
                position,
                parameter,
                word(entry, "end", _ENDS),
                _pairs(entry.get("pairs")),
                value,
                UNITS[name],
                whole(entry, "decimals"),
                number(entry, "frequency_mhz"),
                word(entry, "bound", _BOUNDS),
            )
        )
    return rows


def _pairs(stated: object) -> str | None:
    """Pairs as one text, None for none."""
    if not isinstance(stated, list):
        return None
    return clean("/".join(map(str, stated))) or None
