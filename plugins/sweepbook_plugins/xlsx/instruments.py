"""The sheet of instruments, gathered as the records go by."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from functools import lru_cache
from typing import Any

from sweepbook.text import natural_key
from sweepbook_plugins.xlsx import fields
from sweepbook_plugins.xlsx.layout import Column, Layout
from sweepbook_plugins.xlsx.look import Kind

NOT_STATED = "not stated"
_ENDS = ("near", "far")
_STARTED = fields.field("test.started.rfc3339")
_KEY = ("maker", "model", "serial")
_CHANGING = {
    "Accuracy level": "instrument.accuracy_level",
    "Firmware": "instrument.firmware",
    "Calibrated on": "instrument.calibrated_on",
    "Calibration due": "instrument.calibration_due",
    "Adaptor parts": "adaptor.part",
    "Adaptor serials": "adaptor.serial",
}
"""What may change between the tests of one unit, and where a record has it, under an end."""
_UNIT = {
    (end, name): fields.field(f"test.{end}.instrument.{name}") for end in _ENDS for name in _KEY
}
_PART = {
    (end, heading): fields.field(f"test.{end}.{path}")
    for end in _ENDS
    for heading, path in _CHANGING.items()
}


@dataclass
class Instrument:
    """One unit; what changed between its tests is kept as a set of texts by heading."""

    maker: str
    model: str
    serial: str
    tests: int = 0
    first: str | None = None
    last: str | None = None
    ends: set[str] = field(default_factory=set)
    seen: dict[str, set[str]] = field(default_factory=lambda: {name: set() for name in _CHANGING})


class Instruments:
    """Units by maker, model and serial number; memory grows with the fleet, not with the tests."""

    def __init__(self) -> None:
        self._units: dict[tuple[str, ...], Instrument] = {}

    def add(self, document: Mapping[str, Any]) -> None:
        """Take in the units of a record."""
        started = _STARTED(document)
        for end in _ENDS:
            named = [_UNIT[end, name](document) for name in _KEY]
            if any(named):
                unit = self._unit(tuple(str(n) if n else NOT_STATED for n in named))
                _note(unit, end, started if isinstance(started, str) else None, document)

    def __iter__(self) -> Iterator[Instrument]:
        for key in sorted(self._units, key=lambda key: (*map(natural_key, key), key)):
            yield self._units[key]

    def _unit(self, key: tuple[str, ...]) -> Instrument:
        if key not in self._units:
            maker, model, serial = key
            self._units[key] = Instrument(maker, model, serial)
        return self._units[key]


def _note(unit: Instrument, end: str, started: str | None, document: Mapping[str, Any]) -> None:
    """Take in one test of a unit."""
    unit.tests += 1
    unit.ends.add(end)
    for heading, texts in unit.seen.items():
        value = _PART[end, heading](document)
        if value is not None:
            texts.add(str(value))
    if started:
        if unit.first is None or _moment(started) < _moment(unit.first):
            unit.first = started
        if unit.last is None or _moment(started) > _moment(unit.last):
            unit.last = started


@lru_cache(maxsize=1024)
def _moment(rfc3339: str) -> tuple[float, str]:
    """Sort key of a time; a text that is none stands before all times."""
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
    Column("First test", 26, Kind.TEXT, lambda r: r.first),
    Column("Last test", 26, Kind.TEXT, lambda r: r.last),
    _seen("Accuracy level", 11),
    _seen("Firmware", 12),
    _seen("Calibrated on", 22),
    _seen("Calibration due", 22),
    _seen("Adaptor parts", 18),
    _seen("Adaptor serials", 18),
)

INSTRUMENTS = Layout("Instruments", _COLUMNS)
