"""The rows of all tables of a delivery: one walk over the entries, whoever writes them down."""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Protocol

from sweepbook.schedule.reconcile import Reconciliation
from sweepbook_plugins.xlsx.corrections import CORRECTIONS, changes
from sweepbook_plugins.xlsx.findings import FINDINGS, Finder
from sweepbook_plugins.xlsx.history import HISTORY
from sweepbook_plugins.xlsx.instruments import INSTRUMENTS, Instruments
from sweepbook_plugins.xlsx.layout import Layout
from sweepbook_plugins.xlsx.links import LINKS, link
from sweepbook_plugins.xlsx.margins import ALL, MARGINS, judged
from sweepbook_plugins.xlsx.retests import RETESTS
from sweepbook_plugins.xlsx.schedule import SCHEDULE
from sweepbook_plugins.xlsx.spellings import SPELLINGS, Spellings
from sweepbook_plugins.xlsx.standing import Standing

if TYPE_CHECKING:
    from sweepbook.delivery import Delivery
    from sweepbook.findings import Finding
    from sweepbook.judging.assessment import Assessment
    from sweepbook.retests.collect import Retest

WHICH_MARGINS = "margins"
"""The option of the command line, as a delivery has it."""
LAYOUTS: tuple[Layout[Any], ...] = (
    LINKS, RETESTS, HISTORY, SCHEDULE, MARGINS, FINDINGS, INSTRUMENTS, CORRECTIONS, SPELLINGS,
)  # fmt: skip
"""Every table, in the order in which they stand in a workbook."""


class Sheet(Protocol):
    """Whatever takes the rows of a table."""

    def add(self, rows: Iterable[Any]) -> None:
        """Write rows below those that are there."""

    def close(self) -> None:
        """Finish, now that the number of rows is known."""


@dataclass
class Totals:
    """What the tables come to.

    Attributes:
        tests: how many there are.
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

    def add(self, assessment: "Assessment") -> None:
        """Count one test."""
        self.tests += 1
        self.judgements[assessment.judgement.value] += 1
        self.sweeps[assessment.recomputed.value] += 1
        self.marginal += bool(assessment.marginal)
        self.again += assessment.again
        self.corrected += bool(assessment.record.corrected)
        self.found(assessment.findings, len(assessment.rules_not_run))

    def found(self, findings: "Iterable[Finding]", not_run: int) -> None:
        """Count what rules found, and how many gave no answer."""
        self.not_run += not_run
        for one in findings:
            self.accepted += one.accepted is not None
            self.findings[one.severity.value] += one.accepted is None


def fill(
    delivery: "Delivery",
    begin: Callable[[Layout[Any]], Sheet],
    on_entry: Callable[["Assessment"], None] = lambda _: None,
) -> Totals:
    """Write every table.

    Args:
        delivery: walked once.
        begin: begins a table.
        on_entry: called with each entry while it is the one that came last.
    """
    links, again, before = begin(LINKS), begin(RETESTS), begin(HISTORY)
    planned = begin(SCHEDULE) if delivery.schedule else None
    margins, findings, units = begin(MARGINS), begin(FINDINGS), begin(INSTRUMENTS)
    corrected, people = begin(CORRECTIONS), delivery.people
    which = delivery.asked.get(WHICH_MARGINS, ALL)
    instruments, spellings, totals = Instruments(), Spellings(), Totals()
    finder = Finder(delivery.about.catalogue.entries, people)
    with Standing() as tests:
        for assessment in delivery.entries:
            on_entry(assessment)
            totals.add(assessment)
            links.add([link(assessment, people)])
            margins.add(judged(assessment, which))
            findings.add(finder.of_record(assessment))
            instruments.add(assessment.record.document)
            tests.add(assessment)
            corrected.add(changes(assessment, people))
            spellings.add(assessment)
        totals.held = tests.held_against(delivery)
        if planned is not None and totals.held is not None:
            planned.add(totals.held.items)
            planned.close()
        places = totals.held.places() if totals.held else {}
        again.add(_counted(tests.retests(delivery.about.limits, places), totals.retests))
        before.add(tests.history())
    findings.add(finder.of_set(delivery.findings, delivery.rules_not_run))
    totals.found(delivery.findings, len(delivery.rules_not_run))
    units.add(instruments)
    totals.instruments = len(list(instruments))
    for sheet in (links, again, before, margins, findings, units, corrected):
        sheet.close()
    if spellings:
        brought = begin(SPELLINGS)
        brought.add(spellings)
        brought.close()
    return totals


def _counted(found: "Iterable[Retest]", states: Counter[str]) -> "Iterator[Retest]":
    """The same ones, counted by state as they go by."""
    for one in found:
        states[one.state] += 1
        yield one
