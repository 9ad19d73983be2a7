"""Stated figures that nothing measured can come to: a wrong unit, decimal mark or column."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from sweepbook.dialect.parameters import DELAY_NS, STATED_DB, STATED_MHZ
from sweepbook.dialect.raw import Fault, RawFigure

_UNITS = {"loss": "dB", "delay": "ns", "frequency": "MHz"}
_WHY = {
    "loss": f"no tester reads so much, and no limit is so far off: {STATED_DB:g} dB is the most",
    "delay": "no cable has it",
    "frequency": f"cabling is tested from {STATED_MHZ[0]:g} to {STATED_MHZ[1]:g} MHz",
}
_KEYS = {
    "loss": "numbers.decimal, numbers.thousands and units.loss",
    "delay": "numbers.decimal, numbers.thousands and units.delay",
    "frequency": "units.frequency, numbers.decimal and numbers.thousands",
}


class Stated(NamedTuple):
    """A stated figure as it was read: in the record's unit of its quantity."""

    figure: RawFigure
    quantity: str
    value: float


def notes(stated: Sequence[Stated]) -> Iterator[Fault]:
    """Yield one note for all figures of a role that cannot be, with the first of them.

    The figures are kept: what an export states is evidence, and no reading of it is upheld by this.
    """
    found: dict[tuple[str, str], list[Stated]] = {}
    for one in stated:
        if not _can_be(one):
            found.setdefault((one.figure.role, one.quantity), []).append(one)
    for (role, quantity), some in found.items():
        first, more = some[0], len(some) - 1
        count = f" (and {more} more)" if more else ""
        yield Fault(
            first.figure.cell.place,
            f"{first.figure.cell.text.strip()!r}, the {role} of '{first.figure.name}', is "
            f"{first.value:g} {_UNITS[quantity]}{count}: {_WHY[quantity]}; see {_KEYS[quantity]}, "
            "which path or column the dialect takes for it, and numbers.missing if it stands for "
            "no value",
        )


def _can_be(one: Stated) -> bool:
    if one.quantity == "loss":
        return abs(one.value) <= STATED_DB
    if one.quantity == "delay":
        return abs(one.value) <= DELAY_NS[1]
    if one.quantity == "frequency":
        return one.value <= 0.0 or STATED_MHZ[0] <= one.value <= STATED_MHZ[1]
    return True
