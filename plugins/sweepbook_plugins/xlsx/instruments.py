"""The sheet of instruments, gathered as the records go by."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime

from sweepbook.text import natural_key
from sweepbook_plugins.xlsx.layout import Cell, Column, Layout, Row
from sweepbook_plugins.xlsx.look import Kind

NOT_STATED = "not stated"
_OF_UNIT = ("instrument.maker", "instrument.model", "instrument.serial")
_CHANGING = {
    Column("Accuracy level", 10, Kind.PROSE): "instrument.accuracy_level",
    Column("Firmware", 10, Kind.PROSE): "instrument.firmware",
    Column("Calibrated on", 13, Kind.PROSE): "instrument.calibrated_on",
    Column("Calibration due", 13, Kind.PROSE): "instrument.calibration_due",
    Column("Adaptor parts", 16, Kind.PROSE): "adaptor.part",
    Column("Adaptor serials", 16, Kind.PROSE): "adaptor.serial",
}
"""What may change between the tests of one unit, and where a record has it, under an end."""
NEAR, FAR = (
    tuple(f"test.{end}.{path}" for path in (*_OF_UNIT, *_CHANGING.values()))
    for end in ("near", "far")
)
"""Where a record says of the units at its ends what is looked at."""
_COLUMNS = (
    Column("Serial number", 14, Kind.PROSE),
    Column("Maker", 13, Kind.PROSE),
    Column("Model", 12, Kind.PROSE),
    Column("Used as", 8, Kind.TEXT),
    Column("Tests", 7, Kind.COUNT),
    Column("First test", 24, Kind.TEXT),
    Column("Last test", 24, Kind.TEXT),
    *_CHANGING,
)

INSTRUMENTS = Layout("Instruments", _COLUMNS)
_When = tuple[float, str]
"""A time as one sorts it, and as the record has it."""
Said = tuple[str, tuple[Cell, ...]]
"""An end, and what a record says of the unit there: of the unit itself, then what may change."""


def units(near: tuple[Cell, ...], far: tuple[Cell, ...]) -> tuple[Said, ...]:
    """What a record says of its units: what stands at `NEAR` and at `FAR` of it."""
    both = (("near", near), ("far", far))
    return tuple([one for one in both if any(one[1][: len(_OF_UNIT)])])


@dataclass
class Instrument:
    """One unit; what changed between its tests is kept as sets of texts, as `_CHANGING` has it."""

    maker: str
    model: str
    serial: str
    tests: int = 0
    first: _When | None = None
    last: _When | None = None
    ends: set[str] = field(default_factory=set)
    seen: tuple[set[str], ...] = field(default_factory=lambda: tuple(set() for _ in _CHANGING))

    def add(self, when: _When | None) -> None:
        """Count a test, of which all else was seen before."""
        self.tests += 1
        if when is not None:
            self.first = min(self.first or when, when)
            self.last = max(self.last or when, when)

    def row(self) -> Row:
        """Its row."""
        return (
            self.serial,
            self.maker,
            self.model,
            ", ".join(sorted(self.ends, reverse=True)),
            self.tests,
            self.first and self.first[1],
            self.last and self.last[1],
            *(", ".join(sorted(texts)) or None for texts in self.seen),
        )


class Instruments:
    """Units by maker, model and serial number; memory grows with the fleet, not with the tests."""

    def __init__(self) -> None:
        self._units: dict[tuple[str, ...], Instrument] = {}
        self._known: dict[Said, Instrument] = {}

    def add(self, begun: str, said: tuple[Said, ...]) -> None:
        """Take in the units of a record.

        Args:
            begun: when the test was started, RFC 3339; "" where that is not known.
            said: see `units`.
        """
        when = _when(begun)
        for one in said:
            (self._known.get(one) or self._met(one)).add(when)

    def __len__(self) -> int:
        return len(self._units)

    def __iter__(self) -> Iterator[Row]:
        for key in sorted(self._units, key=lambda key: (*map(natural_key, key), key)):
            yield self._units[key].row()

    def _met(self, said: Said) -> Instrument:
        """The unit, which was not seen like this before."""
        end, cells = said
        named, changing = cells[: len(_OF_UNIT)], cells[len(_OF_UNIT) :]
        of_unit = tuple(str(text) if text else NOT_STATED for text in named)
        maker, model, serial = of_unit
        unit = self._units.setdefault(of_unit, Instrument(maker, model, serial))
        unit.ends.add(end)
        for texts, value in zip(unit.seen, changing, strict=True):
            if value is not None:
                texts.add(str(value))
        self._known[said] = unit
        return unit


def _when(rfc3339: str) -> _When | None:
    """A time; a text that is none stands before all times."""
    if not rfc3339:
        return None
    try:
        return datetime.fromisoformat(rfc3339).timestamp(), rfc3339
    except (ValueError, OverflowError):
        return float("-inf"), rfc3339
