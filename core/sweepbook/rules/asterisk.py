"""Rules about the asterisk: nearer to the limit than the accuracy that the record declares."""

import math
from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from sweepbook.judging.assessment import Judgement, Margin, Outcome
from sweepbook.judging.curves import Key
from sweepbook.judging.marginal import AT_WORST
from sweepbook.judging.phrases import figure, subject
from sweepbook.judging.working import Asterisk
from sweepbook.rules.case import Case, Place
from sweepbook.rules.items import Item, margins_of, others, part_outcome
from sweepbook.rules.model import Hit
from sweepbook.rules.verdict import OVERALL

Accuracies = Mapping[Place, float]
"""By parameter, end and pairs of a curve."""


def asterisk_fits(case: Case) -> Iterator[Hit]:
    """Yield every asterisk that is missing or too many, where the accuracy is declared.

    The verdict of the whole record first, then those of its parts. Where the verdict itself is
    wrong its asterisk says nothing. One that the digits of the source leave open is not wrong, nor
    is one that a derived curve leads to as it was exported.
    """
    whole = case.needed_working.asterisk
    overturned = case.assessment.judgement is Judgement.OVERTURNED
    if whole and not overturned and _differ(whole.expected, whole.stated) and _is_sure(case, whole):
        yield Hit(OVERALL, {"stated": case.assessment.stated or "", "reason": whole.reason})
    stated = [(path, item, item.get("verdict", "")) for path, item in case.stated_items]
    if not _may_be_wrong(case, [verdict for _, _, verdict in stated]):
        return
    accuracy = _accuracies(case)
    for path, item, verdict in stated:
        if not verdict or part_outcome(case, item).value != verdict.rstrip("*"):
            continue
        mine = margins_of(case, item)
        reason = _wrong(case, mine, verdict, accuracy)
        if reason and all(
            _wrong(case, held, verdict, accuracy)
            for held in (
                [_as_printed(case, one) for one in mine],
                *([*mine, *margins_of(case, one)] for one in others(case, item)),
            )
        ):
            yield Hit(f"{path}.verdict", {"stated": verdict, "reason": reason})


def accuracy_is_of_a_tester(case: Case) -> Iterator[Hit]:
    """Yield a declared accuracy by which no result is near its limit, or every one.

    Of a curve its best figure counts: far-end crosstalk at high frequencies may be near what the
    tester adds itself, and off by as much.
    """
    for position, item in enumerate(case.document["test"].get("accuracy", ())):
        unit, best = _best(item)
        if best is None:
            continue
        least, most = (
            case.practice.value(f"accuracy_{side}_{unit.lower()}") for side in ("lowest", "highest")
        )
        if not least <= best <= most:
            what = subject(item["parameter"], item.get("end"), ())
            arguments = {"what": what, "declared": best, "unit": unit, "least": least, "most": most}
            yield Hit(f"$.test.accuracy[{position}]", arguments)


def _best(item: Item) -> tuple[str, float | None]:
    """The unit of a declared accuracy and its least figure; None where no asterisk goes by it."""
    if "curve" in item:
        return "dB", float(min(item["curve"]["value_db"]))
    return ("dB", item["constant_db"]) if "constant_db" in item else ("ns", item.get("constant_ns"))


def _may_be_wrong(case: Case, verdicts: Sequence[str]) -> bool:
    """Whether an asterisk may be too many, or missing: it is where a curve is near its limit."""
    working = case.needed_working
    if not working.accuracies or not any(verdicts):
        return False
    if any(verdict.endswith("*") for verdict in verdicts):
        return True
    held = [one for one in working.held if one.rule.parameter in working.accuracies]
    worst = [
        np.maximum(np.abs(one.worst.margin_low), np.abs(one.worst.margin_high)) for one in held
    ]
    known = [working.accuracies[one.rule.parameter] for one in held]
    return bool((np.concatenate(worst) <= np.concatenate(known)).any())


def _differ(expected: bool | None, stated: bool | None) -> bool:
    return expected is not None and stated is not None and expected is not stated


def _is_sure(case: Case, whole: Asterisk) -> bool:
    """Whether the digits of the source leave no room for the asterisk that is stated."""
    if case.settings.asterisk != AT_WORST:
        return True
    accuracy = _accuracies(case)
    required = [one for one in case.assessment.margins if one.obligation == "required"]
    failing = [one for one in required if one.outcome is Outcome.FAIL]
    held = [one for one in failing or required if not math.isnan(_of(accuracy, one))]
    near = [_is_near(_as_printed(case, one), _of(accuracy, one)) for one in held]
    if failing:
        return near.count(True) == len(near) if whole.expected else False in near
    return True in near if whole.expected else near.count(False) == len(near)


def _as_printed(case: Case, margin: Margin) -> Margin:
    """A margin, no better known than it and that of the curve as exported leave it together."""
    held, key = case.as_exported(margin.parameter), Key(margin.parameter, margin.end, margin.pairs)
    if held is None or key not in held.curves.keys or margin.margin_low_db is None:
        return margin
    row = held.curves.keys.index(key)
    low, high = held.worst.margin_low[row], held.worst.margin_high[row]
    return margin._replace(
        margin_low_db=min(margin.margin_low_db, float(low)),
        margin_high_db=max(margin.margin_high_db or 0.0, float(high)),
    )


def _accuracies(case: Case) -> Accuracies:
    """The accuracy of every judged curve at its worst margin, where one is known."""
    working = case.needed_working
    found: dict[Place, float] = {}
    for one in working.held:
        known = working.accuracies.get(one.rule.parameter)
        if known is not None:
            found.update(zip(one.curves.keys, known.tolist(), strict=True))
    return found


def _wrong(case: Case, held: Sequence[Margin], stated: str, accuracy: Accuracies) -> str:
    """Why the asterisk of a part, there or not, is wrong; "" where it is right or not known."""
    deciding = Outcome.FAIL if stated.startswith("fail") else Outcome.PASS
    margins = [margin for margin in held if margin.outcome is deciding]
    near = [_is_near(margin, _of(accuracy, margin)) for margin in margins]
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
    if expected is stated.endswith("*") or (not expected and case.settings.asterisk != AT_WORST):
        return ""
    return _words(case, margins[telling], _of(accuracy, margins[telling]))


def _nearest(margins: Sequence[Margin]) -> int:
    return int(np.argmin([abs(margin.worst_margin_db or 0.0) for margin in margins]))


def _is_near(margin: Margin, accuracy: float) -> bool | None:
    """Whether the worst margin surely lies within the accuracy, or surely not; None otherwise."""
    low, high = margin.margin_low_db, margin.margin_high_db
    if low is None or high is None or math.isnan(accuracy):
        return None
    if max(abs(low), abs(high)) <= accuracy:
        return True
    return False if low > accuracy or high < -accuracy else None


def _of(accuracy: Accuracies, margin: Margin) -> float:
    """The accuracy of a curve at its worst margin; NaN where none is known."""
    return accuracy.get((margin.parameter, margin.end, margin.pairs), math.nan)


def _words(case: Case, margin: Margin, accuracy: float) -> str:
    what = subject(margin.parameter, margin.end, margin.pairs)
    value = figure(margin.worst_margin_db or 0.0)
    known = case.needed_working.accuracy
    words = known.words if known else ""
    return f"{what}: margin {value} {margin.unit}, {words} {figure(accuracy)} {margin.unit}"
