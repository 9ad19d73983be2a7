"""A rule is an entry of the catalogue bound to a function; a finding is what it reports."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from sweepbook.rules.case import Case
    from sweepbook.rules.trace import Trace


class Severity(StrEnum):
    """How much a finding weighs.

    `error`: something is provably wrong, or a document says shall. `warning`: common practice, or
    a doubt. `note`: something to know.
    """

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Entry:
    """One rule as the catalogue has it; the fields of `rules.json` by the same names.

    Attributes:
        id: three letters and three digits, never reused, never moved.
        name: the fault in a few words with hyphens.
        since: version of sweepbook that brought it.
        status: preview, stable, deprecated or removed.
        severity: error, warning or note.
        subject: what it looks at: source, record, sweep, limit, verdict, set.
        needs: what must be there before it can look: schema, limit, own-limit.
        title: what holds where the rule is kept.
        why: what goes wrong otherwise.
        fix: what to do about it.
        reference: {document, clause, force, known}.
        check: name of the function.
        parameters: figures the function is called with.
        message: template with the arguments in braces.
        arguments: names of the arguments.
    """

    id: str
    name: str
    since: str
    status: str
    severity: Severity
    subject: str
    needs: tuple[str, ...]
    title: str
    why: str
    fix: str
    reference: Mapping[str, str]
    check: str
    message: str
    arguments: tuple[str, ...]
    parameters: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Hit:
    """What a rule function yields: a place, and the values for the message.

    Attributes:
        path: JSON path into the record, e.g. "$.results.sweeps[3]".
        arguments: by the names that the catalogue's entry lists.
    """

    path: str
    arguments: Mapping[str, Any]


Check = Callable[["Case"], Iterator[Hit]]
SetCheck = Callable[["Sequence[Trace]"], Iterator[Hit]]


@dataclass(frozen=True, slots=True)
class Rule:
    """An entry with the function that looks at one record."""

    entry: Entry
    check: Check


@dataclass(frozen=True, slots=True)
class SetRule:
    """An entry with the function that looks at all records of a run, once they are through."""

    entry: Entry
    check: SetCheck


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


@dataclass(frozen=True, slots=True)
class Finding:
    """What a rule reports about a record, or about the set where `path` is "$"."""

    rule: str
    severity: Severity
    path: str
    message: str
    arguments: Mapping[str, Any]
