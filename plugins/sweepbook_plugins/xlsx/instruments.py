"""The sheet of instruments, gathered as the records go by."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from sweepbook.text import natural_key, text_at
from sweepbook_plugins.xlsx.fields import SINGLE, part_at
from sweepbook_plugins.xlsx.layout import Column, Layout
from sweepbook_plugins.xlsx.look import Kind

NOT_STATED = "not stated"
_ENDS = ("near", "far")
_OF_UNIT = ("maker", "model", "serial")
_CHANGING = {
    "Accuracy level": ("instrument", "accuracy_level"),
    "Firmware": ("instrument", "firmware"),
    "Calibrated on": ("instrument", "calibrated_on"),
    "Calibration due": ("instrument", "calibration_due"),
    "Adaptor parts": ("adaptor", "part"),
    "Adaptor serials": ("adaptor", "serial"),
}
"""What may change between the tests of one unit, and where a record has it, under an end."""
_LOOKED_AT = {
    part: tuple(name for holder, name in _CHANGING.values() if holder == part)
    for part in ("instrument", "adaptor")
}
_When = tuple[float, str]
"""A time as one sorts it, and as the record has it."""


@dataclass
class Instrument:
    """One unit; what changed between its tests is kept as a set of texts by heading."""

    maker: str
    model: str
    serial: str
    tests: int = 0
    first: _When | None = None
    last: _When | None = None
    ends: set[str] = field(default_factory=set)
    seen: dict[str, set[str]] = field(default_factory=lambda: {name: set() for name in _CHANGING})

    def add(self, when: _When | None) -> None:
        """Count a test, of which all else was seen before."""
        self.tests += 1
        if when is not None:
            self.first = min(self.first or when, when)
            self.last = max(self.last or when, when)


class Instruments:
    """Units by maker, model and serial number; memory grows with the fleet, not with the tests."""

    def __init__(self) -> None:
        self._units: dict[tuple[str, ...], Instrument] = {}
        self._known: dict[tuple[object, ...], Instrument] = {}

    def add(self, document: Mapping[str, Any]) -> None:
        """Take in the units of a record."""
        when = _when(text_at(document, "test", "started", "rfc3339"))
        for end in _ENDS:
            said = _said(document, end)
            if any(said[: len(_OF_UNIT)]):
                (self._known.get((end, *said)) or self._met(end, said)).add(when)

    def __iter__(self) -> Iterator[Instrument]:
        for key in sorted(self._units, key=lambda key: (*map(natural_key, key), key)):
            yield self._units[key]

    def _met(self, end: str, said: tuple[object, ...]) -> Instrument:
        """The unit, which was not seen like this before."""
        of_unit = tuple(str(text) if text else NOT_STATED for text in said[: len(_OF_UNIT)])
        maker, model, serial = of_unit
        unit = self._units.setdefault(of_unit, Instrument(maker, model, serial))
        unit.ends.add(end)
        for texts, value in zip(unit.seen.values(), said[len(_OF_UNIT) :], strict=True):
            if value is not None:
                texts.add(str(value))
        self._known[(end, *said)] = unit
        return unit


def _said(document: Mapping[str, Any], end: str) -> tuple[object, ...]:
    """What a record says of the unit at an end: of the unit itself, then what may change."""
    unit = part_at(document, "test", end, "instrument")
    adaptor = part_at(document, "test", end, "adaptor")
    found = (
        *map(unit.get, _OF_UNIT),
        *map(unit.get, _LOOKED_AT["instrument"]),
        *map(adaptor.get, _LOOKED_AT["adaptor"]),
    )
    return tuple([one if isinstance(one, SINGLE) else None for one in found])


def _when(rfc3339: str) -> _When | None:
    """A time; a text that is none stands before all times."""
    if not rfc3339:
        return None
    try:
        return datetime.fromisoformat(rfc3339).timestamp(), rfc3339
    except (ValueError, OverflowError):
        return float("-inf"), rfc3339


def _seen(heading: str, width: float) -> Column[Instrument]:
    return Column(heading, width, Kind.PROSE, lambda r: ", ".join(sorted(r.seen[heading])) or None)


_COLUMNS: tuple[Column[Instrument], ...] = (
    Column("Serial number", 16, Kind.TEXT, lambda r: r.serial),
    Column("Maker", 16, Kind.TEXT, lambda r: r.maker),
    Column("Model", 14, Kind.TEXT, lambda r: r.model),
    Column("Used as", 10, Kind.TEXT, lambda r: ", ".join(sorted(r.ends, reverse=True))),
    Column("Tests", 8, Kind.COUNT, lambda r: r.tests),
    Column("First test", 26, Kind.TEXT, lambda r: r.first and r.first[1]),
    Column("Last test", 26, Kind.TEXT, lambda r: r.last and r.last[1]),
    _seen("Accuracy level", 11),
    _seen("Firmware", 12),
    _seen("Calibrated on", 22),
    _seen("Calibration due", 22),
    _seen("Adaptor parts", 18),
    _seen("Adaptor serials", 18),
)

INSTRUMENTS = Layout("Instruments", _COLUMNS)
