"""A record assessed in another process than the run's, with what a writer makes of it there."""

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from sweepbook.audit.context import Context
from sweepbook.audit.run import Assessed, assessed_case, case_of
from sweepbook.judging.assessment import Assessment
from sweepbook.record.model import Corrected, Record

if TYPE_CHECKING:
    from sweepbook.delivery import View, Work
    from sweepbook.judging.hold import Held


def worked_on(record: Record, context: Context, work: "Work[object]", view: "View") -> Assessed:
    """Judge a record, ask the rules, and do a writer's work on it while its curves are at hand.

    Args:
        record: what is assessed.
        context: what it is judged by.
        work: of the writer.
        view: what the writer may see of an assessment.

    Returns:
        What the run counts, as `bare` leaves it, with what the work made.
    """
    case = case_of(record, context)
    found = assessed_case(case, context)

    def held() -> "Sequence[Held]":
        return case.working.held if case.working and found.assessment.limit_path else ()

    made = work(view(found.assessment), held)
    return Assessed(bare(found.assessment), found.trace, (made,))


def bare(assessment: Assessment) -> Assessment:
    """An assessment without what was measured, and without the curves and figures judged by it.

    What a run counts is left, in a few kilobytes.
    """
    return replace(assessment, record=_unmeasured(assessment.record), margins=(), scalars=())


def _unmeasured(record: Record) -> Record:
    corrected, spelled = record.corrected, record.spelled
    if corrected is not None:
        evidence = _unmeasured(corrected.evidence)
        corrected = Corrected(evidence, corrected.applied, corrected.unfit)
    if spelled is not None:
        spelled = replace(spelled, record=_unmeasured(spelled.record))
    document = {name: part for name, part in record.document.items() if name != "results"}
    return replace(record, document=document, corrected=corrected, spelled=spelled)
