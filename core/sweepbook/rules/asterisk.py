"""The rule about the asterisk: nearer to the limit than the accuracy that the record declares."""

import math
from collections.abc import Iterator, Sequence

import numpy as np

from sweepbook.judging.assessment import Judgement, Margin, Outcome
from sweepbook.judging.curves import Key
from sweepbook.judging.phrases import figure, subject
from sweepbook.rules.case import Case
from sweepbook.rules.items import Item, margins_of, part_outcome, stated_items
from sweepbook.rules.model import Hit
from sweepbook.rules.verdict import OVERALL


def asterisk_fits(case: Case) -> Iterator[Hit]:
    """Yield every asterisk that is missing or too many, where the accuracy is declared.

    The verdict of the whole record first, then those of its parts. Where the verdict itself is
    wrong its asterisk says nothing.
    """
    whole = case.needed_working.asterisk
    overturned = case.assessment.judgement is Judgement.OVERTURNED
    if whole and not overturned and _differ(whole.expected, whole.stated):
        yield Hit(OVERALL, {"stated": case.assessment.stated or "", "reason": whole.reason})
    for path, item in stated_items(case):
        stated = item.get("verdict", "")
        if part_outcome(case, item).value == stated.rstrip("*"):
            reason = _wrong(case, item, stated)
            if reason:
                yield Hit(f"{path}.verdict", {"stated": stated, "reason": reason})


def _differ(expected: bool | None, stated: bool | None) -> bool:
    return expected is not None and stated is not None and expected is not stated


def _wrong(case: Case, item: Item, stated: str) -> str:
    """Why the asterisk of a part, there or not, is wrong; "" where it is right or not known."""
    deciding = Outcome.FAIL if stated.startswith("fail") else Outcome.PASS
    margins = [margin for margin in margins_of(case, item) if margin.outcome is deciding]
    near = [_is_near(case, margin) for margin in margins]
    if not near or (deciding is Outcome.FAIL and None in near):
        return ""
    if deciding is Outcome.FAIL:
        expected, telling = all(near), near.index(False) if False in near else 0
    elif True in near:
        expected, telling = True, near.index(True)
    elif None in near:
        return ""
    else:
        expected, telling = False, _nearest(margins)
    if expected is stated.endswith("*") or (
        not expected and case.settings.asterisk != "worst-margin"
    ):
        return ""
    return _words(case, margins[telling])


def _nearest(margins: Sequence[Margin]) -> int:
    return int(np.argmin([abs(margin.worst_margin_db or 0.0) for margin in margins]))


def _is_near(case: Case, margin: Margin) -> bool | None:
    """Whether the worst margin surely lies within the accuracy, or surely not; None otherwise."""
    low, high = margin.margin_low_db, margin.margin_high_db
    accuracy = _accuracy(case, margin)
    if low is None or high is None or math.isnan(accuracy):
        return None
    if max(abs(low), abs(high)) <= accuracy:
        return True
    return False if low > accuracy or high < -accuracy else None


def _accuracy(case: Case, margin: Margin) -> float:
    """The accuracy of a curve at its worst margin; NaN where none is known."""
    known = case.needed_working.accuracy
    if known is None or margin.worst_margin_mhz is None:
        return float("nan")
    at = np.array([margin.worst_margin_mhz], dtype=np.float64)
    return float(known.at(Key(margin.parameter, margin.end, margin.pairs), at)[0])


def _words(case: Case, margin: Margin) -> str:
    what = subject(margin.parameter, margin.end, margin.pairs)
    value, accuracy = figure(margin.worst_margin_db or 0.0), figure(_accuracy(case, margin))
    known = case.needed_working.accuracy
    words = known.words if known else ""
    return f"{what}: margin {value} {margin.unit}, {words} {accuracy} {margin.unit}"
