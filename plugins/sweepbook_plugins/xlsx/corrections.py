"""The sheet of corrections: what people put right, beside what the records say."""

from collections.abc import Iterator
from typing import NamedTuple

from sweepbook.corrections.model import Correction
from sweepbook.judging.assessment import Assessment
from sweepbook.people.names import People
from sweepbook_plugins.xlsx.layout import Column, Layout
from sweepbook_plugins.xlsx.links import NO_LABEL
from sweepbook_plugins.xlsx.look import Kind


class Change(NamedTuple):
    """A row."""

    label: str
    of: Correction
    who: str
    in_use: str


def changes(assessment: Assessment, people: People) -> Iterator[Change]:
    """The rows of a record."""
    label, corrected = assessment.record.label or NO_LABEL, assessment.record.corrected
    if corrected:
        back = corrected.taken_back
        held = [(of, "taken back" if of.field in back else "yes") for of in corrected.applied]
        held += [(unfit.correction, "no") for unfit in corrected.unfit]
        for of, in_use in held:
            yield Change(label, of, people.shown(of.who), in_use)


_COLUMNS: tuple[Column[Change], ...] = (
    Column("Link", 15, Kind.TEXT, lambda r: r.label),
    Column("Field", 24, Kind.TEXT, lambda r: r.of.field),
    Column("The record says", 30, Kind.PROSE, lambda r: r.of.old or None),
    Column("Right is", 30, Kind.PROSE, lambda r: r.of.new or None),
    Column("Who", 16, Kind.TEXT, lambda r: r.who),
    Column("When", 21, Kind.TEXT, lambda r: r.of.when),
    Column("Why", 50, Kind.PROSE, lambda r: r.of.why),
    Column("In use", 10, Kind.TEXT, lambda r: r.in_use),
    Column("Record", 64, Kind.TEXT, lambda r: r.of.record),
)

CORRECTIONS = Layout("Corrections", _COLUMNS, printed=8, lines=1)
