"""Rules about the stated verdict."""

from collections.abc import Iterator

from sweepbook.judging.assessment import Judgement
from sweepbook.rules.case import Case
from sweepbook.rules.model import Hit

OVERALL = "$.stated.overall"


def verdict_follows(case: Case) -> Iterator[Hit]:
    """Yield the stated verdict where the sweeps prove the opposite."""
    made = case.assessment
    if made.judgement is Judgement.OVERTURNED:
        yield Hit(
            OVERALL,
            {
                "stated": made.stated or "",
                "limit": made.limit_path or "",
                "recomputed": made.recomputed.value,
                "reason": made.reason,
            },
        )


def asterisk_fits(case: Case) -> Iterator[Hit]:
    """Yield an asterisk that is missing or too many, where the accuracy is declared."""
    asterisk = case.needed_working.asterisk
    if asterisk is None or asterisk.expected is None or asterisk.stated is None:
        return
    if case.assessment.judgement is Judgement.OVERTURNED:
        return  # the verdict itself is wrong; its asterisk says nothing
    if asterisk.expected is not asterisk.stated:
        yield Hit(OVERALL, {"stated": case.assessment.stated or "", "reason": asterisk.reason})
