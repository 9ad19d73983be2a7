"""Try each interpretation that is off: would it change what the sweeps say?"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np

from sweepbook.judging.assessment import Margin, Outcome, Recomputed, ScalarMargin
from sweepbook.judging.evidence import Evidence
from sweepbook.judging.hold import Held
from sweepbook.judging.parts import Parts, judge_parts
from sweepbook.judging.settings import JudgeSettings
from sweepbook.judging.working import Trial
from sweepbook.limits.effects import Effect, ExcludePoints, RelaxLimit, RoundLimit, RoundMeasured
from sweepbook.limits.interpretations import Interpretations
from sweepbook.limits.model import LimitTable

Part = Margin | ScalarMargin


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
    every: tuple[Part, ...] = (*parts.margins, *parts.scalars)
    fails = now is Recomputed.FAIL
    near = None if fails else nearest(every)
    for name, changed in may_turn(every, table, settings.interpretations, near):
        other = under(changed, evidence, table, settings, parts.held, near)
        into = other.whole.recomputed
        if fails is not (into is Recomputed.FAIL):
            found.append(Trial(name, now.value, into.value))
    return tuple(found)


def under(
    changed: Interpretations,
    evidence: Evidence,
    table: LimitTable,
    settings: JudgeSettings,
    held: Sequence[Held],
    near: Mapping[str, float] | None = None,
) -> Parts:
    """The parts of a record under other interpretations.

    Args:
        changed: these.
        evidence: of the record.
        table: the limit table.
        settings: those in force.
        held: parameters as they are held under them.
        near: see `_touched`.
    """
    touched = _touched(table, settings.interpretations, changed, near)
    tried = replace(settings, interpretations=changed)
    with np.errstate(over="ignore", invalid="ignore", divide="ignore"):
        return judge_parts(evidence, table, tried, held, touched)


def may_turn(
    parts: Sequence[Part],
    table: LimitTable,
    now: Interpretations,
    near: Mapping[str, float] | None,
) -> Iterator[tuple[str, Interpretations]]:
    """Interpretations that are off and not fixed, and may make a fail none, or a pass a fail.

    Args:
        parts: of a record as judged: what fails, or all that passes.
        table: the limit table.
        now: the interpretations in force.
        near: of a pass, how near each parameter is to failing; None of a fail.

    Yields:
        The id of each, and the switches with that one on.
    """
    for name, changed in now.alternatives(table):
        if now.on(name):
            continue
        effect = now.entry(name).effect
        if near is not None:
            turns = not _harmless(effect, now, changed, near)
        else:
            turns = not _hopeless(effect, table, parts)
        if turns:
            yield name, changed


def nearest(parts: Sequence[Part]) -> dict[str, float]:
    """The least upper end of the margins of each required parameter that has one."""
    found: dict[str, float] = {}
    for one in parts:
        if isinstance(one, ScalarMargin) or one.obligation != "required":
            continue
        if one.margin_high_db is not None:
            found[one.parameter] = min(found.get(one.parameter, math.inf), one.margin_high_db)
    return found


def _touched(
    table: LimitTable,
    now: Interpretations,
    changed: Interpretations,
    near: Mapping[str, float] | None,
) -> frozenset[str]:
    """Parameters whose curves are held in another way, and may prove something else then.

    Args:
        table: the limit table.
        now: the way they are held.
        changed: the other way.
        near: of a pass, how near each parameter is to failing: those further away than rounding
            can move them stay as they are. None to hold all of them.
    """
    rounded = [(one.limit_decimals(table), one.measured_decimals(table)) for one in (now, changed)]
    reach = 0.0
    if rounded[0] != rounded[1]:
        digits = [places for both in rounded for places in both if places is not None]
        reach = sum(10.0**-places for places in digits) if near is not None else math.inf
    return frozenset(
        name
        for name in table.parameters
        if (0.0 if near is None else near.get(name, math.inf)) < reach
        or now.exclusions(table, name) != changed.exclusions(table, name)
        or now.relaxations(table, name) != changed.relaxations(table, name)
    )


def _harmless(
    effect: Effect, now: Interpretations, changed: Interpretations, near: Mapping[str, float]
) -> bool:
    """Whether an interpretation cannot turn a pass into a fail, so that it need not be tried.

    Leaving points out and relaxing limits only ever help, as long as no rival reading goes off
    for it. Rounding moves a limit or a value by half a step at most.
    """
    match effect:
        case ExcludePoints() | RelaxLimit():
            return changed.switched_on >= now.switched_on
        case RoundLimit(decimals=decimals) | RoundMeasured(decimals=decimals):
            return all(end >= 10.0**-decimals for end in near.values())


def _hopeless(effect: Effect, table: LimitTable, parts: Sequence[Part]) -> bool:
    """Whether an interpretation leaves a fail a fail, so that it need not be tried.

    It does where a failing part is none of those that it touches, or fails by more than rounding
    can move it.
    """
    failing = [p for p in parts if p.obligation == "required" and p.outcome is Outcome.FAIL]
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
