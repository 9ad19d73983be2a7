"""From the outcomes of the parts to that of the record, and to the judgement of what was stated."""

from collections.abc import Iterable
from typing import NamedTuple

from sweepbook.judging.assessment import (
    Judgement,
    Margin,
    Outcome,
    Recomputed,
    ScalarMargin,
)

_TRUTH_TABLE: dict[tuple[str, Recomputed], Judgement] = {
    ("pass", Recomputed.FAIL): Judgement.OVERTURNED,
    ("pass", Recomputed.UNDECIDED): Judgement.UNPROVEN,
    ("pass", Recomputed.PASS): Judgement.UPHELD,
    ("fail", Recomputed.FAIL): Judgement.UPHELD,
    ("fail", Recomputed.UNDECIDED): Judgement.UNPROVEN,
    ("fail", Recomputed.PASS): Judgement.OVERTURNED,
}
"""By stated verdict without its asterisk: the asterisk never changes a judgement."""


class Whole(NamedTuple):
    """What all required parts together say.

    Attributes:
        recomputed: pass, fail or undecided.
        grade: of a pass the worst of all required limits, of a fail that of the best-known failing
            one; None where undecided.
    """

    recomputed: Recomputed
    grade: str | None


def judgement(stated: str | None, recomputed: Recomputed) -> Judgement:
    """What becomes of a stated verdict.

    Args:
        stated: pass, pass*, fail* or fail; None where the source states none.
        recomputed: what the sweeps say.

    Raises:
        KeyError: `stated` is no verdict.
    """
    if stated is None:
        return Judgement.UNSTATED
    return _TRUTH_TABLE[stated.removesuffix("*"), recomputed]


def whole(parts: Iterable[Margin | ScalarMargin], lacking: bool) -> Whole:
    """Join the required parts.

    A fail of any required part is a fail of the record, whatever else is missing. Parts of which
    every point is for information stand in nobody's way; with nothing but such parts there is
    nothing that passes.

    Args:
        parts: judged curves and figures; those not required are passed over.
        lacking: something required is not there at all.
    """
    failing: list[str | None] = []
    passing: list[str | None] = []
    undecided = lacking
    for part in parts:
        if part.obligation != "required":
            continue
        match part.outcome:
            case Outcome.PASS:
                passing.append(part.grade)
            case Outcome.FAIL:
                failing.append(part.grade)
            case Outcome.UNDECIDED:
                undecided = True
    if failing:
        return Whole(Recomputed.FAIL, min(filter(None, failing), default=None))
    if undecided or not passing:
        return Whole(Recomputed.UNDECIDED, None)
    return Whole(Recomputed.PASS, max(filter(None, passing), default=None))
