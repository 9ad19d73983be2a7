"""Every rule on both sides: the failing case yields it and nothing else grave, the passing not."""

import json
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from sweepbook.audit import document
from sweepbook.audit.context import Context, installed
from sweepbook.audit.run import Run
from sweepbook.corrections.apply import apply
from sweepbook.corrections.model import Correction
from sweepbook.findings import Accepted, Finding, NotRun, Severity
from sweepbook.judging.assessment import Assessment
from sweepbook.project.job import Job
from sweepbook.project.model import Acceptance, Project

from . import documents
from .changes import ORIGIN, record

CASES = Path(__file__).parent / "cases"
FAILING = sorted(CASES.glob("??????-fail-*.json"))
PASSING = sorted(CASES.glob("??????-pass-*.json"))


@cache
def context() -> Context:
    return installed()


def load(path: Path) -> dict[str, Any]:
    case: dict[str, Any] = json.loads(path.read_text("utf-8"))
    known = {"title", "changes", "records", "against", "resolved", "places", "arguments", "beside"}
    assert set(case) <= known | {"corrections", "site"} and ("changes" in case) != (
        "records" in case
    )
    return case


def judged(
    case: dict[str, Any], accepts: tuple[Acceptance, ...] = ()
) -> tuple[Run, list[Assessment]]:
    changes = case.get("records", [case.get("changes")])
    records = [
        record(part, case.get("resolved")).with_origin([{**ORIGIN[0], "locator": f"test {number}"}])
        for number, part in enumerate(changes, start=1)
    ]
    entered = [Correction("", **texts, line=2) for texts in case.get("corrections", [])]
    records = [apply(one, entered) for one in records]
    job = Project.of("", "0" * 64, {}, (), accepts, Job(site=case.get("site", "")))
    run = Run(
        replace(context(), against=case.get("against"), project=job),
        recall=lambda ids: [one.evidence for one in records if one.record_id in ids],
    )
    assessments = list(run.walk(records))
    run.close()
    return run, assessments


def findings(run: Run, assessments: list[Assessment]) -> list[Finding]:
    return [found for one in assessments for found in one.findings] + list(run.findings)


def holds_of_any(run: Run, assessments: list[Assessment]) -> None:
    """No rule crashed, and the document follows its schema."""
    not_run = [one for assessed in assessments for one in assessed.rules_not_run]
    assert not [one for one in (*not_run, *run.rules_not_run) if one.how is NotRun.CRASHED]
    parsed = documents.read(documents.written(run, assessments))
    assert list(document.problems(parsed)) == []


@pytest.mark.parametrize("path", FAILING, ids=lambda path: path.stem)
def test_a_failing_case_yields_its_rule_and_no_other_error(path: Path) -> None:
    case, rule = load(path), path.name[:6]
    run, assessments = judged(case)
    holds_of_any(run, assessments)
    found = findings(run, assessments)
    ours = [one for one in found if one.rule == rule]
    assert [one.path for one in ours] == case["places"]
    for name, value in case.get("arguments", {}).items():
        assert ours[0].arguments[name] == pytest.approx(value), name
    graver = {one.rule for one in found if one.severity is not Severity.NOTE}
    errors = {one.rule for one in found if one.severity is Severity.ERROR}
    assert errors <= {rule}
    assert graver - {rule} == set(case.get("beside", []))


OF_NO_TESTS = ("SET004", "SET013", "SET020")
"""Rules about a whole unit, cable or place, which name links as examples only."""
TOGETHER = [path for path in FAILING if path.name[:3] == "SET"]


@pytest.mark.parametrize("path", TOGETHER, ids=lambda path: path.stem)
def test_what_is_found_of_tests_together_is_accepted_by_the_labels_that_it_names(
    path: Path,
) -> None:
    rule, who = path.name[:6], Accepted("op-9", "2026-03-06", "known")
    run, assessments = judged(load(path))
    ours = [one for one in run.findings if one.rule == rule]
    if rule in OF_NO_TESTS:
        assert not any(one.tests for one in ours)
        return
    every = {one.record.label for one in assessments}
    for one in ours:
        assert one.labels
        assert {label for label in every if label in one.message} <= set(one.labels)
    accepts = tuple(
        Acceptance(rule, one.labels[0], None, False, None, who)
        if len(one.labels) == 1
        else Acceptance(rule, None, None, False, None, who, one.labels)
        for one in ours
    )
    again, _ = judged(load(path), accepts)
    assert [one.accepted for one in again.findings if one.rule == rule] == [who] * len(ours)
    assert again.idle_acceptances == ()


@pytest.mark.parametrize("path", PASSING, ids=lambda path: path.stem)
def test_a_passing_case_does_not_and_the_rule_was_asked(path: Path) -> None:
    rule = path.name[:6]
    run, assessments = judged(load(path))
    holds_of_any(run, assessments)
    found = findings(run, assessments)
    assert rule not in {one.rule for one in found}
    assert not [one for one in found if one.severity is Severity.ERROR]
    not_run = [one for assessed in assessments for one in assessed.rules_not_run]
    assert rule not in {one.rule for one in (*not_run, *run.rules_not_run)}


def test_the_clean_link_has_no_finding_at_all() -> None:
    run, assessments = judged({"changes": []})
    assert findings(run, assessments) == []
    assert assessments[0].judgement == "upheld", assessments[0].reason
    assert assessments[0].rules_not_run == ()


def test_no_case_changes_the_clean_link_for_the_next() -> None:
    first = record([])
    record([{"drop": {"parameter": "next"}}, {"set": "link/label", "to": "other"}])
    assert record([]) == first
