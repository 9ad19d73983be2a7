"""What a reconciliation says of a link: each a finding of a rule, which somebody may let stand."""

from collections.abc import Callable, Container, Sequence
from dataclasses import replace
from typing import NamedTuple

from sweepbook.findings import Accepted, Finding, Severity

TESTED_ELSEWHERE, ENDS, TURNED, CABLE = "PLN012", "PLN006", "PLN007", "PLN008"
ORDER, HIGHER, OTHER_LABEL, NOT_KNOWN, AT_REST = "PLN009", "PLN010", "PLN011", "PLN013", "PLN014"
Accepts = Callable[[Finding], Finding]
"""Marks a finding as accepted where somebody lets it stand."""

_SHARED = (
    'It is accepted of "{1}", but {0} is of several links of that label, so this reaches none of '
    "them: give each its own label in the schedule, and accept it by that."
)


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
    remarks: Sequence[Remark],
    label: str,
    accepts: Accepts | None,
    shared: Container[str] = (),
) -> tuple[Remark, ...]:
    """The remarks of a link, those marked that somebody lets stand.

    Args:
        remarks: of the link.
        label: of the link.
        accepts: marks what somebody lets stand; None where nobody does.
        shared: rules that say something of several links of this label: who lets one of these
            stand by the label names none of the links, and reaches none.
    """
    if accepts is None:
        return tuple(remarks)
    return tuple(_marked(one, label, accepts, several=one.rule in shared) for one in remarks)


def _marked(remark: Remark, label: str, accepts: Accepts, *, several: bool) -> Remark:
    asked = Finding(remark.rule, Severity.NOTE, "$", remark.message, {}, labels=(label,))
    if not several:
        return remark._replace(accepted=accepts(asked).accepted)
    if everywhere := accepts(replace(asked, labels=())).accepted:
        return remark._replace(accepted=everywhere)
    if accepts(asked).accepted is None:
        return remark
    return remark._replace(message=f"{remark.message} {_SHARED.format(remark.rule, label)}")
