"""Exported figures that the raw ones do not yield, and that by themselves would be a fail.

The recomputed figure counts. But where the source's own figure is a fail, one of the two is wrong,
and nothing tells which: a pass is not proved.
"""

from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from sweepbook.judging import phrases
from sweepbook.judging.assessment import Outcome
from sweepbook.judging.curves import Key
from sweepbook.judging.evidence import Evidence
from sweepbook.judging.figures import Figure
from sweepbook.judging.hold import Asked, hold, obligation_of
from sweepbook.judging.margins import margins
from sweepbook.judging.scalar_margin import Against, judge_figure
from sweepbook.judging.settings import JudgeSettings
from sweepbook.judging.settle import Settled
from sweepbook.judging.working import Disagreement, Doubt, DoubtKind
from sweepbook.limits.model import LimitTable, ParameterLimit


def contested(
    evidence: Evidence,
    facts: Sequence[Disagreement],
    table: LimitTable,
    settings: JudgeSettings,
) -> tuple[Doubt, ...]:
    """Hold what is exported and not reproduced against the limit by itself.

    Args:
        evidence: of the record.
        facts: exported curves and figures that the raw ones do not yield.
        table: the limit table.
        settings: interpretations and grades.

    Returns:
        One doubt for each that fails by itself, of required parameters only.
    """
    found: list[Doubt] = []
    for parameter in dict.fromkeys(fact.key.parameter for fact in facts):
        rule = table.parameters.get(parameter)
        if rule is not None and obligation_of(rule, evidence.screened) == "required":
            paths = {f.key: f.path for f in facts if f.key.parameter == parameter}
            told = {fact.path for fact in facts}  # two figures may be of one key
            figures = [one for one in evidence.figures.get(parameter, ()) if one.path in told]
            found.extend(_figures(figures, rule, table, settings))
            found.extend(_curves(evidence, paths, rule, table, settings))
    return tuple(found)


def _figures(
    figures: Sequence[Figure],
    rule: ParameterLimit,
    table: LimitTable,
    settings: JudgeSettings,
) -> Iterator[Doubt]:
    against = Against.of(rule, "required", table, settings)
    for figure in figures:
        margin = judge_figure(against, figure, {})
        if margin.outcome is Outcome.FAIL:
            yield _doubt(phrases.scalar(margin), figure.path)


def _curves(
    evidence: Evidence,
    paths: Mapping[Key, str],
    rule: ParameterLimit,
    table: LimitTable,
    settings: JudgeSettings,
) -> Iterator[Doubt]:
    curves = evidence.measured.get(rule.parameter)
    rows = [row for row, key in enumerate(curves.keys) if key in paths] if curves else []
    if curves is None or not rows or rule.f_min_mhz is None:
        return
    own = curves.take(rows, [curves.keys[row] for row in rows])
    stands = Settled(own, np.ones(own.value.shape, dtype=np.bool_))
    asked = [Asked(rule, "required", stands)]
    companions = evidence.companions(settings.interpretations.companions(table))
    (held,) = hold(asked, companions, table, settings)
    for key, margin in zip(own.keys, margins(held), strict=True):
        if margin.outcome is Outcome.FAIL:
            yield _doubt(phrases.curve(margin), paths[key])


def _doubt(words: str, path: str) -> Doubt:
    text = f"exported {words}, and the raw figures do not yield that"
    return Doubt(DoubtKind.CONTRADICTION, path, text)
