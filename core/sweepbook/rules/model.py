"""A rule is an entry of the catalogue bound to a function."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from sweepbook.findings import Severity

if TYPE_CHECKING:
    from sweepbook.rules.case import Case
    from sweepbook.rules.together import WholeSet


@dataclass(frozen=True, slots=True)
class Entry:
    """One rule as the catalogue has it; the fields of `rules.json` by the same names.

    Attributes:
        id: three letters and three digits, never reused, never moved.
        name: the fault in a few words with hyphens.
        since: version of sweepbook that brought it.
        status: preview, stable, deprecated or removed.
        severity: error, warning or note.
        subject: what it looks at: source, record, sweep, limit, verdict, set, schedule. What those
            about the schedule find comes of a reconciliation; no run asks them.
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
        tests: see `Finding`.
    """

    path: str
    arguments: Mapping[str, Any]
    tests: tuple[str, ...] = ()


Check = Callable[["Case"], Iterator[Hit]]
SetCheck = Callable[["WholeSet"], Iterator[Hit]]


class CannotLook(Exception):
    """A rule cannot look, or not at all it should; what it yielded before is kept.

    Args:
        reason: what is not there, in words, and what to do about it.
    """


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
