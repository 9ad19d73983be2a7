"""What a dialect must know of each parameter; all of it follows from the vocabulary."""

from functools import cache
from typing import NamedTuple

from sweepbook.record import vocabulary

CROSSTALK = ("next", "acr_n", "fext", "acr_f")
FAR_END = ("fext", "psfext", "acr_f", "psacr_f")
"""`end` of these is where the disturbed pair is received; a dialect says what its export means."""

RAW_LOSSES = ("insertion_loss", "return_loss", "next", "psnext", "fext", "psfext")
"""Of passive cabling these are positive over most of the band, which shows a forgotten sign."""

DELAY_NS = (0.5, 100_000.0)
"""Delays of 0.1 m and of 20 km of cable, roughly; outside these the unit is wrong."""

STATED_DB = 120.0
"""Most that a stated loss or margin comes to, in dB, as the practice figure of crosstalk has it."""
STATED_MHZ = (0.01, 10_000.0)
"""Frequencies in MHz that figures of cabling are stated at; outside these the unit is wrong."""

ALIEN = ("anext", "psanext", "afext", "psafext", "psaacr_f")
"""These name a second link, which a record of one link has no place for."""

UNIT_SUFFIX = {
    "loss": "db",
    "delay": "ns",
    "length": "m",
    "resistance": "ohm",
    "unbalance": "percent",
}
"""Ending of a record's member by quantity: value_db, margin_ns, limit_m."""

_QUANTITY = {
    "dB": "loss",
    "ns": "delay",
    "m": "length",
    "ohm": "resistance",
    "percent": "unbalance",
}
_WHOLE_LINK = ("delay_skew", "length")
"""An export may state these once for the whole link."""


class Parameter(NamedTuple):
    """How a parameter is named and measured.

    Attributes:
        pairs: how many pairs its name may hold.
        quantity: loss, delay, length, resistance or unbalance; "" for the wire map.
        end: none, optional, or each where a curve must say which.
        value_name: member of a record that holds its value.
    """

    pairs: tuple[int, ...]
    quantity: str
    end: str
    value_name: str


@cache
def parameters() -> dict[str, Parameter]:
    """Every parameter that a dialect may name, by its word."""
    return {
        entry.parameter: Parameter(
            pairs=((0,) if entry.parameter in _WHOLE_LINK else ()) + (entry.pair_count,),
            quantity=_QUANTITY.get(entry.unit, ""),
            end=entry.end,
            value_name=entry.value_name,
        )
        for entry in vocabulary.load().parameters.values()
        if entry.parameter not in ALIEN
    }


def can_be_swept(parameter: str) -> bool:
    """Whether a parameter may be a curve over frequency."""
    return quantity_of(parameter) in ("loss", "delay")


def quantity_of(parameter: str) -> str:
    """The quantity a parameter is measured in."""
    return parameters()[parameter].quantity
