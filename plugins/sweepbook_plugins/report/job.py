"""One walk over a delivery: each test's sheet goes to the spool, a little of it is kept."""

from collections import Counter
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from sweepbook.judging import phrases
from sweepbook.judging.assessment import Margin
from sweepbook.judging.overview import deciding
from sweepbook.limits.practice import Practice
from sweepbook.retests.collect import OneTest, tested
from sweepbook.testers.collect import Fleet
from sweepbook.testers.reading import unit_tests
from sweepbook.text import text_at
from sweepbook_plugins.report.drawing import Drawing
from sweepbook_plugins.report.found import Findings
from sweepbook_plugins.report.sheet import sheet
from sweepbook_plugins.report.spool import Piece, Spool

if TYPE_CHECKING:
    from sweepbook.delivery import Delivery
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
        sheet: where its sheet lies.
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
    sheet: Piece
    drawn: bool
    one: OneTest | None


@dataclass(slots=True)
class Job:
    """What is kept of all tests; memory grows by about two kilobytes a test.

    Attributes:
        drawing: which plots were asked for.
        tests: in the order of the delivery.
        findings: by rule.
        fleet: the instruments.
    """

    drawing: Drawing
    findings: Findings
    fleet: Fleet
    tests: list[Test] = field(default_factory=list)

    def counted(self, member: str) -> Counter[str]:
        """How many tests there are of each word of a member: stated, recomputed, judgement."""
        return Counter(getattr(test, member) for test in self.tests)


def walk(delivery: "Delivery", spool: Spool) -> Job:
    """Walk over the entries, once."""
    about, drawing = delivery.about, Drawing.of(delivery.asked)
    job = Job(
        drawing,
        Findings(about.catalogue.entries, delivery.people),
        Fleet(about.practice or Practice.load()),
    )
    for number, assessment in enumerate(delivery.entries, 1):
        held = delivery.held(assessment) if delivery.held and drawing.wants(assessment) else ()
        piece = spool.put(sheet(assessment, number, delivery.people, held))
        job.tests.append(_kept(assessment, piece, bool(held)))
        job.findings.of_record(assessment, number)
        job.fleet.add(unit_tests(assessment))
    job.findings.of_set(delivery.findings, delivery.rules_not_run)
    return job


def _kept(assessment: "Assessment", piece: Piece, drawn: bool) -> Test:
    record = assessment.record
    worst = deciding(assessment.margins, assessment.scalars)
    margin, unit, words = None, "", ""
    if isinstance(worst, Margin):
        margin, unit = worst.worst_margin_db, worst.unit
        words = phrases.subject(worst.parameter, worst.end, worst.pairs)
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
        sheet=piece,
        drawn=drawn,
        one=tested(assessment),
    )
