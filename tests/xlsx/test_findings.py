"""Findings with what to do; rules that gave no answer; instruments; the about sheet."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from sweepbook.errors import ReadProblem
from sweepbook.findings import Accepted, Finding, NotRun, RuleNotRun, Severity
from sweepbook.record.model import Record
from tests.report.reading import links
from tests.report.reading import written as page_of

from .making import (
    CATALOGUE,
    LIBRARY,
    TIA,
    about_rows,
    assessment,
    delivery,
    document,
    record,
    rows,
    written,
)

FINDING = Finding("REC004", Severity.WARNING, "$.test", "field reference 68.7 days old", {})
SKIPPED = RuleNotRun("LIM003", NotRun.SKIPPED, "no limit table")
CRASHED = RuleNotRun("SWP001", NotRun.CRASHED, "ZeroDivisionError: x")


def test_a_finding_stands_with_what_the_catalogue_says(tmp_path: Path) -> None:
    (row,) = rows(written(tmp_path / "f.xlsx", [assessment(findings=(FINDING,))]), "Findings")
    entry = CATALOGUE.entry("REC004")
    shown = (row["Link"], row["Weight"], row["Rule"], row["What was found"])
    assert shown == ("A-1", "warning", "REC004", FINDING.message)
    assert (row["Why it matters"], row["What to do"]) == (entry.why, entry.fix)
    assert str(row["By"]).startswith(entry.reference["document"])
    assert row["Place in the record"] == "$.test"


def test_a_finding_that_was_accepted_is_listed_and_not_counted_as_on_the_page(
    tmp_path: Path,
) -> None:
    let_stand = replace(FINDING, accepted=Accepted("K. Orme", "2026-03-05", "known"))
    entry = assessment(findings=(FINDING, let_stand))
    book = written(tmp_path / "n.xlsx", [entry])
    (link,) = rows(book, "Links")
    assert (link["Findings"], len(rows(book, "Findings"))) == (1, 2)
    (on_page,) = links(page_of(tmp_path / "n.html", [entry]))
    assert on_page["Findings"] == "1"


def test_rules_that_gave_no_answer_are_shown_and_counted(tmp_path: Path) -> None:
    entry = assessment(findings=(FINDING,), rules_not_run=(SKIPPED, CRASHED))
    book = written(tmp_path / "n.xlsx", [entry])
    (link,) = rows(book, "Links")
    assert (link["Findings"], link["Rules not run"]) == (1, 2)
    shown = [(row["Weight"], row["Rule"]) for row in rows(book, "Findings")]
    assert shown == [("warning", "REC004"), ("skipped", "LIM003"), ("crashed", "SWP001")]
    assert str(rows(book, "Findings")[2]["What was found"]).endswith("ZeroDivisionError: x")


def test_what_concerns_the_whole_set_says_so(tmp_path: Path) -> None:
    """The list is filled while the entries are walked, as a run does."""
    about_set: list[Finding] = []

    def entries() -> Any:
        yield assessment()
        about_set.append(replace(FINDING, rule="SET001", path="$"))

    crashed = [replace(CRASHED, rule="SET002")]
    book = written(tmp_path / "s.xlsx", entries(), findings=about_set, rules_not_run=crashed)
    found = rows(book, "Findings")
    assert [row["Rule"] for row in found] == ["SET001", "SET002"]
    assert {row["Link"] for row in found} == {"(the whole set)"}


def test_a_rule_that_the_catalogue_lacks_stops_nothing(tmp_path: Path) -> None:
    finding = replace(FINDING, rule="ZZZ999")
    (row,) = rows(written(tmp_path / "z.xlsx", [assessment(findings=(finding,))]), "Findings")
    assert (row["Rule"], row["What to do"]) == ("ZZZ999", None)


def with_unit(started: str, **unit: str) -> Record:
    parts = document()
    parts["test"]["started"] = {"rfc3339": started}
    parts["test"]["near"]["instrument"] |= unit
    return record(parts)


def test_instruments_are_counted_with_what_changed(tmp_path: Path) -> None:
    tests = [
        with_unit("2026-03-04T09:00:00+01:00", firmware="5.2", calibrated_on="2025-09-15"),
        with_unit("2026-03-04T08:30:00-00:00", firmware="5.10", calibrated_on="2025-09-15"),
        with_unit("2026-03-04T09:10:00+01:00", serial="N-10"),
        with_unit("2026-03-04T09:10:00+01:00", serial="N-2"),
    ]
    found = rows(written(tmp_path / "i.xlsx", map(assessment, tests)), "Instruments")
    assert [row["Serial number"] for row in found] == ["F-1", "N-1", "N-2", "N-10"]
    far, near = found[:2]
    assert (far["Tests"], far["Used as"]) == (4, "far")
    assert (near["Tests"], near["Used as"], near["Maker"]) == (2, "near", "Brindlewick")
    assert near["First test"] == "2026-03-04T09:00:00+01:00"
    assert near["Last test"] == "2026-03-04T08:30:00-00:00"
    assert (near["Firmware"], near["Calibrated on"]) == ("5.10, 5.2", "2025-09-15")
    assert (near["Adaptor parts"], near["Adaptor serials"]) == ("HP-6A", "P-N-1")


@pytest.mark.parametrize("started", ["2026-03-04T23:59:60Z", "yesterday", "", "9999-99"])
def test_a_time_that_is_none_stops_nothing(tmp_path: Path, started: str) -> None:
    tests = [with_unit(started), with_unit("2026-03-04T09:00:00Z")]
    near = rows(written(tmp_path / "t.xlsx", map(assessment, tests)), "Instruments")[1]
    assert near["Last test"] == "2026-03-04T09:00:00Z"


def test_about_says_what_the_judgements_rest_on(tmp_path: Path) -> None:
    problems = [ReadProblem("a.csv", "line 12", "It cannot be taken.")]
    said = about_rows(written(tmp_path / "a.xlsx", [assessment()], problems=problems))
    table = LIBRARY.table(TIA)
    assert table.document in said[TIA]
    assert table.edition in said[TIA]
    assert {f"    source {name}": text for name, text in table.sources.items()}.items() <= (
        said.items()
    )
    assert said["a.csv line 12"] == "It cannot be taken."
    assert said["Decision rule"] == delivery([]).about.decision_rule
    assert said["catalogue"] == "2" * 64
    assert said["return-loss-below-3-db"].startswith("on: ")
    for hazard in ("remote power", "telephone voltage", "fibre", "screen", "Local codes"):
        assert hazard in said["Caution"]


def test_about_says_when_nothing_went_wrong(tmp_path: Path) -> None:
    said = about_rows(written(tmp_path / "a.xlsx", [assessment()]))
    assert said["nothing"] == "Every test in the sources was read."
