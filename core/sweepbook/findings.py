"""What a rule reports, as plain values: a finding, or that the rule gave no answer."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING, Any, NamedTuple

if TYPE_CHECKING:
    from sweepbook.judging.assessment import CameTo


class Severity(StrEnum):
    """How much a finding weighs.

    `error`: something is provably wrong, or a document says shall. `warning`: common practice, or
    a doubt. `note`: something to know.
    """

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Accepted:
    """That somebody has looked at a finding and lets it stand: who, on which day, and why."""

    who: str
    when: str
    why: str

    def in_words(self) -> str:
        """Who let it stand, when and why."""
        return f"accepted by {self.who}, {self.when}: {self.why}"


@dataclass(frozen=True, slots=True)
class Finding:
    """What a rule reports about a record, or about the set where `path` is "$".

    Attributes:
        rule: id of the rule.
        severity: how much it weighs.
        path: place in the record.
        message: in words.
        arguments: of the message, by the names that the catalogue lists.
        accepted: who lets it stand; None where nobody does.
        tests: of a finding about the set the records that it is about, by id, as far as they can be
            told.
        labels: of these tests, each once, in the form of the job.
    """

    rule: str
    severity: Severity
    path: str
    message: str
    arguments: Mapping[str, Any]
    accepted: Accepted | None = None
    tests: tuple[str, ...] = ()
    labels: tuple[str, ...] = ()


class Exported(NamedTuple):
    """That a record is another export of a test, and says nothing else of it.

    Attributes:
        test: record id of the test that counts.
        came_to: what both come to.
    """

    test: str
    came_to: "CameTo"


@dataclass(frozen=True, slots=True)
class OfTests:
    """What is known of single tests only when all are in.

    Attributes:
        doubts: why tests prove nothing of their links, by record id.
        exported: records that are other exports of tests, by their ids: they are listed, and do
            not count.
    """

    doubts: Mapping[str, str]
    exported: Mapping[str, Exported]

    def tells_of(self, record_id: str) -> bool:
        """Whether anything is known of a test."""
        return record_id in self.doubts or record_id in self.exported

    def doubt(self, record_id: str) -> str:
        """Why a test proves nothing; "" where it may."""
        return self.doubts.get(record_id, "")

    def export_of(self, record_id: str) -> str:
        """The test of which a record is another export; "" where it counts itself."""
        found = self.exported.get(record_id)
        return found.test if found else ""


def of_tests(findings: Iterable[Finding], exported: Mapping[str, Exported]) -> OfTests:
    """What a run found out about single tests when all were in.

    Errors about the set make doubtful the tests that they are about, and each export of these.
    Those that somebody lets stand make nothing doubtful.

    Args:
        findings: about the set.
        exported: see `OfTests`.
    """
    doubts = {
        record_id: doubt_words(one.rule, one.message)
        for one in findings
        if one.severity is Severity.ERROR and one.accepted is None
        for record_id in one.tests
    }
    for record_id, one in exported.items():
        if record_id in doubts:
            doubts.setdefault(one.test, doubts[record_id])
    for record_id, one in exported.items():
        if one.test in doubts:
            doubts.setdefault(record_id, doubts[one.test])
    return OfTests(doubts, exported)


def doubt_words(rule: str, message: str) -> str:
    """Why a test proves nothing, by what a rule found about the set."""
    return f"{message[:1].upper()}{message[1:]}. So it proves nothing of this link ({rule})."


class NotRun(StrEnum):
    """Why a rule gave no answer; neither counts as passed."""

    SKIPPED = "skipped"
    CRASHED = "crashed"


@dataclass(frozen=True, slots=True)
class RuleNotRun:
    """A rule that gave no answer about a record, or about the set.

    Attributes:
        rule: id of the rule.
        how: skipped, because something it needs is not there, or crashed.
        reason: what is not there, or what went wrong.
    """

    rule: str
    how: NotRun
    reason: str
