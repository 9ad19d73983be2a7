"""Rules about stated verdicts: of the whole record, and of its parts."""

from collections.abc import Iterator

from sweepbook.judging.assessment import Judgement
from sweepbook.judging.phrases import subject
from sweepbook.judging.trials import Part, may_turn, nearest
from sweepbook.judging.wiremap import PARAMETER as WIRE_MAP
from sweepbook.rules.case import Case
from sweepbook.rules.items import (
    FAIL,
    PASS,
    Item,
    is_informative,
    margins_of,
    others,
    part_outcome,
    scalars_of,
)
from sweepbook.rules.model import Hit

OVERALL = "$.stated.overall"


def verdict_follows(case: Case) -> Iterator[Hit]:
    """Yield the stated verdict where the sweeps prove the opposite."""
    if case.assessment.judgement is Judgement.OVERTURNED:
        said = case.assessment
        yield Hit(OVERALL, {"stated": said.stated, "recomputed": said.recomputed.value})


def part_verdicts_follow(case: Case) -> Iterator[Hit]:
    """Yield every stated verdict on a parameter or curve where the sweeps prove the opposite.

    They do where no reading of the standard that nobody has decided on would turn it. A wire map
    that is stated to fail is left alone: straight pins do not disprove a split pair, which a tester
    finds by its crosstalk. So is what the table has for information only: no figure of it passes or
    fails.
    """
    for path, item in case.stated_items:
        stated = item.get("verdict", "")
        if not stated or is_informative(case, item):
            continue
        proved = part_outcome(case, item)
        contrary = "fail" if proved is PASS else "pass" if proved is FAIL else "none"
        if item["parameter"] == WIRE_MAP and contrary == "fail":
            continue
        if stated.rstrip("*") == contrary and _is_settled(case, item):
            yield Hit(
                f"{path}.verdict",
                {
                    "what": subject(item["parameter"], item.get("end"), item.get("pairs", ())),
                    "stated": stated,
                    "recomputed": proved.value,
                },
            )


def _is_settled(case: Case, item: Item) -> bool:
    """Whether no reading makes a fail of a part none, or a pass a fail."""
    fails = part_outcome(case, item) is FAIL
    parts: list[Part] = []
    for one in (item, *others(case, item)):
        parts += [*margins_of(case, one)]
        parts += scalars_of(case, one)
    near = None if fails else nearest(parts)
    readings = may_turn(parts, case.needed_table, case.interpretations, near)
    return all((part_outcome(case.under(*one), item) is FAIL) is fails for one in readings)
