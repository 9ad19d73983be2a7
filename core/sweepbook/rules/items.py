"""Which judged curves and figures a stated item is about."""

from collections.abc import Mapping, Sequence
from typing import Any

from sweepbook.judging.assessment import Margin, Outcome, Recomputed, ScalarMargin
from sweepbook.judging.curves import UNORDERED
from sweepbook.judging.working import Lack, StatedFigure
from sweepbook.rules.case import Case, Place

Item = Mapping[str, Any]


PASS, FAIL, UNDECIDED = Outcome.PASS, Outcome.FAIL, Outcome.UNDECIDED
"""Held by identity: that of a member is looked up and hashed in Python, and there are hundreds."""


def margins_of(case: Case, item: Item) -> Sequence[Margin]:
    """The judged curves that an item is about; what it leaves open is about all of them."""
    place = _place(item)
    found = case.looked_up.get(place)
    if found is None:
        parameter, end, pairs = place
        found = case.margins.get(parameter, ())
        if end is not None:
            found = [one for one in found if one.end is None or one.end == end]
        if pairs:
            named = (pairs, pairs[::-1]) if parameter in UNORDERED else (pairs,)
            found = [one for one in found if one.pairs in named]
        case.looked_up[place] = found
    return found


def scalars_of(case: Case, item: Item) -> list[ScalarMargin]:
    """The judged single figures that an item is about."""
    pair = "/".join(item.get("pairs", ()))
    return [
        scalar
        for scalar in case.scalars.get(item["parameter"], ())
        if not pair or scalar.pair in (pair, None)
    ]


def lacks_of(case: Case, parameter: str) -> Sequence[Lack]:
    """What is missing of a parameter, whatever pair and end."""
    return case.lacks.get(parameter, ())


def part_outcome(case: Case, item: Item) -> Outcome:
    """What the sweeps prove of the part of a record that a stated item is about.

    A fail where one curve or figure fails; a pass where all pass or are for information only, one
    at least passes and none is missing; otherwise undecided. What may be about both orders of its
    pairs passes only where both do.
    """
    place = _place(item)
    found = case.proved.get(place)
    if found is None:
        found = case.proved[place] = _part_outcome(case, item)
        if found is PASS and any(
            _part_outcome(case, one) is not PASS for one in others(case, item)
        ):
            found = case.proved[place] = UNDECIDED
    return found


def others(case: Case, item: Item) -> list[Item]:
    """That of the other order of its two pairs, where an item may be about both; else none."""
    return [{**item, "pairs": item["pairs"][::-1]}] if _place(item) in case.of_both else []


def is_informative(case: Case, item: Item) -> bool:
    """Whether all that is judged of what an item is about is for information only."""
    obligations = {one.obligation for one in margins_of(case, item)}
    obligations |= {one.obligation for one in scalars_of(case, item)}
    return obligations == {"informative"}


def _part_outcome(case: Case, item: Item) -> Outcome:
    passing = undecided = False
    outcomes = [margin.outcome for margin in margins_of(case, item)]
    outcomes += [scalar.outcome for scalar in scalars_of(case, item)]
    for outcome in outcomes:
        if outcome is FAIL:
            return FAIL
        passing = passing or outcome is PASS
        undecided = undecided or outcome is UNDECIDED
    if undecided or not passing or lacks_of(case, item["parameter"]):
        return UNDECIDED
    return PASS


def _place(item: Item) -> Place:
    return item["parameter"], item.get("end"), tuple(item.get("pairs", ()))


def is_true_fail(case: Case) -> bool:
    """Whether the sweeps prove a fail and no pass was stated: a faulty link, honestly reported.

    Opens, shorts, split pairs and bad joints make curves that no good link has.
    """
    said = case.assessment
    return said.recomputed is Recomputed.FAIL and not (said.stated or "").startswith("pass")


def is_in_doubt(case: Case, found: StatedFigure) -> bool:
    """Whether a curve that a stated figure is held against is itself in doubt, and refutes none."""
    return any(
        parameter == found.parameter and (not pairs or found.pairs in ((), pairs))
        for doubt in case.needed_working.doubts
        if doubt.bars
        for parameter, pairs in doubt.discredits
    )


def concerns(item: Item, parameter: str, end: str | None, pairs: Sequence[str]) -> bool:
    """Whether a stated item is about a curve."""
    if parameter != item["parameter"]:
        return False
    at = item.get("end")
    if not (at is None or end is None or at == end):
        return False
    asked = item.get("pairs")
    if not asked or list(pairs) == list(asked):
        return True
    return parameter in UNORDERED and sorted(pairs) == sorted(asked)
