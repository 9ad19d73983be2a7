"""Filling the workbook: one walk over the entries, all sheets at once."""

from typing import TYPE_CHECKING, Any

from sweepbook.retests.collect import OneTest, retests, tested
from sweepbook.schedule.reconcile import reconcile
from sweepbook_plugins.xlsx.about import write_about
from sweepbook_plugins.xlsx.corrections import CORRECTIONS, changes
from sweepbook_plugins.xlsx.findings import FINDINGS, Finder
from sweepbook_plugins.xlsx.instruments import INSTRUMENTS, Instruments
from sweepbook_plugins.xlsx.links import LINKS, link
from sweepbook_plugins.xlsx.margins import MARGINS, judged
from sweepbook_plugins.xlsx.retests import RETESTS
from sweepbook_plugins.xlsx.schedule import SCHEDULE
from sweepbook_plugins.xlsx.spellings import SPELLINGS, Spellings
from sweepbook_plugins.xlsx.styles import Styles
from sweepbook_plugins.xlsx.table import MOST_ROWS, Table

if TYPE_CHECKING:
    from sweepbook.delivery import Delivery


def fill(workbook: Any, delivery: "Delivery", most_rows: int = MOST_ROWS) -> None:  # noqa: ANN401
    """Write every sheet.

    Args:
        workbook: xlsxwriter's, in constant memory; it ships no types.
        delivery: walked once.
        most_rows: rows of a sheet, the header's included; what is over goes on a further sheet.
    """
    styles = Styles(workbook)
    links = Table(workbook, styles, LINKS, most_rows)
    again = Table(workbook, styles, RETESTS, most_rows)
    planned = Table(workbook, styles, SCHEDULE, most_rows) if delivery.schedule else None
    margins = Table(workbook, styles, MARGINS, most_rows)
    findings = Table(workbook, styles, FINDINGS, most_rows)
    units = Table(workbook, styles, INSTRUMENTS, most_rows)
    corrected = Table(workbook, styles, CORRECTIONS, most_rows)
    people = delivery.people
    instruments, spellings = Instruments(), Spellings()
    finder = Finder(delivery.about.catalogue.entries, people)
    tests: list[OneTest] = []
    for assessment in delivery.entries:
        links.add([link(assessment, people)])
        margins.add(judged(assessment))
        findings.add(finder.of_record(assessment))
        instruments.add(assessment.record.document)
        if (test := tested(assessment)) is not None:
            tests.append(test)
        corrected.add(changes(assessment, people))
        spellings.add(assessment)
    limits, places = delivery.about.limits, {}
    if planned is not None and delivery.schedule is not None:
        attempts = (one.test for one in tests)
        held = reconcile(delivery.schedule, attempts, limits, delivery.scheme)
        planned.add(held.items)
        planned.close()
        places = held.places()
    again.add(retests(tests, limits, places))
    findings.add(finder.of_set(delivery.findings, delivery.rules_not_run))
    units.add(instruments)
    for table in (links, again, margins, findings, units, corrected):
        table.close()
    if spellings:
        brought = Table(workbook, styles, SPELLINGS, most_rows)
        brought.add(spellings)
        brought.close()
    write_about(workbook, styles, delivery)
