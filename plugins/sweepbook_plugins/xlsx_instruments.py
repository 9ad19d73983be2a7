"""The instruments of a set of tests, gathered as the records go by."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any


@dataclass
class Instrument:
    """One unit; what changed between tests is kept as a set."""

    maker: str
    model: str
    serial: str
    tests: int = 0
    first: str | None = None
    last: str | None = None
    ends: set[str] = field(default_factory=set)
    accuracy_levels: set[str] = field(default_factory=set)
    firmware: set[str] = field(default_factory=set)
    calibrated_on: set[str] = field(default_factory=set)
    calibration_due: set[str] = field(default_factory=set)


class Instruments:
    """Units by maker, model and serial number; memory grows with the fleet, not with the tests."""

    def __init__(self) -> None:
        self._units: dict[tuple[str, str, str], Instrument] = {}

    def add(self, document: Mapping[str, Any]) -> None:
        """Take in the two units of a record."""
        test = document.get("test", {})
        started = test.get("started", {}).get("rfc3339")
        for end in ("near", "far"):
            unit = test.get(end, {}).get("instrument")
            if unit:
                self._note(unit, end, started)

    def __iter__(self) -> Iterator[Instrument]:
        return (self._units[key] for key in sorted(self._units))

    def _note(self, unit: Mapping[str, str], end: str, started: str | None) -> None:
        key = (unit.get("maker", ""), unit.get("model", ""), unit.get("serial", "not stated"))
        known = self._units.setdefault(key, Instrument(*key))
        known.tests += 1
        known.ends.add(end)
        for found, name in (
            (known.accuracy_levels, "accuracy_level"),
            (known.firmware, "firmware"),
            (known.calibrated_on, "calibrated_on"),
            (known.calibration_due, "calibration_due"),
        ):
            if name in unit:
                found.add(unit[name])
        if started:
            known.first = min(known.first or started, started, key=_moment)
            known.last = max(known.last or started, started, key=_moment)


def _moment(rfc3339: str) -> float:
    from datetime import datetime

    return datetime.fromisoformat(rfc3339).timestamp()
