"""The lines of `show --why`: one curve or figure step by step."""

from collections.abc import Iterator

from sweepbook.audit.context import Context
from sweepbook.audit.run import case_of
from sweepbook.cli import lines, table, wording
from sweepbook.errors import SweepbookError
from sweepbook.explain.asked import Part, meant, subject
from sweepbook.explain.walk import walk
from sweepbook.judging.assessment import Assessment, Margin, Recomputed
from sweepbook.judging.phrases import lack
from sweepbook.text import text_at


def of(assessment: Assessment, question: str, context: Context) -> Iterator[str]:
    """Say what is missing, walk through the gravest of the parts meant, and name the others.

    Raises:
        SweepbookError: nothing was judged, or nothing judged or missing is called so.
    """
    record, columns = assessment.record, table.terminal_columns()
    case = case_of(record, context)
    if case.table is None or case.working is None:
        raise SweepbookError(
            f"Nothing of {record.label or '(no label)'} was judged: {assessment.reason}",
            "Name a limit with --against, or see `sweepbook show` without --why.",
        )
    found = meant(case.assessment, case.working.lacks, question)
    yield from table.paragraph(f"Test of {record.label or '(no label)'}", columns)
    started = text_at(record.document, "test", "started", "rfc3339") or "at no known time"
    yield from table.facts([("started", f"{started}, {record.record_id[:16]}")], columns)
    missing = [("missing", f"{lack(one)}; it is needed for a pass") for one in found.lacks]
    if missing:
        yield from table.facts(once(iter(missing)), columns)
    if not found.parts:
        told = f"{assessment.judgement.value}. {assessment.reason}"
        yield from table.facts([("record", told)], columns)
        return
    chosen, *others = found.parts
    yield from table.facts(once(walk(case, chosen)), columns)
    if others:
        yield ""
        yield from table.paragraph(
            "Also judged, failing and undecided ones first, then by margin:", columns
        )
        for part in others:
            yield from table.paragraph(briefly(part), columns, lines.INDENT)
    if assessment.recomputed is Recomputed.FAIL:
        yield ""
        yield from table.paragraph(lines.CAUTION, columns)


def once(steps: "Iterator[tuple[str, str]]") -> Iterator[tuple[str, str]]:
    """The steps, each name on the first of its lines only."""
    last = ""
    for about, text in steps:
        yield ("" if about == last else about), text
        last = about


def briefly(part: Part) -> str:
    """A part with its outcome and margin."""
    margin = part.worst_margin_db if isinstance(part, Margin) else part.margin
    figure = wording.margin(margin, part.unit) or "no margin"
    return f"{subject(part)}: {part.outcome.value}, {figure}"
