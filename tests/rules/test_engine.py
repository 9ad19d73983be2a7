"""A rule that crashes or is skipped is shown, and the others are asked all the same."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from sweepbook.audit.context import Context, installed
from sweepbook.audit.outcome import ExitCode, exit_code
from sweepbook.audit.run import Run, assess
from sweepbook.errors import SweepbookError
from sweepbook.findings import NotRun, RuleNotRun, Severity
from sweepbook.record.model import Record
from sweepbook.rules import catalogue
from sweepbook.rules.case import Case, lacking
from sweepbook.rules.model import Entry, Hit, Rule, SetRule
from sweepbook.rules.trace import Trace

from .changes import ORIGIN, record
from .link import clean


def entry(**changes: object) -> Entry:
    made = Entry(
        id="ZZZ001",
        name="odd-thing",
        since="0.1",
        status="preview",
        severity=Severity.WARNING,
        subject="record",
        needs=(),
        title="Things are not odd",
        why="Odd things are hard to sell.",
        fix="Make the thing even.",
        reference={"document": "wish", "clause": "", "force": "practice", "known": "none"},
        check="odd",
        message="{thing} is odd",
        arguments=("thing",),
    )
    return replace(made, **changes)  # type: ignore[arg-type]


def with_rule(rule: Rule | SetRule) -> Context:
    return replace(installed(), catalogue=catalogue.load([rule]))


def test_a_contributed_rule_is_asked() -> None:
    def odd(case: Case) -> Iterator[Hit]:
        yield Hit("$.link.label", {"thing": case.record.label})

    found = assess(record([]), with_rule(Rule(entry(), odd))).findings
    assert [(one.rule, one.message, one.arguments) for one in found] == [
        ("ZZZ001", "1A-P1-03 is odd", {"thing": "1A-P1-03"})
    ]


def test_a_crash_is_shown_and_what_was_found_before_it_is_kept() -> None:
    def odd(_case: Case) -> Iterator[Hit]:
        yield Hit("$", {"thing": "three"})
        raise ZeroDivisionError("by nought")

    run = Run(with_rule(Rule(entry(), odd)))
    (assessed,) = run.walk([record([])])
    assert [one.rule for one in assessed.findings] == ["ZZZ001"]
    crash = RuleNotRun("ZZZ001", NotRun.CRASHED, "ZeroDivisionError: by nought")
    assert assessed.rules_not_run == (crash,)
    assert run.counters.rules["ZZZ001"].crashed == 1
    assert exit_code(run.counters) is ExitCode.CRASHED


@pytest.mark.parametrize(
    "arguments",
    [
        {},
        {"thing": "three", "more": 1},
        {"thing": float("nan")},
        {"thing": float("inf")},
        {"thing": ["a", "list"]},
        {"thing": None},
        {"thing": np.int64(3)},
    ],
)
def test_arguments_that_cannot_be_written_down_are_a_crash(arguments: dict[str, Any]) -> None:
    def odd(_case: Case) -> Iterator[Hit]:
        yield Hit("$", arguments)

    assessed = assess(record([]), with_rule(Rule(entry(), odd)))
    assert [one.how for one in assessed.rules_not_run] == [NotRun.CRASHED]
    assert assessed.findings == ()


def test_figures_of_numpy_become_plain_floats() -> None:
    def odd(_case: Case) -> Iterator[Hit]:
        yield Hit("$", {"thing": np.float64(0.1)})

    (found,) = assess(record([]), with_rule(Rule(entry(), odd))).findings
    assert type(found.arguments["thing"]) is float


def test_a_rule_about_the_set_may_crash_too() -> None:
    def odd(_traces: Sequence[Trace]) -> Iterator[Hit]:
        raise ValueError("no")
        yield Hit("$", {})

    run = Run(with_rule(SetRule(entry(subject="set"), odd)))
    assert len(list(run.walk([record([])]))) == 1
    run.close()
    assert run.rules_not_run == (RuleNotRun("ZZZ001", NotRun.CRASHED, "ValueError: no"),)
    assert exit_code(run.counters) is ExitCode.CRASHED


def test_without_a_table_the_rules_that_need_one_are_skipped_with_the_reason() -> None:
    unknown = [{"set": "test/limit/as_stated", "to": "Our office standard 7"}]
    assessed = assess(record([*unknown, {"remove": "test/configuration"}]), installed())
    skipped = {one.rule: one.reason for one in assessed.rules_not_run}
    needing = {e.id for e in catalogue.built_in_entries() if "limit" in e.needs}
    assert set(skipped) == needing
    assert all(one.how is NotRun.SKIPPED for one in assessed.rules_not_run)
    assert all("Our office standard 7" in reason for reason in skipped.values())


def test_a_record_off_its_schema_is_asked_about_its_schema_only() -> None:
    assessed = assess(record([{"remove": "link/label"}]), installed())
    others = ("set", "schedule")
    every = {e.id for e in catalogue.built_in_entries() if e.subject not in others}
    asked = every - {"SCH001"}
    assert {one.rule for one in assessed.rules_not_run} == asked
    assert {one.rule for one in assessed.findings} == {"SCH001"}
    assert (assessed.stated, assessed.judgement, assessed.margins) == ("pass", "unproven", ())


def test_under_another_limit_the_stated_figures_are_not_held_against_it() -> None:
    other = replace(installed(), against="iso-11801-1-2017/class-ea/permanent-link")
    assessed = assess(record([]), other)
    assert assessed.limit_path == "iso-11801-1-2017/class-ea/permanent-link"
    own = {e.id for e in catalogue.built_in_entries() if "own-limit" in e.needs}
    assert {one.rule for one in assessed.rules_not_run} == own
    assert {"VRD001", "VRD002"} <= own
    assert {one.reason for one in assessed.rules_not_run} == {
        "judged under iso-11801-1-2017/class-ea/permanent-link, not under the limit stated"
    }


def test_an_unknown_need_is_a_fault_of_the_catalogue() -> None:
    with pytest.raises(ValueError, match="luck"):
        lacking("luck", Case(record([]), (), *[None] * 6))  # type: ignore[arg-type]


def test_an_unknown_table_to_judge_against_is_said_so() -> None:
    with pytest.raises(SweepbookError, match="no-such"):
        assess(record([]), replace(installed(), against="no-such/table"))


@pytest.mark.parametrize("parameter", ["return_loss", "next", "insertion_loss"])
@pytest.mark.parametrize("alternate", [1.0, 0.5, -1.0])
def test_values_beyond_all_measure_crash_no_rule_and_warn_of_nothing(
    parameter: str, alternate: float
) -> None:
    body = clean()
    one = next(one for one in body["results"]["sweeps"] if one["parameter"] == parameter)
    one["value_db"] = np.where(np.arange(1028) % 2, 1e308, 1e308 * alternate).tolist()
    run = Run(installed())
    (found,) = run.walk([Record.build(origin=ORIGIN, **body)])
    assert not [one for one in found.rules_not_run if one.how is NotRun.CRASHED]
