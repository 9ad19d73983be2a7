"""What a rule reports, as plain values: a finding, or that the rule gave no answer."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any


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


def doubts(findings: Iterable[Finding]) -> dict[str, str]:
    """Why tests prove nothing of their links, by record id: errors about the set that they are in.

    Those that somebody lets stand are none.
    """
    return {
        record_id: doubt_words(one.rule, one.message)
        for one in findings
        if one.severity is Severity.ERROR and one.accepted is None
        for record_id in one.tests
    }


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
