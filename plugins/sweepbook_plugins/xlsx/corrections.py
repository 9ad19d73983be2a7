"""The sheet of corrections: what people put right, beside what the records say."""

from collections.abc import Iterator

from sweepbook.judging.assessment import Assessment
from sweepbook.people.names import People
from sweepbook_plugins.xlsx.layout import Column, Layout, Row
from sweepbook_plugins.xlsx.links import NO_LABEL
from sweepbook_plugins.xlsx.look import Kind

_COLUMNS = (
    Column("Link", 15, Kind.TEXT),
    Column("Field", 24, Kind.TEXT),
    Column("The record says", 30, Kind.PROSE),
    Column("Right is", 30, Kind.PROSE),
    Column("Who", 16, Kind.TEXT),
    Column("When", 21, Kind.TEXT),
    Column("Why", 38, Kind.PROSE),
    Column("In use", 10, Kind.TEXT),
    Column("Record", 64, Kind.TEXT),
)

CORRECTIONS = Layout("Corrections", _COLUMNS, printed=8, lines=1)


def changes(assessment: Assessment, people: People) -> Iterator[Row]:
    """The rows of a record."""
    corrected = assessment.record.corrected
    if corrected is None:
        return
    label, back = assessment.record.label or NO_LABEL, corrected.taken_back
    held = [(of, "taken back" if of.field in back else "yes") for of in corrected.applied]
    held += [(unfit.correction, "no") for unfit in corrected.unfit]
    for of, in_use in held:
        who = people.shown(of.who)
        yield (
            label, of.field, of.old or None, of.new or None, who, of.when, of.why, in_use, of.record
        )  # fmt: skip
