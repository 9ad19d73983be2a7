"""One walk over a delivery: each test's sheet goes to the spool, a little of it is kept."""

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.findings import Finding, RuleNotRun
from sweepbook.limits.practice import Practice
from sweepbook.people.names import People
from sweepbook.testers.collect import Fleet
from sweepbook.testers.reading import UnitTest, unit_tests
from sweepbook_plugins.report.drawing import Drawing
from sweepbook_plugins.report.found import Findings
from sweepbook_plugins.report.kept import Test, kept
from sweepbook_plugins.report.sheet import sheet
from sweepbook_plugins.report.spool import Piece, Spool

if TYPE_CHECKING:
    from sweepbook.delivery import Delivery
    from sweepbook.judging.assessment import Assessment
    from sweepbook.judging.hold import Held


class Written(NamedTuple):
    """What is made of one test, in whatever process: it is sent to the one that writes the page.

    Attributes:
        sheet: its sheet as HTML.
        test: what is kept of it.
        findings, not_run: what the rules say of it.
        units: of the instruments that made it.
    """

    sheet: bytes
    test: Test
    findings: tuple[Finding, ...]
    not_run: tuple[RuleNotRun, ...]
    units: tuple[UnitTest, ...]


@dataclass(slots=True)
class Job:
    """What is kept of all tests; memory grows by about two kilobytes a test.

    Attributes:
        drawing: which plots were asked for.
        tests: in the order of the delivery.
        sheets: where the sheet of each lies in the spool.
        findings: by rule.
        units: of the instruments that made each.
        fleet: the instruments; complete when it is known which tests count.
    """

    drawing: Drawing
    findings: Findings
    fleet: Fleet
    tests: list[Test] = field(default_factory=list)
    sheets: list[Piece] = field(default_factory=list)
    units: list[tuple[UnitTest, ...]] = field(default_factory=list)

    @property
    def counting(self) -> list[Test]:
        """The tests without other exports of them; known when all are in."""
        return [test for test in self.tests if not test.export_of]

    def counted(self, member: str) -> Counter[str]:
        """How many tests there are of each word of a member: stated, recomputed, judgement."""
        return Counter(getattr(test, member) for test in self.tests)


def walk(delivery: "Delivery", spool: Spool) -> Job:
    """Walk over the entries, once; the sheets may come of several processes."""
    about, drawing = delivery.about, Drawing.of(delivery.asked)
    job = Job(
        drawing,
        Findings(about.catalogue.entries, delivery.people),
        Fleet(about.practice or Practice.load()),
    )
    work = partial(written, drawing, delivery.people)
    for number, one in enumerate(delivery.each(work), 1):
        job.sheets.append(spool.put(one.sheet))
        job.tests.append(one.test)
        job.findings.of_record(number, one.test.label, one.findings, one.not_run)
        job.units.append(one.units)
    job.findings.of_set(delivery.findings, delivery.rules_not_run)
    return job


def written(
    drawing: Drawing,
    people: People,
    assessment: "Assessment",
    held: "Callable[[], Sequence[Held]]",
) -> Written:
    """Write the sheet of a test, and keep what the page says of it elsewhere.

    Args:
        drawing: which curves are to be drawn.
        people: their names by their ids.
        assessment: of the test.
        held: gives its curves as they were held against their limits.
    """
    curves = held() if drawing.wants(assessment) else ()
    return Written(
        sheet(assessment, people, curves).encode("utf-8"),
        kept(assessment, drawn=bool(curves)),
        assessment.findings,
        assessment.rules_not_run,
        tuple(unit_tests(assessment)),
    )
