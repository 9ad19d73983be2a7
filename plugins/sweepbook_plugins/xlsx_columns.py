"""What stands in each sheet: columns as data."""

from collections.abc import Mapping
from typing import Any, NamedTuple

from sweepbook.judging.assessment import Assessment, Margin, ScalarMargin
from sweepbook.judging.overview import worst_margin
from sweepbook.record import vocabulary
from sweepbook.rules.model import Entry, Finding
from sweepbook_plugins.xlsx_instruments import Instrument
from sweepbook_plugins.xlsx_look import Kind
from sweepbook_plugins.xlsx_table import Cell, Column

PLACE_LEVELS = ("site", "building", "floor", "space", "cabinet", "unit", "panel", "port")


class Link(NamedTuple):
    """A row of the links: the assessment, its document and its worst curve."""

    assessment: Assessment
    document: Mapping[str, Any]
    worst: Margin | None


class Judged(NamedTuple):
    """A row of the margins: a curve or a single figure of a record."""

    label: str
    record_id: str
    part: Margin | ScalarMargin
    unit: str


class Found(NamedTuple):
    """A row of the findings; the label is "(the whole set)" for a finding about all records."""

    label: str
    finding: Finding
    entry: Entry
    record_id: str


def link(assessment: Assessment) -> Link:
    """The row of a record."""
    document = assessment.record.document
    return Link(assessment, document, worst_margin(assessment.margins))


def title(parameter: str) -> str:
    """A parameter as people write it; a word that the vocabulary lacks stays as it is."""
    known = vocabulary.load().get(parameter)
    return known.title if known else parameter


def at(document: Mapping[str, Any], path: str) -> Cell:
    """The value at a dotted path, None where there is none."""
    value: Any = document
    for step in path.split("."):
        if not isinstance(value, Mapping) or step not in value:
            return None
        value = value[step]
    return value if isinstance(value, (str, float, int)) else None


def place(document: Mapping[str, Any], end: str) -> str | None:
    """The levels of place of an end, from the largest to the smallest."""
    levels = document.get("link", {}).get(end, {}).get("place", {})
    return " / ".join(levels[level] for level in PLACE_LEVELS if level in levels) or None


def _shortest_length(assessment: Assessment) -> float | None:
    lengths = [s.value for s in assessment.scalars if s.parameter == "length"]
    return min((value for value in lengths if value is not None), default=None)


def _worst(row: Link, name: str) -> Cell:
    """A member of the worst curve, None where no curve was evaluated."""
    value: Cell = getattr(row.worst, name) if row.worst else None
    return value


def _pairs(part: Margin | ScalarMargin | None) -> str | None:
    if isinstance(part, Margin):
        return "/".join(part.pairs)
    return part.pair if part else None


LINKS: tuple[Column[Link], ...] = (
    Column("Link", 16, Kind.TEXT, lambda r: r.assessment.record.label or "(no label)"),
    Column("Judgement", 11, Kind.WORD, lambda r: r.assessment.judgement.value),
    Column("Stated verdict", 9, Kind.TEXT, lambda r: r.assessment.stated or "none"),
    Column("Sweeps say", 10, Kind.WORD, lambda r: r.assessment.recomputed.value),
    Column("Worst margin, dB", 9, Kind.DECIBEL, lambda r: _worst(r, "worst_margin_db")),
    Column("of parameter", 15, Kind.TEXT, lambda r: title(r.worst.parameter) if r.worst else None),
    Column("pairs", 9, Kind.TEXT, lambda r: _pairs(r.worst)),
    Column("end", 6, Kind.TEXT, lambda r: _worst(r, "end")),
    Column("at MHz", 8, Kind.MEGAHERTZ, lambda r: _worst(r, "worst_margin_mhz")),
    Column("Why", 60, Kind.PROSE, lambda r: r.assessment.reason),
    Column("Findings", 8, Kind.COUNT, lambda r: len(r.assessment.findings)),
    Column("Limit", 38, Kind.TEXT, lambda r: r.assessment.limit_path or "no limit table"),
    Column("Limit known to grade", 8, Kind.TEXT, lambda r: r.assessment.grade),
    Column("Limit as stated", 36, Kind.TEXT, lambda r: at(r.document, "test.limit.as_stated")),
    Column("Configuration", 15, Kind.TEXT, lambda r: at(r.document, "test.configuration.kind")),
    Column("Shortest length, m", 9, Kind.FIGURE, lambda r: _shortest_length(r.assessment)),
    Column("Near place", 46, Kind.TEXT, lambda r: place(r.document, "near")),
    Column("Near termination", 16, Kind.TEXT, lambda r: at(r.document, "link.near.termination")),
    Column("Far place", 40, Kind.TEXT, lambda r: place(r.document, "far")),
    Column("Far termination", 16, Kind.TEXT, lambda r: at(r.document, "link.far.termination")),
    Column("Cable part", 16, Kind.TEXT, lambda r: at(r.document, "link.cable.part")),
    Column("Reel or batch", 14, Kind.TEXT, lambda r: at(r.document, "link.cable.reel")),
    Column("Purpose", 12, Kind.TEXT, lambda r: at(r.document, "test.purpose")),
    Column("Test started", 24, Kind.TEXT, lambda r: at(r.document, "test.started.rfc3339")),
    Column("Operator", 10, Kind.TEXT, lambda r: at(r.document, "test.operator")),
    Column("Near unit", 14, Kind.TEXT, lambda r: at(r.document, "test.near.instrument.serial")),
    Column("Far unit", 14, Kind.TEXT, lambda r: at(r.document, "test.far.instrument.serial")),
    Column("Record", 70, Kind.TEXT, lambda r: r.assessment.record.record_id),
)

_LIMIT = ("limit_at_worst_margin_db", "limit")
MARGINS: tuple[Column[Judged], ...] = (
    Column("Link", 16, Kind.TEXT, lambda r: r.label or "(no label)"),
    Column("Parameter", 24, Kind.TEXT, lambda r: title(r.part.parameter)),
    Column("End", 6, Kind.TEXT, lambda r: r.part.end if isinstance(r.part, Margin) else None),
    Column("Pair, or disturbing/ disturbed", 11, Kind.TEXT, lambda r: _pairs(r.part)),
    Column("Outcome", 12, Kind.WORD, lambda r: r.part.outcome.value),
    Column("Worst margin", 9, Kind.FIGURE, lambda r: _figure(r.part, "worst_margin_db", "margin")),
    Column("at MHz", 8, Kind.MEGAHERTZ, lambda r: _figure(r.part, "worst_margin_mhz")),
    Column("Limit there", 9, Kind.FIGURE, lambda r: _figure(r.part, *_LIMIT)),
    Column("Worst value", 9, Kind.FIGURE, lambda r: _figure(r.part, "worst_value_db", "value")),
    Column("at MHz", 8, Kind.MEGAHERTZ, lambda r: _figure(r.part, "worst_value_mhz")),
    Column("Limit there", 9, Kind.FIGURE, lambda r: _figure(r.part, "limit_at_worst_value_db")),
    Column("Unit", 8, Kind.TEXT, lambda r: r.unit),
    Column("Obligation", 12, Kind.TEXT, lambda r: r.part.obligation),
    Column("Points evaluated", 10, Kind.COUNT, lambda r: _figure(r.part, "points_evaluated")),
    Column("For information", 11, Kind.COUNT, lambda r: _figure(r.part, "points_for_information")),
    Column("Curve or figure", 13, Kind.TEXT, lambda r: r.part.origin.value),
    Column("Limit known to grade", 8, Kind.TEXT, lambda r: r.part.grade),
    Column("Remark", 60, Kind.PROSE, lambda r: r.part.reason or None),
    Column("Record", 70, Kind.TEXT, lambda r: r.record_id),
)

FINDINGS: tuple[Column[Found], ...] = (
    Column("Link", 16, Kind.TEXT, lambda r: r.label or "(no label)"),
    Column("Weight", 9, Kind.WORD, lambda r: r.finding.severity.value),
    Column("Rule", 8, Kind.TEXT, lambda r: r.finding.rule),
    Column("What was found", 60, Kind.PROSE, lambda r: r.finding.message),
    Column("Why it matters", 50, Kind.PROSE, lambda r: r.entry.why),
    Column("What to do", 50, Kind.PROSE, lambda r: r.entry.fix),
    Column("By", 30, Kind.PROSE, lambda r: _reference(r.entry)),
    Column("Place in the record", 34, Kind.TEXT, lambda r: r.finding.path),
    Column("Record", 70, Kind.TEXT, lambda r: r.record_id),
)

INSTRUMENTS: tuple[Column[Instrument], ...] = (
    Column("Serial number", 16, Kind.TEXT, lambda r: r.serial),
    Column("Maker", 16, Kind.TEXT, lambda r: r.maker),
    Column("Model", 14, Kind.TEXT, lambda r: r.model),
    Column("Used as", 12, Kind.TEXT, lambda r: ", ".join(sorted(r.ends))),
    Column("Tests", 7, Kind.COUNT, lambda r: r.tests),
    Column("First test", 24, Kind.TEXT, lambda r: r.first),
    Column("Last test", 24, Kind.TEXT, lambda r: r.last),
    Column("Accuracy level", 10, Kind.TEXT, lambda r: ", ".join(sorted(r.accuracy_levels))),
    Column("Firmware", 12, Kind.TEXT, lambda r: ", ".join(sorted(r.firmware))),
    Column("Calibrated on", 13, Kind.TEXT, lambda r: ", ".join(sorted(r.calibrated_on))),
    Column("Calibration due", 13, Kind.TEXT, lambda r: ", ".join(sorted(r.calibration_due))),
)


def _figure(part: Margin | ScalarMargin, of_curve: str, of_scalar: str = "") -> Cell:
    """A figure by its name for curves and for single figures; None where it has none."""
    name = of_curve if isinstance(part, Margin) else of_scalar
    value: Cell = getattr(part, name) if name else None
    return value


def _reference(entry: Entry) -> str:
    """Document, clause and force of the rule's reference."""
    reference = entry.reference
    return ", ".join(
        reference[key] for key in ("document", "clause", "force") if reference.get(key)
    )
