"""Where a tested link stands, by the test that speaks for it and what was asked."""

from collections.abc import Sequence
from enum import StrEnum
from typing import TYPE_CHECKING

from sweepbook.record.links import plain_label
from sweepbook.schedule.asked import Answer, Asked, answer
from sweepbook.schedule.attempt import Attempt
from sweepbook.schedule.order import counting
from sweepbook.schedule.told import HIGHER, NOT_KNOWN, ORDER, OTHER_LABEL, Remark
from sweepbook.schedule.trace import NOTED

if TYPE_CHECKING:
    from sweepbook.limits.library import Library


class State(StrEnum):
    """Where a link stands. Only the first three are closed."""

    PASSED = "passed"
    RETESTED = "passed on retest"
    UNASKED = "passed, no limit asked for"
    FAILED = "failed"
    CONTRADICTED = "verdict overturned"
    UNPROVEN = "unproven"
    MARGINAL = "marginal, to be tested again"
    LESSER = "tested to a lesser limit"
    OTHER_CONFIGURATION = "other configuration"
    OTHER_LIMIT = "tested to another limit"
    UNTESTED = "untested"
    NOT_SCHEDULED = "not on the schedule"

    @property
    def open(self) -> bool:
        """Whether somebody has to do something about it."""
        return self._value_ not in _CLOSED  # the hash of a plain text is at hand


_CLOSED = frozenset(("passed", "passed on retest", "passed, no limit asked for"))
RULE_OF = {
    State.NOT_SCHEDULED: "PLN001",
    State.UNTESTED: "PLN002",
    State.LESSER: "PLN003",
    State.OTHER_LIMIT: "PLN004",
    State.OTHER_CONFIGURATION: "PLN005",
}
"""The rules by which links are open that are no matter of their tests; these may be let stand."""
_STATE_OF = {
    Answer.LESSER: State.LESSER,
    Answer.OTHER_CONFIGURATION: State.OTHER_CONFIGURATION,
    Answer.OTHER: State.OTHER_LIMIT,
    Answer.NOT_KNOWN: State.UNPROVEN,
}
_UNSETTLED = "A later test was not to what is asked for, and does not settle it."
_RULE_OF_ANSWER = {
    Answer.HIGHER: HIGHER,
    Answer.NOT_KNOWN: NOT_KNOWN,
    **{how: RULE_OF[state] for how, state in _STATE_OF.items() if state in RULE_OF},
}


def standing(
    ordered: list[Attempt], unordered: str, wanted: Asked, library: "Library"
) -> tuple[State, str, tuple[Remark, ...]]:
    """Where a tested link stands, why, and what else to know.

    Args:
        ordered: its tests, from the first to the last.
        unordered: why the last of them does not speak for the link, as "whose order is not known";
            "" where it does.
        wanted: what the schedule asks of the link.
        library: to compare limits by.
    """
    count = counting(ordered)
    last = count[-1]
    remarks: list[Remark] = []
    known = not unordered
    before = [test for test in count[:-1] if known and not test.passed]
    if unordered and any(not test.passed for test in count):
        last = min(count, key=_rank)
        said = f"It has {len(count)} tests {unordered}, so the worst of them counts."
        remarks.append(Remark(ORDER, said))
    how = answer(wanted, last.limit_path, library)
    if how is Answer.HIGHER or (how in _STATE_OF and last.limit_path and not last.passed):
        remarks.append(Remark(_RULE_OF_ANSWER[how], _why(how, wanted, last)))
    exports = [one for one in ordered if one.export_of == last.record_id]
    noted = dict.fromkeys(one.noted for one in (last, *exports) if one.noted)
    remarks += [Remark(*NOTED, one) for one in noted]
    if not last.passed:
        return _missed(last), last.why, tuple(remarks)
    earlier = f"Before: {before[-1].why}" if before else ""
    if how in _STATE_OF:
        why = _why(how, wanted, last)
        if failed := _failed_as_asked(before, wanted, library):
            return State.FAILED, f"{failed.why} {_UNSETTLED} {why}", tuple(remarks)
        return _STATE_OF[how], f"{why} {earlier}".rstrip(), tuple(remarks)
    if wanted.configuration and last.configuration not in ("", wanted.configuration):
        why = f"It was set up as {last.configuration}; asked for is {wanted.configuration}."
        if failed := _failed_as_asked(before, wanted, library):
            return State.FAILED, f"{failed.why} {_UNSETTLED} {why}", tuple(remarks)
        return State.OTHER_CONFIGURATION, f"{why} {earlier}".rstrip(), tuple(remarks)
    if known and (settled := settled_under_another_label(count)):
        remarks.append(Remark(OTHER_LABEL, settled))
    if not wanted.path:
        reason = f"It passes {last.limit_path}; the schedule asks for no limit."
        return State.UNASKED, f"{reason} {earlier}".rstrip(), tuple(remarks)
    return State.RETESTED if before else State.PASSED, earlier, tuple(remarks)


def left_open(ordered: list[Attempt], known: bool, library: "Library") -> tuple[State, str] | None:
    """Where its tests leave a link of which nothing is asked, and why; None where they close it.

    A pass settles what was missed before where it was tested to no less.

    Args:
        ordered: its tests, from the first to the last.
        known: whether that order is known; where it is not, the worst of them counts.
        library: to compare limits by.
    """
    count = counting(ordered)
    missed = [test for test in count if not test.passed]
    if not missed:
        return None
    last = count[-1] if known else min(count, key=_rank)
    if not last.passed:
        return _missed(last), last.why
    how = answer(Asked(missed[-1].limit_path), last.limit_path, library)
    if how in (Answer.AS_ASKED, Answer.HIGHER):
        return None
    return _missed(missed[-1]), (
        f"{missed[-1].why} A later test passes, but under {last.limit_path or 'no known limit'}."
    )


def _failed_as_asked(before: list[Attempt], wanted: Asked, library: "Library") -> Attempt | None:
    """The last test that is proved to fail what the schedule asks for; None for none."""
    for test in reversed(before):
        as_asked = answer(wanted, test.limit_path, library) is Answer.AS_ASKED
        if test.recomputed == "fail" and as_asked:
            return test
    return None


def settled_under_another_label(ordered: Sequence[Attempt]) -> str:
    """That a pass has another label in its record than what it settles; "" where it has not.

    Args:
        ordered: the tests of a link that the job's forms of labels may have brought together, from
            the first to the last.
    """
    *earlier, last = ordered
    own = last.own_label or last.label
    before = [test.own_label or test.label for test in earlier if not test.passed]
    others = [label for label in dict.fromkeys(before) if plain_label(label) != plain_label(own)]
    if not last.passed or not others:
        return ""
    listed = " and ".join(f'"{label}"' for label in others)
    return (
        f'The pass is of "{own}" in its record, and what it settles is of {listed}; the job brings '
        "these labels together. See that they are one link."
    )


def _missed(test: Attempt) -> State:
    """Where a test leaves its link that does not close it."""
    if test.recomputed == "fail":
        return State.FAILED
    if test.judgement == "overturned":
        return State.CONTRADICTED
    return State.MARGINAL if test.again else State.UNPROVEN


def _why(how: Answer, wanted: Asked, test: Attempt) -> str:
    """How the limit of a test differs from what was asked for."""
    if how is Answer.NOT_KNOWN:
        return f"What the schedule asks for is not known: {wanted.doubt}."
    if how is Answer.HIGHER:
        return f"Tested to {test.limit_path}, which asks for more than {wanted.path}."
    did = "It passes" if test.passed else "It was tested to"
    asked_for = wanted.path or f"a {wanted.configuration}"
    return f"{did} {test.limit_path or 'no known limit'}; asked for is {asked_for}."


def _rank(test: Attempt) -> int:
    """The worst first: proved to fail, said to fail, not proved, marginal, passed."""
    if test.recomputed == "fail":
        return 0
    if test.judgement == "overturned":
        return 1
    if test.again:
        return 3
    return 4 if test.passed else 2
