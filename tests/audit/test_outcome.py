"""The exit code follows from the counts, the gravest first."""

from collections.abc import Callable

import pytest

from sweepbook.audit.outcome import Counters, ExitCode, Tally, exit_code
from sweepbook.findings import Finding, NotRun, RuleNotRun, Severity
from sweepbook.judging.assessment import Judgement, Recomputed


def counted(**changes: object) -> Counters:
    counters = Counters(records=3)
    for name, value in changes.items():
        setattr(counters, name, value)
    return counters


def finding(severity: Severity) -> Counters:
    counters = counted()
    counters.add_answers((Finding("REC001", severity, "$", "so it is", {}),), ())
    return counters


def judged(judgement: Judgement, recomputed: Recomputed) -> Counters:
    counters = counted()
    counters.judgements[judgement] += 1
    counters.recomputed[recomputed] += 1
    return counters


CASES: list[tuple[str, Callable[[], Counters], ExitCode, ExitCode]] = [
    ("nothing at all", lambda: counted(), ExitCode.CLEAN, ExitCode.CLEAN),
    ("a note", lambda: finding(Severity.NOTE), ExitCode.CLEAN, ExitCode.CLEAN),
    ("a warning", lambda: finding(Severity.WARNING), ExitCode.FINDINGS, ExitCode.FINDINGS),
    ("an error", lambda: finding(Severity.ERROR), ExitCode.FINDINGS, ExitCode.FINDINGS),
    (
        "an upheld pass",
        lambda: judged(Judgement.UPHELD, Recomputed.PASS),
        ExitCode.CLEAN,
        ExitCode.CLEAN,
    ),
    (
        "an upheld fail",
        lambda: judged(Judgement.UPHELD, Recomputed.FAIL),
        ExitCode.CLEAN,
        ExitCode.FINDINGS,
    ),
    (
        "an unstated fail",
        lambda: judged(Judgement.UNSTATED, Recomputed.FAIL),
        ExitCode.CLEAN,
        ExitCode.FINDINGS,
    ),
    (
        "an overturned pass",
        lambda: judged(Judgement.OVERTURNED, Recomputed.FAIL),
        ExitCode.FINDINGS,
        ExitCode.FINDINGS,
    ),
    (
        "an overturned fail",
        lambda: judged(Judgement.OVERTURNED, Recomputed.PASS),
        ExitCode.FINDINGS,
        ExitCode.FINDINGS,
    ),
    (
        "an unproven record",
        lambda: judged(Judgement.UNPROVEN, Recomputed.UNDECIDED),
        ExitCode.FINDINGS,
        ExitCode.FINDINGS,
    ),
    ("a problem in reading", lambda: counted(problems=1), ExitCode.FINDINGS, ExitCode.FINDINGS),
    (
        "a rule that crashed",
        lambda: counted(rules={"REC001": Tally(crashed=1)}),
        ExitCode.CRASHED,
        ExitCode.CRASHED,
    ),
    (
        "a rule that was skipped",
        lambda: counted(rules={"REC001": Tally(skipped=3)}),
        ExitCode.CLEAN,
        ExitCode.CLEAN,
    ),
    (
        "a crash beside problems",
        lambda: counted(plugins_failed=1, problems=2),
        ExitCode.CRASHED,
        ExitCode.CRASHED,
    ),
    (
        "no record, and a crash",
        lambda: counted(records=0, plugins_failed=1, problems=1),
        ExitCode.NOTHING,
        ExitCode.NOTHING,
    ),
]


@pytest.mark.parametrize(
    ("counters", "usual", "strict"), [case[1:] for case in CASES], ids=[case[0] for case in CASES]
)
def test_exit_codes(counters: Callable[[], Counters], usual: ExitCode, strict: ExitCode) -> None:
    assert exit_code(counters()) is usual
    assert exit_code(counters(), fail_on_failed=True) is strict


def test_the_codes_are_those_of_the_documentation() -> None:
    assert [int(code) for code in ExitCode] == [0, 1, 2, 3]


def test_answers_are_counted_by_rule() -> None:
    counters = Counters()
    note = Finding("REC001", Severity.NOTE, "$", "so it is", {})
    counters.add_answers((note, note), (RuleNotRun("SWP001", NotRun.CRASHED, "ZeroDivision"),))
    counters.add_answers((), (RuleNotRun("SWP001", NotRun.SKIPPED, "no schema"),))
    assert counters.rules == {"REC001": Tally(findings=2), "SWP001": Tally(skipped=1, crashed=1)}
    assert counters.findings == {Severity.ERROR: 0, Severity.WARNING: 0, Severity.NOTE: 2}
