"""What a rule reports, as plain values: a finding, or that the rule gave no answer."""

from collections.abc import Mapping
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
    """What a rule reports about a record, or about the set where `path` is "$"."""

    rule: str
    severity: Severity
    path: str
    message: str
    arguments: Mapping[str, Any]
    accepted: Accepted | None = None


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
