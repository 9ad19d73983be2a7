"""Try each interpretation that is off: would it change what the sweeps say?"""

from dataclasses import replace

from sweepbook.judging.assessment import Recomputed
from sweepbook.judging.parts import Evidence, Parts, judge_parts
from sweepbook.judging.settings import JudgeSettings
from sweepbook.judging.working import Trial
from sweepbook.limits.effects import ExcludePoints, RelaxLimit, RoundLimit, RoundMeasured
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
    for name, changed in settings.interpretations.alternatives(table):
        if settings.interpretations.on(name):
            continue
        if now is Recomputed.PASS and _harmless(name, settings.interpretations, changed, parts):
            continue
        other = judge_parts(evidence, table, replace(settings, interpretations=changed))
        into = other.whole.recomputed
        if (now is Recomputed.FAIL) != (into is Recomputed.FAIL):
            found.append(Trial(name, now.value, into.value))
    return tuple(found)


def _harmless(name: str, now: Interpretations, changed: Interpretations, parts: Parts) -> bool:
    """Whether an interpretation cannot turn a pass into a fail, so that it need not be tried.

    Leaving points out and relaxing limits only ever help, as long as no rival reading goes off
    for it. Rounding moves a limit or a value by half a step at most.
    """
    effect = now.entry(name).effect
    match effect:
        case ExcludePoints() | RelaxLimit():
            return changed.switched_on >= now.switched_on
        case RoundLimit(decimals=decimals) | RoundMeasured(decimals=decimals):
            least = min(
                (
                    margin.margin_high_db
                    for margin in parts.margins
                    if margin.obligation == "required" and margin.margin_high_db is not None
                ),
                default=0.0,
            )
            return least >= 10.0**-decimals
