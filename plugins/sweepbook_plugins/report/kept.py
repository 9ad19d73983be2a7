"""What is kept of a test for the parts of the page that are about the whole job."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sweepbook.judging import phrases
from sweepbook.judging.assessment import Margin
from sweepbook.judging.overview import deciding
from sweepbook.retests.collect import OneTest, tested
from sweepbook.text import text_at

if TYPE_CHECKING:
    from sweepbook.judging.assessment import Assessment

NO_LABEL = "(no label)"


@dataclass(frozen=True, slots=True)
class Test:
    """What is kept of one test; its sheet lies in the spool.

    Attributes:
        label: of the link, or words that it has none.
        record_id: identity of the record.
        tested_at: by the clock of the tester, as the source has it.
        purpose: as stated.
        stated: verdict of the source, or "none".
        recomputed: pass, fail or undecided.
        judgement: of the stated verdict.
        reason: of the judgement.
        limit: path of the table that it was judged under, or "".
        limit_stated: how the source spells its limit.
        margin, unit: of the curve or figure that decides; None and "" without one.
        worst: what decides, in words, with its frequency.
        findings: how many stand, those that were accepted not among them.
        drawn: whether it has plots.
        one: what the retest list needs of it; None for a kind of record that is not judged.
    """

    label: str
    record_id: str
    tested_at: str
    purpose: str
    stated: str
    recomputed: str
    judgement: str
    reason: str
    limit: str
    limit_stated: str
    margin: float | None
    unit: str
    worst: str
    findings: int
    drawn: bool
    one: OneTest | None

    @property
    def export_of(self) -> str:
        """Record id of the test of which it is another export; "" where it counts itself."""
        return self.one.test.export_of if self.one else ""


def kept(assessment: "Assessment", *, drawn: bool) -> Test:
    """Keep of a test what the parts of the page about the job need."""
    record = assessment.record
    worst = deciding(assessment.margins, assessment.scalars)
    margin, unit, words = None, "", ""
    if isinstance(worst, Margin):
        margin, unit = worst.worst_margin_db, worst.unit
        words = phrases.subject(worst.parameter, worst.end, worst.pairs)
        words += "?" if worst.parameter in assessment.ends_in_doubt else ""
        if worst.worst_margin_mhz is not None:
            words += f", {phrases.frequency(worst.worst_margin_mhz)}"
    elif worst is not None:
        margin, unit = worst.margin, worst.unit
        words = " ".join(filter(None, (phrases.name(worst.parameter), worst.pair)))
    return Test(
        label=record.label or NO_LABEL,
        record_id=record.record_id,
        tested_at=text_at(record.document, "test", "started", "as_stated"),
        purpose=text_at(record.document, "test", "purpose"),
        stated=assessment.stated or "none",
        recomputed=assessment.recomputed.value,
        judgement=assessment.judgement.value,
        reason=assessment.reason,
        limit=assessment.limit_path or "",
        limit_stated=text_at(record.document, "test", "limit", "as_stated"),
        margin=margin,
        unit=unit,
        worst=words,
        findings=sum(not one.accepted for one in assessment.findings),
        drawn=drawn,
        one=tested(assessment),
    )
