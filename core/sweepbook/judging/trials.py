"""Try each interpretation that is off: would it change what the sweeps say?"""

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace

from sweepbook.judging.assessment import Margin, Outcome, Recomputed, ScalarMargin
from sweepbook.judging.evidence import Evidence
from sweepbook.judging.parts import Parts, judge_parts
from sweepbook.judging.settings import JudgeSettings
from sweepbook.judging.working import Trial
from sweepbook.limits.effects import Effect, ExcludePoints, RelaxLimit, RoundLimit, RoundMeasured
from sweepbook.limits.interpretations import Interpretations
from sweepbook.limits.model import LimitTable


def trials(
    evidence: Evidence, table: LimitTable, settings: JudgeSettings, parts: Parts
) -> tuple[Trial, ...]:
    """Interpretations that are off, not fixed, and would turn the record.

    One at a time. What counts is a fail that would be none, or a pass that would be a fail. Where
    a pass would only be less complete (points left out), nothing is changed.

    Args:
        evidence: of the record.
        table: the limit table.
        settings: those in force.
        parts: as judged under them.
    """
    now = parts.whole.recomputed
    if now is Recomputed.UNDECIDED:
        return ()
    found = []
    nearest = _nearest(parts) if now is Recomputed.PASS else None
    for name, changed in settings.interpretations.alternatives(table):
        if settings.interpretations.on(name):
            continue
        effect = settings.interpretations.entry(name).effect
        if nearest is not None:
            if _harmless(effect, settings.interpretations, changed, nearest):
                continue
        elif _hopeless(effect, table, parts):
            continue
        tried = replace(settings, interpretations=changed)
        touched = _touched(table, settings.interpretations, changed, nearest)
        other = judge_parts(evidence, table, tried, parts, touched)
        into = other.whole.recomputed
        if (now is Recomputed.FAIL) != (into is Recomputed.FAIL):
            found.append(Trial(name, now.value, into.value))
    return tuple(found)


def under_other_readings(
    evidence: Evidence, table: LimitTable, settings: JudgeSettings
) -> Iterator[Parts]:
    """All parts under each interpretation that is off and not fixed, switched on by itself.

    What a part proves of a record that is settled by another one may hang on a reading as well.
    """
    now = settings.interpretations
    for name, changed in now.alternatives(table):
        if not now.on(name):
            yield judge_parts(evidence, table, replace(settings, interpretations=changed))


def _nearest(parts: Parts) -> dict[str, float]:
    """The least upper end of the margins of each required parameter that has one."""
    found: dict[str, float] = {}
    for one in parts.margins:
        if one.obligation == "required" and one.margin_high_db is not None:
            found[one.parameter] = min(found.get(one.parameter, math.inf), one.margin_high_db)
    return found


def _touched(
    table: LimitTable,
    now: Interpretations,
    changed: Interpretations,
    nearest: Mapping[str, float] | None,
) -> frozenset[str]:
    """Parameters whose curves are held in another way, and may prove something else then.

    Args:
        table: the limit table.
        now: the way they are held.
        changed: the other way.
        nearest: of a pass, how near each parameter is to failing: those further away than rounding
            can move them stay as they are. None to hold all of them.
    """
    rounded = [(one.limit_decimals(table), one.measured_decimals(table)) for one in (now, changed)]
    reach = 0.0
    if rounded[0] != rounded[1]:
        digits = [places for both in rounded for places in both if places is not None]
        reach = sum(10.0**-places for places in digits) if nearest is not None else math.inf
    return frozenset(
        name
        for name in table.parameters
        if (0.0 if nearest is None else nearest.get(name, math.inf)) < reach
        or now.exclusions(table, name) != changed.exclusions(table, name)
        or now.relaxations(table, name) != changed.relaxations(table, name)
    )


def _harmless(
    effect: Effect, now: Interpretations, changed: Interpretations, nearest: Mapping[str, float]
) -> bool:
    """Whether an interpretation cannot turn a pass into a fail, so that it need not be tried.

    Leaving points out and relaxing limits only ever help, as long as no rival reading goes off
    for it. Rounding moves a limit or a value by half a step at most.
    """
    match effect:
        case ExcludePoints() | RelaxLimit():
            return changed.switched_on >= now.switched_on
        case RoundLimit(decimals=decimals) | RoundMeasured(decimals=decimals):
            return all(end >= 10.0**-decimals for end in nearest.values())


def _hopeless(effect: Effect, table: LimitTable, parts: Parts) -> bool:
    """Whether an interpretation leaves a fail a fail, so that it need not be tried.

    It does where a failing part is none of those that it touches, or fails by more than rounding
    can move it.
    """
    every: tuple[Margin | ScalarMargin, ...] = (*parts.margins, *parts.scalars)
    failing = [p for p in every if p.obligation == "required" and p.outcome is Outcome.FAIL]
    match effect:
        case ExcludePoints(parameters=touched):
            return any(part.parameter not in touched for part in failing)
        case RelaxLimit():
            relaxed = {name for name, rule in table.parameters.items() if rule.relaxed_when}
            return any(part.parameter not in relaxed for part in failing)
        case RoundLimit(decimals=decimals) | RoundMeasured(decimals=decimals):
            step = 10.0**-decimals
            return any(
                isinstance(part, ScalarMargin)
                or (part.margin_high_db is not None and part.margin_high_db < -step)
                for part in failing
            )
