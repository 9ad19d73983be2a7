"""Judging a stream of records and asking the rules, one record at a time."""

import hashlib
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any, NamedTuple

from sweepbook.audit.context import Context
from sweepbook.audit.ends_in_doubt import ends_in_doubt, with_doubt
from sweepbook.audit.led_elsewhere import led_elsewhere
from sweepbook.audit.marginal import marginal_pass
from sweepbook.audit.outcome import Counters, Tally
from sweepbook.audit.verdict_alone import verdict_alone
from sweepbook.audit.verdict_limit import ASKED_FOR, told
from sweepbook.copies.fingerprint import fingerprint
from sweepbook.copies.marks import marks
from sweepbook.copies.suspects import Recall
from sweepbook.corrections.table import row
from sweepbook.errors import ReadProblem
from sweepbook.findings import Exported, Finding, RuleNotRun
from sweepbook.judging.assessment import Assessment, Judgement, Recomputed
from sweepbook.judging.judge import judge_with_working
from sweepbook.judging.working import Working
from sweepbook.limits.model import LimitTable
from sweepbook.record.model import OneName, Record
from sweepbook.record.validate import SchemaProblem
from sweepbook.record.validate import problems as schema_problems
from sweepbook.rules import engine
from sweepbook.rules.case import Case
from sweepbook.rules.exported import exported
from sweepbook.rules.stated_limit import Lead, StatedLimit, find
from sweepbook.rules.together import WholeSet
from sweepbook.rules.trace import Trace, trace
from sweepbook.rules.traces import Traces

if TYPE_CHECKING:
    from sweepbook.judging.hold import Held
    from sweepbook.project.model import Acceptance

NOT_LOOKED_FOR = "not looked for"
VERDICTS = ("pass", "pass*", "fail*", "fail")
JUDGED_KIND = "balanced-link"
BROKEN = "The record does not follow its schema, so nothing in it was judged."


class Assessed(NamedTuple):
    """A record that was assessed, wherever that was done.

    Attributes:
        assessment: what was made of it.
        trace: what the rules about the set need of it; None where it could not be judged at all.
        made: what a writer's work made of it, where that was done there too; one thing or none.
    """

    assessment: Assessment
    trace: Trace | None
    made: tuple[object, ...] = ()


def assessed(record: Record, context: Context) -> Assessed:
    """Judge one record, ask the rules about it, and keep what those about the set need."""
    return assessed_case(case_of(record, context), context)


def assessed_case(case: Case, context: Context) -> Assessed:
    """Ask the rules about a record that was judged, and keep what those about the set need."""
    found = _with_findings(case, context)
    return Assessed(found, None if found.limit_how == NOT_LOOKED_FOR else trace(found))


def assess(record: Record, context: Context) -> Assessment:
    """Judge one record and ask the rules about it; the record is not changed.

    A record that does not follow its schema, or is of a kind that is not judged, is unproven; the
    rule about the schema says where it does not follow it.
    """
    return _with_findings(case_of(record, context), context)


def _with_findings(case: Case, context: Context) -> Assessment:
    """Ask the rules about a record that was judged."""
    record = case.record
    findings, not_run = engine.run(context.catalogue.rules, case)
    if context.project is not None:
        findings = context.project.marked(findings, record.label, record.record_id)
    curves = case.working.measured_curves if case.working else {}
    marginal = marginal_pass(case.assessment, case.working)
    doubted = ends_in_doubt(case, findings)
    alone = verdict_alone(case.assessment, findings, context.catalogue)
    return replace(
        case.assessment,
        reason=with_doubt(case, doubted) + alone,
        ends_in_doubt=doubted,
        findings=findings,
        rules_not_run=not_run,
        fingerprint=fingerprint(curves),
        marks=marks(curves, int(context.practice.value("twin_values"))),
        marginal=marginal,
        again=bool(marginal) and context.job.retests_marginal,
    )


def case_of(record: Record, context: Context) -> Case:
    """Judge one record, and keep how it was done; no rule is asked."""
    evidence = record.evidence
    faults = schema_problems(
        evidence.document, proven_id=evidence.proven_id, skeleton=evidence.skeleton
    )
    if faults:
        return _unjudged(record, faults, BROKEN, context)
    record = context.spelled(record)
    if record.kind != JUDGED_KIND:
        reason = f"Records of the kind {record.kind} are kept, not judged."
        return _unjudged(record, (), reason, context)
    return _judged(record, find(record, context.library), context)


def _judged(record: Record, stated_limit: StatedLimit, context: Context) -> Case:
    if context.against is None:
        table, how = stated_limit.table, stated_limit.how
    else:
        table = context.library.table(context.against)
        same = table is stated_limit.table
        how = f"{stated_limit.how}; asked for too" if same else ASKED_FOR
    assessment, working = judge_with_working(
        record, table, replace(context.settings, limit_how=how)
    )
    asked = context.against is not None
    if not asked:
        assessment = led_elsewhere(assessment, stated_limit, context.library)
    assessment = told(assessment, stated_limit, context.library, asked=asked)
    return _case(record, (), stated_limit, assessment, context, table, working)


def _unjudged(
    record: Record, faults: tuple[SchemaProblem, ...], reason: str, context: Context
) -> Case:
    stated = _stated(record.document)
    assessment = Assessment(
        record=record,
        limit_path=None,
        limit_how=NOT_LOOKED_FOR,
        limit_sha256=None,
        stated=stated,
        recomputed=Recomputed.UNDECIDED,
        judgement=Judgement.UNPROVEN if stated else Judgement.UNSTATED,
        reason=reason,
        grade=None,
    )
    stated_limit = StatedLimit("", Lead.NOT_STATED, reason)
    return _case(record, faults, stated_limit, assessment, context)


def _case(
    record: Record,
    faults: tuple[SchemaProblem, ...],
    stated_limit: StatedLimit,
    assessment: Assessment,
    context: Context,
    table: LimitTable | None = None,
    working: Working | None = None,
) -> Case:
    return Case(
        record=record,
        problems=faults,
        stated_limit=stated_limit,
        table=table,
        assessment=assessment,
        working=working,
        practice=context.practice,
        settings=context.settings,
    )


def _stated(document: dict[str, Any]) -> str | None:
    """The stated verdict, also of a record whose parts may be of any type."""
    part: Any = document
    for name in ("stated", "overall", "verdict"):
        part = part.get(name) if isinstance(part, dict) else None
    return part if part in VERDICTS else None


@dataclass(slots=True)
class Run:
    """A run over one or several streams, and what is kept of it.

    Memory stays flat: what the rules about the set need of each record waits on disk.

    Attributes:
        context: what it judges by.
        counters: the counts so far.
        problems: problems in reading so far.
        tables: digest by path of the limit tables judged under so far, with those that they are
            based on.
        findings: about the set; empty before `close`.
        exported: records that are other exports of tests, by id; empty before `close`.
        rules_not_run: rules about the set that gave no answer; empty before `close`.
        recall: reads records again by their ids, to hold those that look like copies against each
            other; None where that cannot be done.
        corrections: running digest of the corrections applied so far; None without any.
        names: how often each spelling was brought to the one name of the job so far.
    """

    context: Context
    counters: Counters = field(default_factory=Counters)
    problems: list[ReadProblem] = field(default_factory=list)
    tables: dict[str, str] = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()
    exported: dict[str, Exported] = field(default_factory=dict)
    rules_not_run: tuple[RuleNotRun, ...] = ()
    recall: Recall | None = None
    corrections: "hashlib._Hash | None" = None
    names: Counter[OneName] = field(default_factory=Counter)
    _traces: Traces = field(default_factory=Traces)
    _met: "set[Acceptance]" = field(default_factory=set)
    _closed: bool = False
    _latest: Case | None = None

    def __post_init__(self) -> None:
        for entry in self.context.catalogue.entries:
            self.counters.rules[entry.id] = Tally()

    def walk(self, items: Iterable[Record | Assessed | ReadProblem]) -> Iterator[Assessment]:
        """Assess the records of a stream as they come; see `through`."""
        return (one.assessment for one in self.through(items))

    def through(self, items: Iterable[Record | Assessed | ReadProblem]) -> Iterator[Assessed]:
        """Assess the records of a stream as they come; problems in it are kept and counted.

        What was assessed elsewhere, by the same context, is counted with the others.
        """
        for item in items:
            if isinstance(item, ReadProblem):
                self.add_problem(item)
                continue
            if isinstance(item, Record):
                self._latest = case_of(item, self.context)
                item = assessed_case(self._latest, self.context)
            self._add(item.assessment, item.trace)
            yield item

    def held(self, assessment: Assessment) -> "tuple[Held, ...]":
        """The curves of an assessment as they were held against their limits; none if not judged.

        Those of the record that `walk` judged last are at hand, also where somebody left people
        out of it since; another is judged anew.
        """
        record, case = assessment.record, self._latest
        if assessment.limit_path is None:
            return ()
        if case is None or case.document["results"] is not record.document["results"]:
            case = _judged(record, find(record, self.context.library), self.context)
        return case.working.held if case.working else ()

    def _add(self, assessment: Assessment, known: Trace | None) -> None:
        """Count one assessed record, and keep its trace."""
        self.counters.add_assessment(assessment)
        if assessment.limit_path is not None and assessment.limit_sha256 is not None:
            self.tables[assessment.limit_path] = assessment.limit_sha256
            self.tables |= self.context.library.based_on(assessment.limit_path)
        corrected = assessment.record.corrected
        for correction in corrected.applied if corrected else ():
            self.corrections = self.corrections or hashlib.sha256()
            self.corrections.update(row(correction))
        spelled = assessment.record.spelled
        self.names.update(spelled.names if spelled else ())
        self._meet(assessment.findings, assessment.record.label, assessment.record.record_id)
        if known is not None:
            self._traces.add(known, assessment.fingerprint, assessment.marks)

    @property
    def idle_acceptances(self) -> "tuple[Acceptance, ...]":
        """What the project accepts and no rule has found so far; of the rules that are asked."""
        project = self.context.project
        every = project.acceptances if project else ()
        asked = {entry.id for entry in self.context.catalogue.entries}
        return tuple(one for one in every if one.rule in asked and one not in self._met)

    def _meet(self, findings: Iterable[Finding], label: str, record_id: str) -> None:
        """Note which acceptances met a finding."""
        for finding in findings:
            if finding.accepted and self.context.project:
                self._met.update(self.context.project.reaching(finding, label, record_id))

    def add_problem(self, problem: ReadProblem) -> None:
        """Keep and count one problem in reading."""
        self.problems.append(problem)
        self.counters.add_problem(problem)

    def close(self) -> None:
        """Ask the rules about the set, once all records are through; a second call does nothing."""
        if self._closed:
            return
        self._closed = True
        whole = WholeSet(self._traces, self.context.practice, self.recall, self.context.job.site)
        found, not_run = engine.run_set(self.context.catalogue.set_rules, whole)
        project, found = self.context.project, _labelled(found, whole)
        self.findings = project.marked(found, "", "") if project else found
        self.rules_not_run = not_run
        self._meet(self.findings, "", "")
        self.counters.add_answers(self.findings, not_run)
        self.exported = _exported(whole)
        self.counters.exports = [one.came_to for one in self.exported.values()]
        self._traces.close()


def _labelled(found: Iterable[Finding], whole: WholeSet) -> tuple[Finding, ...]:
    """Findings about the set with the labels of their tests."""
    told = {test for one in found for test in one.tests}
    label_of = {one.record_id: one.label for one in whole if one.record_id in told}
    return tuple(
        replace(one, labels=tuple(dict.fromkeys(label_of[test] for test in one.tests)))
        for one in found
    )


def _exported(whole: WholeSet) -> dict[str, Exported]:
    """Which records are other exports of tests; where that cannot be looked for, each counts."""
    try:
        return exported(whole)
    except Exception:  # noqa: BLE001 - the rules that look for copies say what went wrong
        return {}
