"""Judge single figures: length, delay, skew, resistances."""

from collections.abc import Mapping, Sequence
from functools import lru_cache
from itertools import combinations
from typing import NamedTuple

from sweepbook.judging.assessment import ScalarMargin
from sweepbook.judging.curves import PAIRS, Key
from sweepbook.judging.figures import Figure, skews
from sweepbook.judging.hold import obligation_of
from sweepbook.judging.scalar_margin import Against, judge_figure, judge_shortest
from sweepbook.judging.settings import JudgeSettings
from sweepbook.judging.settle import TOLERANCE
from sweepbook.judging.working import Disagreement, Lack, LackKind
from sweepbook.limits.model import LimitTable, ParameterLimit

SCALARS = (
    "length",
    "propagation_delay",
    "delay_skew",
    "dc_loop_resistance",
    "dc_resistance_unbalance_within_pair",
    "dc_resistance_unbalance_between_pairs",
)

BETWEEN = "dc_resistance_unbalance_between_pairs"
"""Needs every two pairs; the others need every pair."""


class Judged(NamedTuple):
    """What came of the single figures.

    Attributes:
        margins: one a figure; for a length decided by the shortest pair only that one.
        lacks: figures that are needed and not there.
        disagreements: exported skews that the delays do not yield.
    """

    margins: tuple[ScalarMargin, ...]
    lacks: tuple[Lack, ...]
    disagreements: tuple[Disagreement, ...]


def judge_figures(
    found: Mapping[str, Sequence[Figure]],
    swept: Mapping[str, frozenset[str]],
    screened: bool | None,
    table: LimitTable,
    settings: JudgeSettings,
) -> Judged:
    """Hold every single figure against its limit.

    Args:
        found: figures of the record by parameter.
        swept: pairs by parameter that a judged curve has covered already.
        screened: whether the cabling is screened, None where not known.
        table: the limit table.
        settings: interpretations and grades.
    """
    margins: list[ScalarMargin] = []
    lacks: list[Lack] = []
    made = skews(found.get("propagation_delay", ()))
    ohms = (one for one in found.get("dc_loop_resistance", ()) if one.unit == "ohm")
    loops = {one.pairs: one for one in ohms}
    differing = _differing(found.get("delay_skew", ()), made)
    for parameter in SCALARS:
        rule = table.parameters.get(parameter)
        if rule is None:
            continue
        obligation = obligation_of(rule, screened)
        chosen = found.get(parameter, ())
        if parameter == "delay_skew" and made:
            chosen = made
        covered = swept.get(parameter, frozenset())
        gone = _absent(rule, chosen, covered)
        lacks.extend(gone)
        against = Against.of(rule, obligation, table, settings)
        if chosen and rule.decides == "shortest-pair":
            margins.append(judge_shortest(against, chosen))
            continue
        margins.extend([judge_figure(against, item, loops) for item in chosen])
    return Judged(tuple(margins), tuple(lacks), differing)


def _absent(
    rule: ParameterLimit, chosen: Sequence[Figure], covered: frozenset[str]
) -> tuple[Lack, ...]:
    """Figures that a full proof needs: one of every pair, or where one decides, that one."""
    there = frozenset([figure.pairs for figure in chosen])
    return _lacks(rule.parameter, rule.decides, there, covered)


@lru_cache(maxsize=256)
def _lacks(
    parameter: str, decides: str, there: frozenset[tuple[str, ...]], covered: frozenset[str]
) -> tuple[Lack, ...]:
    """Kept, since most tests of a job hold the same figures."""
    if parameter == BETWEEN:
        wanted = [tuple(sorted(two)) for two in combinations(PAIRS, 2)]
    else:
        wanted = [(pair,) for pair in PAIRS]
    have = {tuple(sorted(pairs)) for pairs in there} | {(pair,) for pair in covered}
    if decides != "each" and () in have:
        return ()
    gone = [pairs for pairs in wanted if pairs not in have]
    if decides == "shortest-pair" and len(gone) < len(wanted):
        return ()
    if len(gone) == len(wanted):
        return (Lack(parameter, None, (), LackKind.PARAMETER),)
    return tuple(Lack(parameter, None, pairs, LackKind.PAIRS) for pairs in gone)


def _differing(exported: Sequence[Figure], made: Sequence[Figure]) -> tuple[Disagreement, ...]:
    """Exported skews whose interval meets that of no recomputed one; without a pair, the worst."""
    if not made or not exported:
        return ()
    worst = max(made, key=lambda figure: figure.value)
    low, high = max(figure.low for figure in made), max(figure.high for figure in made)
    whole = worst._replace(pairs=(), low=low, high=high)
    facts = []
    for figure in exported:
        mine = [
            one for one in (*made, whole) if (one.pairs, one.unit) == (figure.pairs, figure.unit)
        ]
        apart = [max(figure.low - one.high, one.low - figure.high) for one in mine]
        if mine and min(apart) > TOLERANCE:
            key = Key("delay_skew", None, figure.pairs)
            value = mine[apart.index(min(apart))].value
            facts.append(Disagreement(key, figure.path, None, figure.value, value, 1, "", "ns"))
    return tuple(facts)
