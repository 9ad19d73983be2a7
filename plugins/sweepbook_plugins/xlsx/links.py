"""The sheet of links: one row a record."""

from sweepbook.judging.assessment import Assessment, Margin
from sweepbook.judging.overview import Part, deciding
from sweepbook.people.names import People
from sweepbook_plugins.xlsx.fields import shortest_length_m, title, worked_out
from sweepbook_plugins.xlsx.layout import Column, Layout, Row
from sweepbook_plugins.xlsx.look import Kind

NO_LABEL = "(no label)"
_NAMED = (
    Column("Link", 15, Kind.TEXT),
    Column("Test started", 24, Kind.TEXT),
    Column("Current", 11, Kind.TEXT),
)
_CURRENT = 2
"""Which of them is known only when all tests are: see `settled`."""
_JUDGED = (
    Column("Judgement", 12, Kind.WORD),
    Column("Stated verdict", 9, Kind.TEXT),
    Column("Sweeps say", 11, Kind.WORD),
    Column("Worst margin", 9, Kind.FIGURE),
    Column("Unit", 6, Kind.TEXT),
    Column("Margin of", 16, Kind.TEXT),
    Column("Margin pairs", 9, Kind.TEXT),
    Column("Margin end", 7, Kind.TEXT),
    Column("Margin at, MHz", 9, Kind.FIGURE),
    Column("Why", 35, Kind.PROSE),
    Column("Findings", 9, Kind.COUNT),
    Column("Corrected", 16, Kind.TEXT),
    Column("Limit", 38, Kind.TEXT),
    Column("Marginal", 34, Kind.TEXT),
    Column("Rules not run", 9, Kind.COUNT),
    Column("Limit known to grade", 11, Kind.TEXT),
    Column("How the limit was found", 70, Kind.PROSE),
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


def _told(heading: str, width: float, path: str) -> tuple[Column, str]:
    """A column of what a record says, with the path in its document."""
    return Column(heading, width, Kind.TEXT), path


_PLACES = tuple(
    column
    for end in ("near", "far")
    for column in (
        _told(f"{end.capitalize()} termination", 16, f"link.{end}.termination"),
        *(
            _told(f"{end.capitalize()} {level}", width, f"link.{end}.place.{level}")
            for level, width in _LEVELS
        ),
    )
)
_LENGTH = Column("Length of shortest pair, m", 16, Kind.FIGURE)
_NAME = Column("Operator's name", 18, Kind.TEXT)
_RECORD = Column("Record", 64, Kind.TEXT)
_TESTED = (
    _told("Limit as stated", 38, "test.limit.as_stated"),
    _told("Configuration", 16, "test.configuration.kind"),
    (_LENGTH, ""),
    _told("Cable maker", 16, "link.cable.maker"),
    _told("Cable part", 16, "link.cable.part"),
    _told("Cable construction", 12, "link.cable.construction"),
    _told("Reel or batch", 14, "link.cable.reel"),
    _told("Purpose", 12, "test.purpose"),
    _told("Operator", 10, "test.operator"),
    (_NAME, ""),
    _told("Near instrument", 14, "test.near.instrument.serial"),
    _told("Far instrument", 14, "test.far.instrument.serial"),
    _told("Source file", 30, "origin.0.name"),
    _told("Place in the source", 30, "origin.0.locator"),
    (_RECORD, ""),
)
"""A column without a path is filled by `link`."""
_SAID = (*_PLACES, *_TESTED)
_AT = {column.title: at for at, (column, _) in enumerate(_SAID)}
PATHS = ("test.started.rfc3339", *(path for _, path in _SAID))
"""Where a record says what is shown of it."""


def link(assessment: Assessment, label: str, found: Row, people: People) -> Row:
    """The row of a record, of which nobody knows as yet whether it is the current test.

    Args:
        assessment: of the test.
        label: of the link.
        found: what its record has at `PATHS`.
        people: their names by their ids.
    """
    record = assessment.record
    started, *said = found
    operator = said[_AT["Operator"]]
    said[_AT[_LENGTH.title]] = shortest_length_m(record.document)
    said[_AT[_NAME.title]] = people.names.get(operator) if isinstance(operator, str) else None
    said[_AT[_RECORD.title]] = record.record_id
    return (label, started, None, *_judged(assessment), *said)


def settled(row: Row, current: str | None) -> Row:
    """The row of a record, with whether its test is the current one of its link."""
    return (*row[:_CURRENT], current, *row[_CURRENT + 1 :])


def _judged(assessment: Assessment) -> Row:
    """What the sweeps say beside what was stated, in the order of `_JUDGED`."""
    return (
        assessment.judgement.value,
        assessment.stated or "none",
        assessment.recomputed.value,
        *_worst(deciding(assessment.margins, assessment.scalars)),
        assessment.reason,
        sum(one.accepted is None for one in assessment.findings),
        _corrected(assessment),
        assessment.limit_path or "no limit table",
        assessment.marginal or None,
        len(assessment.rules_not_run),
        assessment.grade,
        assessment.limit_how,
    )


def _worst(part: Part | None) -> Row:
    """Of what decides: margin, unit, parameter, pairs, end, frequency; the last two of a curve."""
    if part is None:
        return (None,) * 6
    named = title(part.parameter)
    if isinstance(part, Margin):
        pairs, at = "/".join(part.pairs), part.worst_margin_mhz
        return worked_out(part.worst_margin_db), part.unit, named, pairs, part.end, at
    return worked_out(part.margin), part.unit, named, part.pair, None, None


def _corrected(assessment: Assessment) -> str | None:
    """The fields that say otherwise by corrections; the sheet of corrections has the rest."""
    corrected = assessment.record.corrected
    if corrected is None:
        return None
    fields = dict.fromkeys(correction.field for correction in corrected.applied)
    return ", ".join(field for field in fields if field not in corrected.taken_back) or None


LINKS = Layout("Links", (*_NAMED, *_JUDGED, *(column for column, _ in _SAID)), printed=14, lines=3)
