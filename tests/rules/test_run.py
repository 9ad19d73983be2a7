"""A run counts what it sees, keeps little, and never mistakes a kind it does not judge."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest

from sweepbook.audit.context import installed
from sweepbook.audit.outcome import ExitCode, exit_code
from sweepbook.audit.run import Run, assess
from sweepbook.errors import ReadProblem
from sweepbook.findings import Accepted, Severity, of_tests
from sweepbook.judging.assessment import Judgement
from sweepbook.record.model import Record

from .changes import ORIGIN, record

LOST = ReadProblem("made-up.csv", "line 7", "A label is missing; mend the line.")


def test_records_come_as_a_stream_and_problems_are_kept_aside() -> None:
    seen: list[str] = []

    def source() -> Iterator[Record | ReadProblem]:
        for label in ("A-1", "A-2"):
            seen.append(label)
            yield record([{"set": "link/label", "to": label}])
            yield LOST

    run = Run(installed())
    stream = run.walk(source())
    first = next(stream)
    assert (first.record.label, seen) == ("A-1", ["A-1"]), "nothing is read ahead"
    assert [one.record.label for one in stream] == ["A-2"]
    assert run.problems == [LOST, LOST]
    assert (run.counters.records, run.counters.problems) == (2, 2)
    assert list(run.tables) == ["tia-568.2-d/cat6a/permanent-link"]


def test_the_set_is_asked_about_once_at_the_end() -> None:
    run = Run(installed())
    other = [
        {"set": "link/label", "to": "1A-P1-04"},
        {"set": "link/near/termination", "to": "K1-P1-04"},
        {"set": "link/far/termination", "to": "RR-04"},
    ]
    list(run.walk([record([])]))
    list(run.walk([record(other)]))
    assert not run.findings
    run.close()
    run.close()
    found = [one.rule for one in run.findings]
    assert found == ["SET002"]
    both = [record(changes).record_id for changes in ([], other)]
    assert [*run.findings[0].tests] == both
    assert run.findings[0].labels == ("1A-P1-03", "1A-P1-04")
    known = of_tests(run.findings, {})
    assert [*known.doubts] == both
    assert 'The labels "1A-P1-03", "1A-P1-04" share one test' in known.doubt(both[0])
    accepted = replace(run.findings[0], accepted=Accepted("op-9", "2026-03-05", "seen on site"))
    lesser = replace(run.findings[0], severity=Severity.WARNING)
    assert of_tests([accepted, lesser], {}).doubts == {}
    assert run.counters.rules["SET002"].findings == 1
    assert exit_code(run.counters) is ExitCode.FINDINGS


def test_every_rule_of_the_catalogue_has_a_count() -> None:
    run = Run(installed())
    assert set(run.counters.rules) == {entry.id for entry in run.context.catalogue.entries}


@pytest.mark.parametrize(
    ("stated", "judgement"),
    [("pass", Judgement.UNPROVEN), (None, Judgement.UNSTATED), (7, Judgement.UNSTATED)],
)
def test_another_kind_is_kept_and_not_judged(stated: object, judgement: Judgement) -> None:
    members: dict[str, Any] = {"link": {"label": "F-1"}, "test": {}, "results": {}}
    if stated is not None:
        members["stated"] = {"overall": {"verdict": stated}}
    fibre = Record.build(origin=ORIGIN, kind="fibre-link", **members)
    run = Run(installed())
    (assessed,) = run.walk([fibre])
    run.close()
    assert assessed.reason == "Records of the kind fibre-link are kept, not judged."
    assert assessed.judgement is judgement
    assert assessed.findings == ()
    assert {one.reason for one in assessed.rules_not_run} == {assessed.reason}


def test_assessing_changes_nothing_in_the_record() -> None:
    before = record([])
    same = record([])
    assess(before, installed())
    assert before == same
    assert before.record_id == same.record_id


def test_a_path_found_by_the_reader_goes_before_the_spelling() -> None:
    pinned = {"limit": {"path": "tia-568.2-d/cat6a/channel", "how": "by the dialect"}}
    assessed = assess(record([{"remove": "test/configuration"}], pinned), installed())
    assert assessed.limit_path == "tia-568.2-d/cat6a/channel"
    assert assessed.limit_how == "by the dialect"


def test_a_path_of_the_reader_that_is_not_at_hand_is_an_unknown_limit() -> None:
    pinned = {"limit": {"path": "own/office/7", "how": "by the dialect"}}
    assessed = assess(record([], pinned), installed())
    assert assessed.limit_path is None
    assert {one.rule for one in assessed.findings} == {"LIM001"}


def test_against_goes_before_everything() -> None:
    context = replace(installed(), against="tia-568.2-d/cat6a/channel")
    assessed = assess(record([]), context)
    assert assessed.limit_path == "tia-568.2-d/cat6a/channel"
    assert "instead" in assessed.limit_how


CHANNEL = "tia-568.2-d/cat6a/channel"


@pytest.mark.parametrize(
    ("changes", "said", "leads_to"),
    [
        ([], "was stated under another limit: tia-568.2-d/cat6a/permanent-link.", True),
        (
            [{"set": "test/limit/as_stated", "to": "Shed 9"}],
            'was stated under "Shed 9", which leads to no one table at hand.',
            False,
        ),
        ([{"remove": "test/limit"}], "was stated without the name of a limit.", False),
    ],
)
def test_a_verdict_held_against_another_limit_than_its_own_says_so(
    changes: list[dict[str, Any]], said: str, leads_to: bool
) -> None:
    run = Run(replace(installed(), against=CHANNEL))
    (assessed,) = run.walk([record(changes)])
    assert assessed.reason.endswith(said)
    assert (assessed.verdict_limit_path is not None) is leads_to
    assert run.counters.under_another == 1


def test_nothing_is_said_where_the_limit_asked_for_is_the_one_stated() -> None:
    run = Run(replace(installed(), against="tia-568.2-d/cat6a/permanent-link"))
    (asked,) = run.walk([record([])])
    assert asked.reason == assess(record([]), installed()).reason
    assert "instead" not in asked.limit_how
    assert run.counters.under_another == 0


def test_nothing_is_said_where_no_verdict_is_stated() -> None:
    run = Run(replace(installed(), against=CHANNEL))
    (assessed,) = run.walk([record([{"remove": "stated"}])])
    assert "was stated" not in assessed.reason
    assert run.counters.under_another == 0
