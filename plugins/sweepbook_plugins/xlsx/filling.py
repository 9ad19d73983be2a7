"""The rows of all tables of a delivery: one walk over the entries, whoever writes them down."""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import partial
from typing import TYPE_CHECKING, Protocol

from sweepbook.findings import of_tests
from sweepbook.judging.overview import ALL
from sweepbook.schedule.reconcile import Reconciliation
from sweepbook.waiting import Waiting
from sweepbook_plugins.xlsx.corrections import CORRECTIONS
from sweepbook_plugins.xlsx.findings import FINDINGS, WHOLE_SET, Finder
from sweepbook_plugins.xlsx.history import EXPORT, HISTORY
from sweepbook_plugins.xlsx.instruments import INSTRUMENTS, Instruments, Said
from sweepbook_plugins.xlsx.layout import Layout, Row
from sweepbook_plugins.xlsx.links import LINKS, settled
from sweepbook_plugins.xlsx.margins import MARGINS
from sweepbook_plugins.xlsx.noting import Noted, noted
from sweepbook_plugins.xlsx.retests import RETESTS
from sweepbook_plugins.xlsx.schedule import SCHEDULE, planned
from sweepbook_plugins.xlsx.spellings import SPELLINGS, Spellings
from sweepbook_plugins.xlsx.standing import Standing

if TYPE_CHECKING:
    from sweepbook.delivery import Delivery
    from sweepbook.findings import Finding
    from sweepbook.judging.assessment import CameTo

WHICH_MARGINS = "margins"
"""The option of the command line, as a delivery has it."""
LAYOUTS = (
    LINKS, RETESTS, HISTORY, SCHEDULE, MARGINS, FINDINGS, INSTRUMENTS, CORRECTIONS, SPELLINGS,
)  # fmt: skip
"""Every table, in the order in which they stand in a workbook."""


class Sheet(Protocol):
    """Whatever takes the rows of a table."""

    def add(self, rows: Iterable[Row]) -> None:
        """Write rows below those that are there."""

    def close(self) -> None:
        """Finish, now that the number of rows is known."""


@dataclass
class Totals:
    """What the tables come to.

    Attributes:
        tests: how many there are, other exports of them not among them.
        exported: records that are such exports.
        judgements, sweeps: tests by judgement and by what the sweeps say.
        marginal, again: marginal passes, and those that have to be tested again.
        findings: by severity, accepted ones not among them.
        accepted: findings that somebody lets stand.
        not_run: rules that gave no answer, counted for each record.
        corrected: tests of which something was corrected.
        instruments: units.
        retests: links to be tested again, by state.
        held: the tests held against the schedule; None without one.
    """

    tests: int = 0
    exported: int = 0
    judgements: Counter[str] = field(default_factory=Counter)
    sweeps: Counter[str] = field(default_factory=Counter)
    marginal: int = 0
    again: int = 0
    findings: Counter[str] = field(default_factory=Counter)
    accepted: int = 0
    not_run: int = 0
    corrected: int = 0
    instruments: int = 0
    retests: Counter[str] = field(default_factory=Counter)
    held: Reconciliation | None = None

    def add(self, one: Noted) -> None:
        """Count one test."""
        self._count(one, 1)
        self.corrected += one.corrected
        self.found(one.findings, len(one.not_run))

    def take_back(self, came_to: "CameTo") -> None:
        """Count a record no longer as a test: it is another export of one."""
        self.exported += 1
        self._count(came_to, -1)

    def _count(self, one: "Noted | CameTo", times: int) -> None:
        self.tests += times
        self.judgements[one.judgement] += times
        self.sweeps[one.recomputed] += times
        self.marginal += times * one.marginal
        self.again += times * one.again

    def found(self, findings: "Iterable[Finding]", not_run: int) -> None:
        """Count what rules found, and how many gave no answer."""
        self.not_run += not_run
        for one in findings:
            self.accepted += one.accepted is not None
            self.findings[one.severity.value] += one.accepted is None


_Waits = tuple[Row, str, tuple[Said, ...]]
"""The row of a link, when its test was started, and what that says of its instruments."""


def fill(
    delivery: "Delivery",
    begin: Callable[[Layout], Sheet],
    chosen: Sequence[str] = (),
    on_test: Callable[[Noted], None] = lambda _: None,
) -> Totals:
    """Write every table.

    Args:
        delivery: walked once.
        begin: begins a table.
        chosen: labels or record ids of the tests whose sweeps are to be noted.
        on_test: called with what was noted of each test.
    """
    links, again, before = begin(LINKS), begin(RETESTS), begin(HISTORY)
    scheduled = begin(SCHEDULE) if delivery.schedule else None
    margins, findings, units = begin(MARGINS), begin(FINDINGS), begin(INSTRUMENTS)
    corrected, people = begin(CORRECTIONS), delivery.people
    instruments, spellings, totals = Instruments(), Spellings(), Totals()
    finder = Finder(delivery.about.catalogue.entries, people)
    work = partial(noted, people, delivery.asked.get(WHICH_MARGINS, ALL), chosen)
    with Standing(delivery.about.job.site) as tests, Waiting[_Waits]() as waiting:
        for one in delivery.each(work):
            on_test(one)
            totals.add(one)
            waiting.add((one.link, one.begun, one.units))
            margins.add(one.margins)
            findings.add(finder.rows(one.label, one.record_id, one.findings, one.not_run))
            corrected.add(one.corrections)
            spellings.add(one.spelled)
            tests.add(one.kept)
        for exported in delivery.exported.values():
            totals.take_back(exported.came_to)
        tests.complete(of_tests(delivery.findings, delivery.exported))
        totals.held = tests.held_against(delivery)
        if scheduled is not None and totals.held is not None:
            scheduled.add(map(planned, totals.held.items))
            scheduled.close()
        tests.settle(delivery.about.limits, totals.held)
        links.add(_of_links(waiting, tests, instruments))
        again.add(tests.retests())
        before.add(tests.history())
        totals.retests = tests.states
    findings.add(finder.rows(WHOLE_SET, None, delivery.findings, delivery.rules_not_run))
    totals.found(delivery.findings, len(delivery.rules_not_run))
    units.add(instruments)
    totals.instruments = len(instruments)
    for sheet in (links, again, before, margins, findings, units, corrected):
        sheet.close()
    if spellings:
        brought = begin(SPELLINGS)
        brought.add(spellings)
        brought.close()
    return totals


def _of_links(
    waiting: Iterable[_Waits], tests: Standing, instruments: Instruments
) -> Iterator[Row]:
    """The rows of the links; on their way the instruments of the tests that count."""
    for (row, begun, units), word in zip(waiting, tests.current(), strict=True):
        if word != EXPORT:
            instruments.add(begun, units)
        yield settled(row, word)
