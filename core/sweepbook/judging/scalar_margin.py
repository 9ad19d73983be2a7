"""One single figure against its limit, on intervals."""

import math
from collections.abc import Sequence
from typing import NamedTuple

from sweepbook.judging.assessment import Origin, Outcome, ScalarMargin
from sweepbook.judging.curves import PAIRS
from sweepbook.judging.figures import Base, Figure, Loops, base_ohm, shortest
from sweepbook.judging.margins import finite
from sweepbook.judging.settings import JudgeSettings
from sweepbook.limits.model import LimitTable, ParameterLimit
from sweepbook.limits.shapes import ScalarLimit, hangs_on_resistance, rounded_scalar, rounded_to


class Against(NamedTuple):
    """What the single figures of a parameter are held against.

    Attributes:
        rule: the limit.
        obligation: of this record.
        table: the limit table.
        decimals: that an interpretation rounds the limit to; None for none.
        grade_c: whether a limit of the grade C counts without an interval.
    """

    rule: ParameterLimit
    obligation: str
    table: LimitTable
    decimals: int | None
    grade_c: bool

    @staticmethod
    def of(
        rule: ParameterLimit, obligation: str, table: LimitTable, settings: JudgeSettings
    ) -> "Against":
        """Under some interpretations and grades."""
        decimals = rounded_to(table, rule.parameter, settings.interpretations)
        return Against(rule, obligation, table, decimals, settings.grade_c)

    def limit(self, figure: Figure, base: Base | None) -> ScalarLimit:
        """Of a figure; where it hangs on a resistance, over the interval of that too."""
        asked = (self.table, self.rule.parameter, self.decimals, figure.frequency_mhz)
        if base is None or not hangs_on_resistance(self.rule):
            return rounded_scalar(*asked, None)
        nominal, few, many = (rounded_scalar(*asked, ohm) for ohm in base)
        return nominal._replace(low=min(nominal.low, many.low), high=max(nominal.high, few.high))


def judge_figure(against: Against, figure: Figure, loops: Loops) -> ScalarMargin:
    """Hold one figure against its limit.

    Args:
        against: the limit.
        figure: an interval.
        loops: loop resistances, for a limit that refers to them.
    """
    rule = against.rule
    base = None
    if rule.unit == "percent" and (figure.unit == "ohm" or hangs_on_resistance(rule)):
        base = base_ohm(figure, loops)
    if figure.unit == "ohm" and rule.unit == "percent" and base is not None:
        figure = _percent(figure, base)
    if figure.unit != rule.unit:
        reason = f"given in {figure.unit}, the limit is in {rule.unit}"
        return _without_limit(against, figure, reason)
    limit = against.limit(figure, base)
    if math.isnan(limit.value):
        reason = f"the limit does not hold at {figure.frequency_mhz:g} MHz"
        return _without_limit(against, figure, reason)
    if not (limit.usable or (against.grade_c and limit.grade <= "C")):
        return _without_limit(
            against, figure, f"the limit is known too poorly (grade {limit.grade})"
        )
    sign, low, high = 1.0, figure.low - limit.high, figure.high - limit.low
    if rule.sense == "max":
        low, high = limit.low - figure.high, limit.high - figure.low
    if rule.sense != "min":
        sign = -1.0
    outcome, reason = Outcome.UNDECIDED, ""
    if high < 0.0:
        outcome, reason = Outcome.FAIL, limit.assumed
    elif low >= 0.0:
        outcome, reason = Outcome.PASS, limit.assumed
    else:
        reason = _why_open(figure, limit)
    margin = sign * (figure.value - limit.value)
    return _margin(
        against, figure, outcome, reason, (limit.value, margin, limit.grade), (low, high)
    )


def _why_open(figure: Figure, limit: ScalarLimit) -> str:
    if limit.low < limit.high:
        return limit.assumed or "the limit itself is known only within an interval"
    if abs(figure.low) == float("inf") or abs(figure.high) == float("inf"):
        return "the reading is clipped"
    return "nearer to the limit than the digits of the source can tell"


def _without_limit(against: Against, figure: Figure, reason: str) -> ScalarMargin:
    nothing = (None, None, None)
    return _margin(against, figure, Outcome.UNDECIDED, reason, nothing, (math.nan, math.nan))


def _margin(
    against: Against,
    figure: Figure,
    outcome: Outcome,
    reason: str,
    held: tuple[float | None, float | None, str | None],
    between: tuple[float, float],
) -> ScalarMargin:
    """A judged figure, with its limit, margin and grade, and between what the margin lies."""
    limit, margin, grade = held
    ends = (*between, figure.low, figure.high)
    outer = ends if math.isfinite(sum(ends)) else map(finite, ends)
    return ScalarMargin(
        against.rule.parameter,
        against.obligation,
        figure.pair,
        outcome,
        figure.value,
        limit,
        margin,
        figure.unit,
        Origin.RECOMPUTED if figure.recomputed else Origin.AS_EXPORTED,
        grade,
        reason,
        *outer,
    )


def judge_shortest(against: Against, lengths: Sequence[Figure]) -> ScalarMargin:
    """The shortest pair decides; with a pair missing it can only be shorter, never longer."""
    margin = judge_figure(against, shortest(lengths), {})
    whole = any(not figure.pairs for figure in lengths)
    have = {pair for figure in lengths for pair in figure.pairs}
    if margin.outcome is Outcome.FAIL and not whole and not have >= set(PAIRS):
        gone = ", ".join(pair for pair in PAIRS if pair not in have)
        return margin._replace(
            outcome=Outcome.UNDECIDED,
            reason=f"the shortest pair decides, and the length of {gone} is missing",
        )
    return margin


def _percent(figure: Figure, base: Base) -> Figure:
    """An unbalance in ohm as percent of the resistance it refers to."""
    value, low, high = base
    if not low > 0.0:
        return figure
    return figure._replace(
        value=100.0 * figure.value / value,
        low=100.0 * figure.low / high,
        high=100.0 * figure.high / low,
        unit="percent",
    )
