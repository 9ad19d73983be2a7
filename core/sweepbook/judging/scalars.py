"""Judge single figures: length, delay, skew, resistances."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import combinations
from typing import NamedTuple

from sweepbook.judging.assessment import Origin, Outcome, ScalarMargin
from sweepbook.judging.curves import PAIRS, Key
from sweepbook.judging.figures import Figure, base_ohm, shortest, skews
from sweepbook.judging.hold import obligation_of
from sweepbook.judging.margins import finite
from sweepbook.judging.settings import JudgeSettings
from sweepbook.judging.settle import TOLERANCE_DB
from sweepbook.judging.working import Disagreement, Lack, LackKind
from sweepbook.limits.model import LimitTable, ParameterLimit
from sweepbook.limits.shapes import ScalarLimit, scalar_limit

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
    differing = _differing(found.get("delay_skew", ()), made)
    for parameter in SCALARS:
        rule = table.parameters.get(parameter)
        if rule is None:
            continue
        obligation = obligation_of(rule, screened)
        chosen = list(found.get(parameter, ()))
        if parameter == "delay_skew" and made:
            chosen = made
        covered = swept.get(parameter, frozenset())
        gone = _absent(rule, chosen, covered)
        lacks.extend(gone)
        if chosen and rule.decides == "shortest-pair":
            margins.append(_shortest(rule, obligation, chosen, table, settings))
            continue
        loops = found.get("dc_loop_resistance", ())
        margins.extend(_one(rule, obligation, item, loops, table, settings) for item in chosen)
    return Judged(tuple(margins), tuple(lacks), differing)


def _one(
    rule: ParameterLimit,
    obligation: str,
    figure: Figure,
    loops: Sequence[Figure],
    table: LimitTable,
    settings: JudgeSettings,
) -> ScalarMargin:
    base = base_ohm(figure, loops) if rule.unit == "percent" else None
    if figure.unit == "ohm" and rule.unit == "percent" and base is not None:
        figure = _percent(figure, base)
    if figure.unit != rule.unit:
        reason = f"given in {figure.unit}, the limit is in {rule.unit}"
        return _margin(rule, obligation, figure, None, Outcome.UNDECIDED, reason)
    limit = _limit(rule, figure, base, table, settings)
    if math.isnan(limit.value):
        reason = f"the limit does not hold at {figure.frequency_mhz:g} MHz"
        return _margin(rule, obligation, figure, None, Outcome.UNDECIDED, reason)
    if not (limit.usable or (settings.grade_c and limit.grade <= "C")):
        reason = f"the limit is known too poorly (grade {limit.grade})"
        return _margin(rule, obligation, figure, None, Outcome.UNDECIDED, reason)
    ends = _ends(rule, figure, limit)
    if ends[1] < 0.0:
        outcome, reason = Outcome.FAIL, limit.assumed
    elif ends[0] >= 0.0:
        outcome, reason = Outcome.PASS, limit.assumed
    else:
        outcome, reason = Outcome.UNDECIDED, _why_open(figure, limit)
    return _margin(rule, obligation, figure, limit, outcome, reason)


def _limit(
    rule: ParameterLimit,
    figure: Figure,
    base: tuple[float, float, float] | None,
    table: LimitTable,
    settings: JudgeSettings,
) -> ScalarLimit:
    """The limit of a figure; where it hangs on a resistance, over the interval of that too."""

    def at(ohm: float | None) -> ScalarLimit:
        chosen = settings.interpretations
        return scalar_limit(table, rule.parameter, chosen, figure.frequency_mhz, ohm)

    if base is None:
        return at(None)
    nominal, few, many = (at(ohm) for ohm in base)
    return replace(nominal, low=min(nominal.low, many.low), high=max(nominal.high, few.high))


def _why_open(figure: Figure, limit: ScalarLimit) -> str:
    if limit.low < limit.high:
        return limit.assumed or "the limit itself is known only within an interval"
    if abs(figure.low) == float("inf") or abs(figure.high) == float("inf"):
        return "the reading is clipped"
    return "nearer to the limit than the digits of the source can tell"


def _margin(
    rule: ParameterLimit,
    obligation: str,
    figure: Figure,
    limit: ScalarLimit | None,
    outcome: Outcome,
    reason: str,
) -> ScalarMargin:
    bound = None if limit is None else limit.value
    sign = 1.0 if rule.sense == "min" else -1.0
    ends = _ends(rule, figure, limit) if limit else (math.nan, math.nan)
    outer = (finite(end) for end in (*ends, figure.low, figure.high))
    return ScalarMargin(
        rule.parameter,
        obligation,
        figure.pair,
        outcome,
        figure.value,
        bound,
        None if bound is None else sign * (figure.value - bound),
        figure.unit,
        Origin.RECOMPUTED if figure.recomputed else Origin.AS_EXPORTED,
        limit.grade if limit is not None else None,
        reason,
        *outer,
    )


def _ends(rule: ParameterLimit, figure: Figure, limit: ScalarLimit) -> tuple[float, float]:
    """Between which the margin lies."""
    if rule.sense == "max":
        return limit.low - figure.high, limit.high - figure.low
    return figure.low - limit.high, figure.high - limit.low


def _shortest(
    rule: ParameterLimit,
    obligation: str,
    lengths: Sequence[Figure],
    table: LimitTable,
    settings: JudgeSettings,
) -> ScalarMargin:
    """The shortest pair decides; with a pair missing it can only be shorter, never longer."""
    margin = _one(rule, obligation, shortest(lengths), (), table, settings)
    whole = any(not figure.pairs for figure in lengths)
    have = {pair for figure in lengths for pair in figure.pairs}
    if margin.outcome is Outcome.FAIL and not whole and not have >= set(PAIRS):
        gone = ", ".join(pair for pair in PAIRS if pair not in have)
        return replace(
            margin,
            outcome=Outcome.UNDECIDED,
            reason=f"the shortest pair decides, and the length of {gone} is missing",
        )
    return margin


def _percent(figure: Figure, base: tuple[float, float, float]) -> Figure:
    """An unbalance in ohm as percent of the resistance it refers to."""
    value, low, high = base
    if not low > 0.0:
        return figure
    return replace(
        figure,
        value=100.0 * figure.value / value,
        low=100.0 * figure.low / high,
        high=100.0 * figure.high / low,
        unit="percent",
    )


def _absent(
    rule: ParameterLimit, chosen: Sequence[Figure], covered: frozenset[str]
) -> tuple[Lack, ...]:
    """Figures that a full proof needs: one of every pair, or where one decides, that one."""
    if rule.parameter == BETWEEN:
        wanted = [tuple(sorted(two)) for two in combinations(PAIRS, 2)]
    else:
        wanted = [(pair,) for pair in PAIRS]
    have = {tuple(sorted(figure.pairs)) for figure in chosen} | {(pair,) for pair in covered}
    if rule.decides != "each" and () in have:
        return ()
    gone = [pairs for pairs in wanted if pairs not in have]
    if rule.decides == "shortest-pair" and len(gone) < len(wanted):
        return ()
    if len(gone) == len(wanted):
        return (Lack(rule.parameter, None, (), LackKind.PARAMETER),)
    return tuple(Lack(rule.parameter, None, pairs, LackKind.PAIRS) for pairs in gone)


def _differing(exported: Sequence[Figure], made: Sequence[Figure]) -> tuple[Disagreement, ...]:
    """Exported skews whose interval misses that of the recomputed one."""
    if not made:
        return ()
    worst = max(made, key=lambda figure: figure.value)
    whole = replace(worst, pairs=(), low=max(f.low for f in made), high=max(f.high for f in made))
    by_pairs = {figure.pairs: figure for figure in (*made, whole)}
    facts = []
    for figure in exported:
        mine = by_pairs.get(figure.pairs)
        if mine is None or figure.unit != mine.unit:
            continue
        if max(figure.low - mine.high, mine.low - figure.high) > TOLERANCE_DB:
            key = Key("delay_skew", None, figure.pairs)
            facts.append(
                Disagreement(key, figure.path, None, figure.value, mine.value, 1, "", "ns")
            )
    return tuple(facts)
