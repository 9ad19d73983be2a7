"""One single figure against its limit, on intervals."""

import math
from collections.abc import Sequence
from dataclasses import replace

from sweepbook.judging.assessment import Origin, Outcome, ScalarMargin
from sweepbook.judging.curves import PAIRS
from sweepbook.judging.figures import Figure, Loops, base_ohm, shortest
from sweepbook.judging.margins import finite
from sweepbook.judging.settings import JudgeSettings
from sweepbook.limits.model import LimitTable, ParameterLimit
from sweepbook.limits.shapes import ScalarLimit, scalar_limit


def judge_figure(
    rule: ParameterLimit,
    obligation: str,
    figure: Figure,
    loops: Loops,
    table: LimitTable,
    settings: JudgeSettings,
) -> ScalarMargin:
    """Hold one figure against its limit.

    Args:
        rule: the limit.
        obligation: of this record.
        figure: an interval.
        loops: loop resistances, for a limit that refers to them.
        table: the limit table.
        settings: interpretations and grades.
    """
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
    return nominal._replace(low=min(nominal.low, many.low), high=max(nominal.high, few.high))


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


def judge_shortest(
    rule: ParameterLimit,
    obligation: str,
    lengths: Sequence[Figure],
    table: LimitTable,
    settings: JudgeSettings,
) -> ScalarMargin:
    """The shortest pair decides; with a pair missing it can only be shorter, never longer."""
    margin = judge_figure(rule, obligation, shortest(lengths), {}, table, settings)
    whole = any(not figure.pairs for figure in lengths)
    have = {pair for figure in lengths for pair in figure.pairs}
    if margin.outcome is Outcome.FAIL and not whole and not have >= set(PAIRS):
        gone = ", ".join(pair for pair in PAIRS if pair not in have)
        return margin._replace(
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
