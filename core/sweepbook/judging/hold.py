"""Hold the curves of one parameter against its limit, under the interpretations in force."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import chain
from typing import NamedTuple

import numpy as np

from sweepbook.cached import cached_property
from sweepbook.judging.coverage import absent, thin
from sweepbook.judging.curves import Curves, Flags
from sweepbook.judging.evaluate import Evaluation
from sweepbook.judging.exclusions import for_information, relaxed, rounded
from sweepbook.judging.limit_line import Sense, edges, limit_on
from sweepbook.judging.lost_readings import hiding
from sweepbook.judging.settings import JudgeSettings
from sweepbook.judging.settle import Settled
from sweepbook.judging.wiremap import PARAMETER as WIRE_MAP
from sweepbook.judging.working import Lack
from sweepbook.judging.worst import Question, Worst, evaluate_all
from sweepbook.limits.model import LimitTable, ParameterLimit

WITHOUT_COVERAGE = frozenset({"propagation_delay", "delay_skew"})
"""Delays: one figure at 10 MHz is enough, so a sweep of them needs no density."""


@dataclass(frozen=True, eq=False)
class Held:
    """One parameter held against its limit.

    Attributes:
        rule: the limit.
        obligation: of this record: "required" of the table becomes "informative" where it stands
            only for other cabling.
        curves: m curves, rounded where an interpretation says so.
        exported: bool[m, n] of points as exported; None for none.
        evaluation: margins.
        worst: of each curve.
        lacks: by row, what the curve lacks for a full proof.
        absent: needed curves that are not there.
    """

    rule: ParameterLimit
    obligation: str
    curves: Curves
    exported: Flags | None
    evaluation: Evaluation
    worst: Worst
    lacks: Mapping[int, tuple[Lack, ...]]
    absent: tuple[Lack, ...]

    @property
    def sense(self) -> Sense:
        """Which side of the limit is good."""
        return self.evaluation.sense

    @cached_property
    def over_all_points(self) -> tuple[Evaluation, Worst] | None:
        """The same with the points for information; None where there are no such points."""
        seen = self.evaluation
        if seen.left_out is None or not seen.for_information.any():
            return None
        return evaluate_all([Question(seen.curves, seen.limit, seen.sense, None)])[0]

    @cached_property
    def failing(self) -> list[bool]:
        """For each curve, whether it fails at any of its points.

        Where every evaluated point is binding, the smallest margin's upper end tells.
        """
        failing: list[bool] = (self.worst.margin_high < 0.0).tolist()
        if any(failing) and not self.evaluation.certain:
            failing = np.any(self.evaluation.fails, axis=1, keepdims=True)[:, 0].tolist()
        return failing


def obligation_of(rule: ParameterLimit, screened: bool | None) -> str:
    """The obligation for cabling that is screened (True), unscreened, or not known to be either."""
    if rule.required_when is None or rule.obligation != "required":
        return rule.obligation
    return "required" if screened is (rule.required_when == "screened") else "informative"


@lru_cache(maxsize=64)
def required_of(table: LimitTable, screened: bool | None) -> frozenset[str]:
    """The parameters that a table requires of such cabling; the wire map, where it does, too."""
    rules = table.parameters.items()
    found = {name for name, rule in rules if obligation_of(rule, screened) == "required"}
    return frozenset(found | ({WIRE_MAP} if table.wire_map.obligation == "required" else set()))


class Asked(NamedTuple):
    """One parameter that is to be held against its limit.

    Attributes:
        rule: its limit, of a table with frequencies for it.
        obligation: see `obligation_of`.
        settled: the curves to judge.
    """

    rule: ParameterLimit
    obligation: str
    settled: Settled


def hold(
    asked: Sequence[Asked],
    companions: Mapping[str, Curves],
    table: LimitTable,
    settings: JudgeSettings,
) -> list[Held]:
    """Evaluate parameters.

    Args:
        asked: which, and against what.
        companions: judged curves by parameter, for the conditions of interpretations.
        table: the table.
        settings: interpretations and grades.
    """
    questions = [
        _question(one.rule, one.settled.curves, companions, table, settings) for one in asked
    ]
    return [
        _held(one, *found, table) for one, found in zip(asked, evaluate_all(questions), strict=True)
    ]


def _question(
    rule: ParameterLimit,
    curves: Curves,
    companions: Mapping[str, Curves],
    table: LimitTable,
    settings: JudgeSettings,
) -> Question:
    chosen = settings.interpretations
    decimals = chosen.measured_decimals(table)
    if decimals is not None and rule.unit == "dB":
        curves = rounded(curves, decimals)
    limit = limit_on(rule, curves.frequency_mhz, table, settings)
    limit = relaxed(curves, limit, chosen.relaxations(table, rule.parameter), companions)
    left_out = for_information(curves, chosen.exclusions(table, rule.parameter), companions)
    return Question(curves, limit, "min" if rule.sense == "min" else "max", left_out)


def _held(asked: Asked, evaluation: Evaluation, worst: Worst, table: LimitTable) -> Held:
    rule, curves = asked.rule, evaluation.curves
    lacks: dict[int, tuple[Lack, ...]] = {}
    missing: tuple[Lack, ...] = ()
    if rule.parameter not in WITHOUT_COVERAGE:
        f_min, f_max = edges(rule)
        for row, lack in chain(thin(curves, f_min, f_max, table), hiding(evaluation)):
            lacks[row] = (*lacks.get(row, ()), lack)
        missing = absent(rule.parameter, curves)
    return Held(
        rule,
        asked.obligation,
        curves,
        asked.settled.exported,
        evaluation,
        worst,
        lacks,
        missing,
    )
