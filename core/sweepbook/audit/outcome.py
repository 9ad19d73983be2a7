"""Counts of a run, and the exit code that follows from them."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from enum import IntEnum
from typing import TypeVar

from sweepbook.errors import ReadProblem
from sweepbook.findings import Finding, NotRun, RuleNotRun, Severity
from sweepbook.judging.assessment import Assessment, CameTo, Judgement, Recomputed

_Word = TypeVar("_Word")


class ExitCode(IntEnum):
    """What the program tells the shell."""

    CLEAN = 0
    FINDINGS = 1
    CRASHED = 2
    NOTHING = 3


@dataclass(slots=True)
class Tally:
    """What one rule did in a run: findings, and records about which it gave no answer."""

    findings: int = 0
    skipped: int = 0
    crashed: int = 0


@dataclass(slots=True)
class Counters:
    """The counts of a run.

    Attributes:
        records: records judged.
        exports: what those came to that are other exports of tests; they are in every other count.
        problems: problems in reading.
        judgements: records by judgement.
        recomputed: records by what the sweeps prove.
        under_another: records whose verdict was stated under another limit than it was held
            against, or under one that is not known.
        marginal: records that are marginal passes.
        again: those of them that the quality plan has tested again.
        findings: findings by severity, those about the set included, accepted ones not.
        accepted: findings that somebody has accepted.
        rules: by id of the rule; every rule of the run has an entry.
        plugins_failed: plugins that could not be loaded.
    """

    records: int = 0
    exports: list[CameTo] = field(default_factory=list)
    problems: int = 0
    judgements: dict[Judgement, int] = field(default_factory=lambda: dict.fromkeys(Judgement, 0))
    recomputed: dict[Recomputed, int] = field(default_factory=lambda: dict.fromkeys(Recomputed, 0))
    under_another: int = 0
    marginal: int = 0
    again: int = 0
    findings: dict[Severity, int] = field(default_factory=lambda: dict.fromkeys(Severity, 0))
    accepted: int = 0
    rules: dict[str, Tally] = field(default_factory=dict)
    plugins_failed: int = 0

    def of_tests(self) -> "Counters":
        """The same, each test counted once in whatever number of exports it came."""
        gone = self.exports
        return replace(
            self,
            records=self.records - len(gone),
            judgements=_less(self.judgements, [one.judgement for one in gone]),
            recomputed=_less(self.recomputed, [one.recomputed for one in gone]),
            under_another=self.under_another - sum(one.under_another for one in gone),
            marginal=self.marginal - sum(one.marginal for one in gone),
            again=self.again - sum(one.again for one in gone),
        )

    def add_assessment(self, assessment: Assessment) -> None:
        """Count one record with its findings and the rules that gave no answer."""
        self.records += 1
        self.judgements[assessment.judgement] += 1
        self.recomputed[assessment.recomputed] += 1
        self.under_another += assessment.is_stated_under_another
        self.marginal += bool(assessment.marginal)
        self.again += assessment.again
        self.add_answers(assessment.findings, assessment.rules_not_run)

    def add_answers(self, findings: tuple[Finding, ...], not_run: tuple[RuleNotRun, ...]) -> None:
        """Count what rules found, and the rules that gave no answer."""
        for finding in findings:
            if finding.accepted:
                self.accepted += 1
            else:
                self.findings[finding.severity] += 1
            self.rules.setdefault(finding.rule, Tally()).findings += 1
        for rule in not_run:
            tally = self.rules.setdefault(rule.rule, Tally())
            if rule.how is NotRun.CRASHED:
                tally.crashed += 1
            else:
                tally.skipped += 1

    def add_problem(self, _problem: ReadProblem) -> None:
        """Count one problem in reading."""
        self.problems += 1


def _less(counts: dict[_Word, int], gone: Sequence[_Word]) -> dict[_Word, int]:
    return {word: count - gone.count(word) for word, count in counts.items()}


def exit_code(counters: Counters, *, fail_on_failed: bool = False) -> ExitCode:
    """Tell what a run amounts to, the gravest first.

    3: no record could be read. 2: a rule or a plugin crashed. 1: a finding of warning or above,
    an overturned or unproven record, or a problem in reading. 0: none of these; a stated fail
    that is upheld is no finding.

    Args:
        counters: of the whole run.
        fail_on_failed: also give 1 where the sweeps of any record prove a fail.
    """
    if counters.records == 0:
        return ExitCode.NOTHING
    if counters.plugins_failed or any(tally.crashed for tally in counters.rules.values()):
        return ExitCode.CRASHED
    graver = counters.findings[Severity.ERROR] + counters.findings[Severity.WARNING]
    judged = counters.judgements[Judgement.OVERTURNED] + counters.judgements[Judgement.UNPROVEN]
    failed = counters.recomputed[Recomputed.FAIL] if fail_on_failed else 0
    if graver or judged or failed or counters.problems:
        return ExitCode.FINDINGS
    return ExitCode.CLEAN
