"""The lines of a check: one row a record, its reason, its findings, and the totals."""

import re
from collections.abc import Container, Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from sweepbook import caution
from sweepbook.cli import table
from sweepbook.cli.job_lines import of_marginal, of_names
from sweepbook.cli.table import Column
from sweepbook.cli.wording import (
    MOST_NAMED,
    counted,
    megahertz,
    of_tests,
    sentence,
    signed,
    where,
    with_unit,
)
from sweepbook.errors import ReadProblem
from sweepbook.findings import Finding, NotRun, RuleNotRun
from sweepbook.judging.assessment import Assessment, Judgement, Margin, ScalarMargin
from sweepbook.judging.overview import deciding
from sweepbook.people.names import NOBODY, People
from sweepbook.text import text_at

if TYPE_CHECKING:
    from sweepbook.audit.context import Context
    from sweepbook.audit.run import Run
    from sweepbook.limits.interpretations import Interpretations
    from sweepbook.project.model import Acceptance
    from sweepbook.record.model import Record

INDENT = 4
_QUOTED = re.compile(r"'[^']*'")
CAUTION = caution.ON_LINKS


def columns() -> list[Column]:
    """The columns of a check; the label takes what the others leave."""
    rest = [
        Column("stated", 6),
        Column("margin", 7, right=True),
        Column("worst at", 23),
        Column("MHz", 6, right=True),
        Column("judgement", 10),
    ]
    taken = sum(column.columns + len(table.GAP) for column in rest)
    return [Column("link", min(40, table.terminal_columns() - taken)), *rest]


def of_record(
    assessment: Assessment, layout: Sequence[Column], findings: bool = True
) -> Iterator[str]:
    """The row of a record, and below it the limit with the reason, then its findings."""
    worst = deciding(assessment.margins, assessment.scalars)
    cells = [
        assessment.record.label or "(no label)",
        assessment.stated or "none",
        *(_at(worst, assessment.ends_in_doubt) if worst else ("", "", "")),
        assessment.judgement.value,
    ]
    first, *more = table.row(cells, layout)
    yield table.coloured(first, assessment.judgement.value)
    yield from more
    grade = f" (known to grade {assessment.grade})" if assessment.grade else ""
    limit = f"{assessment.limit_path}{grade}. " if assessment.limit_path else ""
    said = f"{_when(assessment.record)}{limit}{sentence(assessment.reason)}"
    yield from table.paragraph(said, table.terminal_columns(), INDENT)
    for text in of_corrections(assessment.record):
        yield from table.paragraph(f"corrected: {text}", table.terminal_columns(), INDENT)
    if findings:
        yield from of_findings(assessment.findings, INDENT)
    yield from of_crashes(assessment.rules_not_run, INDENT)


def _when(record: "Record") -> str:
    """Day and minute of the test by its clock, which tell the tests of one label apart."""
    begun = text_at(record.document, "test", "started", "rfc3339")
    minute = begun[: len("2026-03-02T07:30")].replace("T", " ")
    return f"Tested {minute}. " if begun else ""


def of_corrections(record: "Record", people: People = NOBODY) -> Iterator[str]:
    """What was corrected in a record: from what to what, who, when and why."""
    if record.corrected is None:
        return
    back = record.corrected.taken_back
    last = {change.field: change for change in record.corrected.applied}
    for change in record.corrected.applied:
        said = "; this takes it back" if change is last[change.field] else "; taken back since"
        yield (
            f'{change.field} from "{change.old}" to "{change.new}" '
            f"({people.shown(change.who)}, {change.when}: {change.why})"
            f"{said if change.field in back else ''}"
        )


def of_findings(findings: Iterable[Finding], indent: int = 0) -> Iterator[str]:
    """One paragraph a finding."""
    for finding in findings:
        text = f"{finding.severity.value} {finding.rule}: {finding.message}"
        if finding.accepted:
            text = f"accepted {text} ({finding.accepted.in_words()})"
        first, *more = table.paragraph(text, table.terminal_columns(), indent)
        blanks, word, rest = first.partition(finding.severity.value)
        yield table.coloured(blanks + word, word) + rest
        yield from more


def of_crashes(rules: Iterable[RuleNotRun], indent: int = 0) -> Iterator[str]:
    """One paragraph a rule that crashed; the skipped ones are told in the totals."""
    for rule in rules:
        if rule.how is NotRun.CRASHED:
            text = f"rule {rule.rule} crashed and says nothing here: {rule.reason}"
            yield from table.paragraph(text, table.terminal_columns(), indent)


def of_problems(problems: Sequence[ReadProblem]) -> Iterator[str]:
    """What could not be read, and what was read with a doubt.

    Of a file the same is told once, with its first place and how often it comes again; texts of
    the file that are quoted do not make it another.
    """
    alike: dict[tuple[str, bool, str], list[ReadProblem]] = {}
    for problem in problems:
        said = _QUOTED.sub("", problem.message)
        alike.setdefault((problem.source, problem.lost_record, said), []).append(problem)
    for first, *others in alike.values():
        place = f", {first.place}" if first.place else ""
        text = f"{of_what(first)}: {first.source}{place}: {first.message}"
        if others:
            text = f"{text.rstrip('.')}. The same {counted(len(others), 'time')} more in this file."
        yield from table.paragraph(text, table.terminal_columns())


def of_readings(readings: "Interpretations") -> Iterator[str]:
    """What was decided of the disputed readings of the standards; nothing where nothing was."""
    decided = [name for name in readings.ids() if name in readings.fixed]
    if decided:
        said = ", ".join(f"{name} {'on' if readings.on(name) else 'off'}" for name in decided)
        text = f"Readings of the standards decided by --interpretation: {said}."
        yield from table.paragraph(text, table.terminal_columns())


def of_choice(run: "Run") -> Iterator[str]:
    """How many rules were not asked, by which words, and which acceptances met no finding."""
    catalogue, options = run.context.catalogue, run.context.options
    columns = table.terminal_columns()
    if count := len(catalogue.left_out):
        text = f"Rules not asked, by choice: {count} of {count + len(catalogue.entries)}"
        for word, name, usual in (("asked", "rules", "all"), ("left out", "rules_left_out", "")):
            words = options.get(name, usual)
            text += f"; {word}: {words}" if words != usual else ""
        yield from table.paragraph(f"{text}.", columns)
    project = run.context.project
    if project and project.practice:
        text = f"Figures set by {project.name}: {project.figures}."
        yield from table.paragraph(text, columns)
    yield from of_idle(run.context, run.idle_acceptances)


def of_idle(context: "Context", idle: "Sequence[Acceptance]") -> Iterator[str]:
    """What a project file accepts and nothing found."""
    if context.project and idle:
        named = "; ".join(one.in_words() for one in idle)
        text = (
            f"{context.project.name} accepts what was not found here: {named}. Where it is "
            "settled, or has a wrong rule or label, change that entry or take it out by hand."
        )
        yield from table.paragraph(text, table.terminal_columns())


def of_limits(run: "Run") -> Iterator[str]:
    """What a judgement means where verdicts were held against another limit than their own."""
    count = run.counters.of_tests().under_another
    if count:
        text = (
            "Stated under another limit than held against here, or under one that is not known: "
            f"{counted(count, 'verdict')}. Of these upheld says that the same word holds under "
            "this limit, overturned that it does not; neither says whether the tester was right."
        )
        yield from table.paragraph(text, table.terminal_columns())


def of_what(problem: ReadProblem) -> str:
    """Whether a test was lost by it."""
    return "not read" if problem.lost_record else "read, but"


def of_set(run: "Run") -> Iterator[str]:
    """What there is to say once all records are through: the set, the problems, the totals."""
    yield ""
    yield from of_findings(run.findings)
    yield from of_crashes(run.rules_not_run)
    yield from of_problems(run.problems)
    yield from of_readings(run.context.settings.interpretations)
    yield from of_limits(run)
    yield from of_names(run)
    yield from of_marginal(run)
    yield from of_choice(run)
    yield from table.paragraph(totals(run), table.terminal_columns())
    if any(run.counters.findings.values()):
        text = "`sweepbook rules show ID` tells what a finding means and what to do."
        yield from table.paragraph(text, table.terminal_columns())


def totals(run: "Run") -> str:
    """The counts in a sentence or two."""
    counters, tests = run.counters, run.counters.of_tests()
    judged = ", ".join(f"{count} {word.value}" for word, count in tests.judgements.items() if count)
    found = ", ".join(
        counted(count, word.value) for word, count in counters.findings.items() if count
    )
    accepted = f", {counters.accepted} accepted" if counters.accepted else ""
    skipped = sorted(rule for rule, tally in counters.rules.items() if tally.skipped)
    parts = [
        f"{of_tests(counters)}: {judged or 'nothing to judge'}.",
        f"Findings: {found or 'none'}{accepted}.",
    ]
    if counters.problems:
        parts.append(f"{counted(counters.problems, 'problem')} in reading.")
    if skipped:
        names = f": {', '.join(skipped)}"
        if len(skipped) > MOST_NAMED:
            names = "; `sweepbook check --json` names them"
        parts.append(
            f"{counted(len(skipped), 'rule')} could not look at every test and "
            f"{'does' if len(skipped) == 1 else 'do'} not count as kept{names}."
        )
    return " ".join(parts)


def needs_caution(run: "Run") -> bool:
    """Whether somebody will now go and work on links."""
    judgements = run.counters.judgements
    failed = sum(count for word, count in run.counters.recomputed.items() if word == "fail")
    return bool(failed or judgements[Judgement.OVERTURNED])


def _at(part: Margin | ScalarMargin, doubted: Container[str]) -> tuple[str, str, str]:
    """Margin, place and frequency of the part that decides; a margin in dB goes without unit.

    An end that is in doubt has a question mark.
    """
    if isinstance(part, ScalarMargin):
        return (
            with_unit(part.margin, part.unit),
            " ".join(filter(None, (part.parameter, part.pair))),
            "",
        )
    shown = signed(part.worst_margin_db)
    if part.unit != "dB":
        shown = with_unit(part.worst_margin_db, part.unit)
    place = f"{where(part)}?" if part.parameter in doubted else where(part)
    return shown, place, megahertz(part.worst_margin_mhz)
