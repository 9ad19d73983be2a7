"""What a reconciliation says of a link: each a finding of a rule, which somebody may let stand."""

from collections.abc import Callable, Iterable, Sequence
from typing import NamedTuple

from sweepbook.findings import Accepted, Finding, Severity

TESTED_ELSEWHERE, ENDS, TURNED, CABLE = "PLN012", "PLN006", "PLN007", "PLN008"
ORDER, HIGHER, OTHER_LABEL, NOT_KNOWN, AT_REST = "PLN009", "PLN010", "PLN011", "PLN013", "PLN014"
Accepts = Callable[[Finding], Finding]
"""Marks a finding as accepted where somebody lets it stand."""


class Remark(NamedTuple):
    """What else is to be known of a link.

    Attributes:
        rule: by which it is remarked.
        message: a sentence or two.
        accepted: who lets it stand; None where nobody does.
    """

    rule: str
    message: str
    accepted: Accepted | None = None

    @property
    def words(self) -> str:
        """The message, with who lets it stand."""
        return in_words(self.message, self.accepted)


def in_words(message: str, accepted: Accepted | None) -> str:
    """A message, with who lets stand what it says."""
    return f"{message} ({accepted.in_words()})".lstrip() if accepted else message


def settled(
    remarks: Sequence[Remark], labels: Iterable[str], accepts: Accepts | None
) -> tuple[Remark, ...]:
    """The remarks of a link, those marked that somebody lets stand."""
    if accepts is None:
        return tuple(remarks)
    named = tuple(dict.fromkeys(labels))
    return tuple(
        one._replace(accepted=_accepted(one.rule, one.message, named, accepts)) for one in remarks
    )


def _accepted(
    rule: str, message: str, labels: tuple[str, ...], accepts: Accepts
) -> Accepted | None:
    asked = Finding(rule, Severity.NOTE, "$", message, {}, labels=labels)
    return accepts(asked).accepted
