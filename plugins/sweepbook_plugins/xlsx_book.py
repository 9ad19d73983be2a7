"""Filling the workbook: one walk over the entries, all sheets at once."""

from collections.abc import Callable, Iterable, Iterator
from typing import TYPE_CHECKING, Any

from sweepbook.judging.assessment import Assessment, Margin, ScalarMargin
from sweepbook.record import vocabulary
from sweepbook_plugins import xlsx_columns as columns
from sweepbook_plugins.xlsx_about import write_about
from sweepbook_plugins.xlsx_columns import Found, Judged
from sweepbook_plugins.xlsx_instruments import Instruments
from sweepbook_plugins.xlsx_table import Look, Table

if TYPE_CHECKING:
    from sweepbook.delivery import Delivery
    from sweepbook.rules.model import Entry, Finding

WHOLE_SET = "(the whole set)"


def fill(workbook: Any, delivery: "Delivery") -> None:  # noqa: ANN401 - xlsxwriter ships no types
    """Write every sheet.

    Args:
        workbook: xlsxwriter's, in constant memory.
        delivery: walked once.
    """
    look = Look(workbook)
    links = Table(workbook, look, "Links", columns.LINKS, printed=12)
    margins = Table(workbook, look, "Margins", columns.MARGINS, frozen=4, printed=17)
    findings = Table(workbook, look, "Findings", columns.FINDINGS, printed=6)
    units = Table(workbook, look, "Instruments", columns.INSTRUMENTS)
    instruments, entry = Instruments(), delivery.about.catalogue.entry
    for assessment in delivery.entries:
        links.add([columns.link(assessment)])
        margins.add(_judged(assessment))
        findings.add(_found(assessment.findings, assessment, entry))
        instruments.add(assessment.record.document)
    findings.add(_found(delivery.findings, None, entry))
    units.add(instruments)
    for table in (links, margins, findings, units):
        table.close()
    write_about(workbook, look, delivery)


def _judged(assessment: Assessment) -> Iterator[Judged]:
    """Curves first, single figures after, in the order of the judgement."""
    parameters = vocabulary.load().parameters
    record = assessment.record
    parts: list[Margin | ScalarMargin] = [*assessment.margins, *assessment.scalars]
    for part in parts:
        known = parameters.get(part.parameter)
        unit = (known.unit if known else "dB") if isinstance(part, Margin) else part.unit
        yield Judged(record.label, record.record_id, part, unit)


def _found(
    findings: "Iterable[Finding]", of: Assessment | None, entry: "Callable[[str], Entry]"
) -> Iterator[Found]:
    label = of.record.label if of else WHOLE_SET
    record_id = of.record.record_id if of else ""
    for finding in findings:
        yield Found(label, finding, entry(finding.rule), record_id)
