"""Exported figures that the raw ones do not yield, and that would be a fail.

The recomputed figure counts. But where the source's own figure is a fail, or would make one of a
curve that it is made of, one of the two is wrong, and nothing tells which: a pass is not proved.
"""

from collections.abc import Iterator, Mapping, Sequence

from sweepbook.judging import phrases
from sweepbook.judging.alone import held_alone
from sweepbook.judging.assessment import Outcome
from sweepbook.judging.curves import Key
from sweepbook.judging.evidence import Evidence
from sweepbook.judging.figures import Figure
from sweepbook.judging.hold import obligation_of
from sweepbook.judging.implied import implied
from sweepbook.judging.margins import margins
from sweepbook.judging.scalar_margin import Against, judge_figure
from sweepbook.judging.settings import JudgeSettings
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
        One doubt for each that fails by itself, and for each by which a curve that it is made of
        would; of required parameters only.
    """
    found: list[Doubt] = []
    for parameter in dict.fromkeys(fact.key.parameter for fact in facts):
        rule = _required(parameter, evidence, table)
        if rule is not None:
            paths = {f.key: f.path for f in facts if f.key.parameter == parameter}
            told = {fact.path for fact in facts}  # two figures may be of one key
            figures = [one for one in evidence.figures.get(parameter, ()) if one.path in told]
            found.extend(_figures(figures, rule, table, settings))
            found.extend(_curves(evidence, paths, rule, table, settings))
    for fact in facts:
        found.extend(_members(evidence, fact, table, settings))
    return tuple(found)


def _required(parameter: str, evidence: Evidence, table: LimitTable) -> ParameterLimit | None:
    """The limit of a parameter, where it is required and swept."""
    rule = table.parameters.get(parameter)
    required = rule is not None and obligation_of(rule, evidence.screened) == "required"
    return rule if required else None


def _members(
    evidence: Evidence, fact: Disagreement, table: LimitTable, settings: JudgeSettings
) -> Iterator[Doubt]:
    """The curve that would fail by most if an exported one that is made of it were right.

    Crosstalk goes before the insertion loss that is taken off it.
    """
    judged = {name: settled.curves for name, settled in evidence.settled.items()}
    for curves in implied(fact, evidence.measured, judged):
        rule = _required(curves.parameter, evidence, table)
        if rule is None or rule.f_min_mhz is None:
            continue
        held = margins(held_alone(evidence, curves, rule, table, settings))
        failing = [margin for margin in held if margin.outcome is Outcome.FAIL]
        if failing:
            worst = min(failing, key=lambda margin: margin.worst_margin_db or 0.0)
            other = ", or another in its sum," if len(failing) > 1 else ""
            right = f"if exported {phrases.subject(*fact.key)} is right"
            text = f"{phrases.curve(worst)}{other} {right}, which the raw figures do not yield"
            yield Doubt(DoubtKind.CONTRADICTION, fact.path, text)
            return


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
    held = held_alone(evidence, own, rule, table, settings)
    for key, margin in zip(own.keys, margins(held), strict=True):
        if margin.outcome is Outcome.FAIL:
            yield _doubt(phrases.curve(margin), paths[key])


def _doubt(words: str, path: str) -> Doubt:
    text = f"exported {words}, and the raw figures do not yield that"
    return Doubt(DoubtKind.CONTRADICTION, path, text)
