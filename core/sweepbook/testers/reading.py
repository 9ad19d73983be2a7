"""What one test says of its two testers: dates, and figures that can be held against others'."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, Any, NamedTuple

from sweepbook.rules.times import day_of, days_between, moment

if TYPE_CHECKING:
    from datetime import date

    from sweepbook.judging.assessment import Assessment, Margin

ENDS = ("near", "far")
BIN_M = 10.0
"""Links whose lengths lie in one such step count as alike."""

_MARGINS = ("return_loss", "next", "acr_f")


class Unit(NamedTuple):
    """A tester by what tells it from others."""

    maker: str
    model: str
    serial: str

    def __str__(self) -> str:
        """Maker, model and serial number, as far as they are stated."""
        return " ".join(filter(None, self)) or "(not named)"


class Alike(NamedTuple):
    """What figures have in common that may be compared: limit, cable, step of length, and end.

    The ends of a link differ, a panel here and an outlet there, so each is a group of its own.
    """

    limit: str
    cable: str
    step: int
    end: str


@dataclass(frozen=True, slots=True)
class Reading:
    """One figure that a tester read.

    Attributes:
        parameter: return_loss, next or acr_f, of which it is the worst margin in dB at the
            tester's end; insertion_loss, of which it is dB per 100 m, worst value by length.
        alike: links that may be compared with this one.
        value: in dB, or dB per 100 m.
    """

    parameter: str
    alike: Alike
    value: float


@dataclass(frozen=True, slots=True)
class UnitTest:
    """What a test says of one of its testers.

    Attributes:
        unit: which one.
        failed: whether the sweeps prove a fail.
        started: by the clock of the tester; None where it is not known.
        calibrated_on, calibration_due: as stated; None where they are not.
        reference_days: how long before the test the field reference was made, in days; None where
            that is not known.
        firmware: as stated, "" where it is not.
        readings: figures that can be held against those of others.
    """

    unit: Unit
    failed: bool
    started: datetime | None
    calibrated_on: "date | None"
    calibration_due: "date | None"
    reference_days: float | None
    firmware: str
    readings: tuple[Reading, ...]


def unit_tests(assessment: "Assessment") -> Iterator[UnitTest]:
    """What a test says of each of its testers; nothing of an end that names none.

    A record that breaks its schema says nothing.
    """
    if assessment.limit_path is None:
        return
    document = assessment.record.document
    test: Mapping[str, Any] = document.get("test", {})
    started = moment(test.get("started"))
    reference = moment(test.get("field_reference", {}).get("performed"))
    days = days_between(reference, started)[0] if reference and started else None
    for end in ENDS:
        alike = _alike(assessment, end)
        instrument: Mapping[str, Any] = test.get(end, {}).get("instrument", {})
        unit = Unit(*(str(instrument.get(name, "")) for name in ("maker", "model", "serial")))
        if not unit.serial:
            continue
        yield UnitTest(
            unit=unit,
            failed=assessment.recomputed == "fail",
            started=started.clock if started else None,
            calibrated_on=day_of(instrument, "calibrated_on"),
            calibration_due=day_of(instrument, "calibration_due"),
            reference_days=days,
            firmware=str(instrument.get("firmware", "")),
            readings=tuple(_readings(assessment, end, alike)) if alike else (),
        )


def _alike(assessment: "Assessment", end: str) -> tuple[Alike, float] | None:
    """What other links have to share with this one, and its length in m; None without length."""
    lengths = [
        part.value
        for part in assessment.scalars
        if part.parameter == "length" and part.unit == "m" and part.value
    ]
    if not lengths or not min(lengths) > 0.0:
        return None
    cable: Mapping[str, Any] = assessment.record.document.get("link", {}).get("cable", {})
    named = " ".join(str(cable[name]) for name in ("maker", "part") if name in cable)
    length = min(lengths)
    return Alike(assessment.limit_path or "", named, int(length // BIN_M), end), length


def _readings(assessment: "Assessment", end: str, like: tuple[Alike, float]) -> Iterator[Reading]:
    alike, length = like
    margins = assessment.margins
    for parameter in _MARGINS:
        found = [m.worst_margin_db for m in margins if _is_of(m, parameter, end)]
        known = [value for value in found if value is not None]
        if known:
            yield Reading(parameter, alike, min(known))
    losses = [
        margin.worst_value_db
        for margin in margins
        if margin.parameter == "insertion_loss" and margin.worst_value_db is not None
    ]
    if losses:
        yield Reading("insertion_loss", alike, 100.0 * max(losses) / length)


def _is_of(margin: "Margin", parameter: str, end: str) -> bool:
    return margin.parameter == parameter and margin.end == end
