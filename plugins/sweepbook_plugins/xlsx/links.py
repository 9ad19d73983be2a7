"""The sheet of links: one row a record."""

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from sweepbook.judging.assessment import Assessment, Margin
from sweepbook.judging.overview import Part, deciding
from sweepbook.people.names import People
from sweepbook_plugins.xlsx.fields import field, fields, shortest_length_m, title
from sweepbook_plugins.xlsx.layout import Cell, Column, Layout
from sweepbook_plugins.xlsx.look import Kind

NO_LABEL = "(no label)"
_OPERATOR = field("test.operator")
_SAID: list[str] = []
"""Paths of what a record says, in the order of the columns that show it."""


class Link(NamedTuple):
    """A row: the assessment and its document, what `_SAID` leads to, what decides, who tested."""

    of: Assessment
    document: Mapping[str, Any]
    said: Sequence[Cell]
    worst: Part | None
    tested_by: str | None


def link(assessment: Assessment, people: People) -> Link:
    """The row of a record."""
    decides = deciding(assessment.margins, assessment.scalars)
    document = assessment.record.document
    operator = _OPERATOR(document)
    name = people.names.get(operator) if isinstance(operator, str) else None
    return Link(assessment, document, _look(document), decides, name)


def _margin(row: Link) -> Cell:
    """The margin of the part that decides, in its own unit."""
    part = row.worst
    if part is None:
        return None
    return part.worst_margin_db if isinstance(part, Margin) else part.margin


def _pairs(row: Link) -> Cell:
    part = row.worst
    return "/".join(part.pairs) if isinstance(part, Margin) else part.pair if part else None


def _of_curve(name: str, row: Link) -> Cell:
    """What only a curve has."""
    value: Cell = getattr(row.worst, name) if isinstance(row.worst, Margin) else None
    return value


def _corrected(assessment: Assessment) -> Cell:
    """The fields that say otherwise by corrections; the sheet of corrections has the rest."""
    corrected = assessment.record.corrected
    if corrected is None:
        return None
    fields = dict.fromkeys(correction.field for correction in corrected.applied)
    return ", ".join(field for field in fields if field not in corrected.taken_back) or None


def _said(heading: str, width: float, path: str) -> Column[Link]:
    """A column of what the record says at a path."""
    at = len(_SAID)
    _SAID.append(path)
    return Column(heading, width, Kind.TEXT, lambda r: r.said[at])


_JUDGED: tuple[Column[Link], ...] = (
    Column("Link", 15, Kind.TEXT, lambda r: r.of.record.label or NO_LABEL),
    Column("Judgement", 12, Kind.WORD, lambda r: r.of.judgement.value),
    Column("Stated verdict", 9, Kind.TEXT, lambda r: r.of.stated or "none"),
    Column("Sweeps say", 11, Kind.WORD, lambda r: r.of.recomputed.value),
    Column("Worst margin", 9, Kind.FIGURE, _margin),
    Column("Unit", 6, Kind.TEXT, lambda r: r.worst.unit if r.worst else None),
    Column("Margin of", 16, Kind.TEXT, lambda r: title(r.worst.parameter) if r.worst else None),
    Column("Margin pairs", 9, Kind.TEXT, _pairs),
    Column("Margin end", 7, Kind.TEXT, lambda r: _of_curve("end", r)),
    Column("Margin at, MHz", 9, Kind.FIGURE, lambda r: _of_curve("worst_margin_mhz", r)),
    Column("Why", 70, Kind.PROSE, lambda r: r.of.reason),
    Column("Findings", 9, Kind.COUNT, lambda r: len(r.of.findings)),
    Column("Corrected", 16, Kind.TEXT, lambda r: _corrected(r.of)),
    Column("Limit", 38, Kind.TEXT, lambda r: r.of.limit_path or "no limit table"),
    Column("Marginal", 34, Kind.TEXT, lambda r: r.of.marginal or None),
    Column("Rules not run", 9, Kind.COUNT, lambda r: len(r.of.rules_not_run)),
    Column("Limit known to grade", 11, Kind.TEXT, lambda r: r.of.grade),
    Column("How the limit was found", 70, Kind.PROSE, lambda r: r.of.limit_how),
)

_LEVELS = (
    ("site", 24),
    ("building", 14),
    ("floor", 8),
    ("space", 16),
    ("cabinet", 10),
    ("unit", 8),
    ("panel", 8),
    ("port", 8),
)
_PLACES = tuple(
    column
    for end in ("near", "far")
    for column in (
        _said(f"{end.capitalize()} termination", 16, f"link.{end}.termination"),
        *(
            _said(f"{end.capitalize()} {level}", width, f"link.{end}.place.{level}")
            for level, width in _LEVELS
        ),
    )
)

_TESTED: tuple[Column[Link], ...] = (
    _said("Limit as stated", 38, "test.limit.as_stated"),
    _said("Configuration", 16, "test.configuration.kind"),
    Column("Length of shortest pair, m", 13, Kind.FIGURE, lambda r: shortest_length_m(r.document)),
    _said("Cable maker", 16, "link.cable.maker"),
    _said("Cable part", 16, "link.cable.part"),
    _said("Cable construction", 12, "link.cable.construction"),
    _said("Reel or batch", 14, "link.cable.reel"),
    _said("Purpose", 12, "test.purpose"),
    _said("Test started", 26, "test.started.rfc3339"),
    _said("Operator", 10, "test.operator"),
    Column("Operator's name", 18, Kind.TEXT, lambda r: r.tested_by),
    _said("Near instrument", 14, "test.near.instrument.serial"),
    _said("Far instrument", 14, "test.far.instrument.serial"),
    _said("Source file", 30, "origin.0.name"),
    _said("Place in the source", 30, "origin.0.locator"),
    Column("Record", 64, Kind.TEXT, lambda r: r.of.record.record_id),
)

_look = fields(_SAID)
LINKS = Layout("Links", (*_JUDGED, *_PLACES, *_TESTED), printed=13, lines=2)
