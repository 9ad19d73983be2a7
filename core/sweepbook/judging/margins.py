"""From matrices of margins to one plain Margin a curve, with its outcome and the reason for it."""

import math

import numpy as np

from sweepbook.judging import phrases
from sweepbook.judging.assessment import Margin, Origin, Outcome
from sweepbook.judging.curves import F64
from sweepbook.judging.hold import Held

NOT_EVALUATED = "every point is for information only, so nothing was evaluated"


def margins(held: Held) -> tuple[Margin, ...]:
    """One Margin for each curve, in the order of the rows."""
    outcomes = [_outcome(held, row) for row in range(len(held.curves.keys))]
    return tuple(
        _margin(held, row, outcome, reason) for row, (outcome, reason) in enumerate(outcomes)
    )


def _outcome(held: Held, row: int) -> tuple[Outcome, str]:
    """What a curve proves: a fail by one point, a pass only by all of them, with none lacking."""
    seen = held.evaluation
    if seen.fails[row].any():
        return Outcome.FAIL, ""
    hindrance = _hindrance(held, row)
    if hindrance:
        return Outcome.UNDECIDED, hindrance
    if held.worst.points[row] == 0:
        if seen.for_information[row]:
            return Outcome.NOT_EVALUATED, NOT_EVALUATED
        return Outcome.UNDECIDED, "no point lies where the limit holds"
    if seen.open[row].any():
        return Outcome.UNDECIDED, _why_open(held, row)
    return Outcome.PASS, ""


def _hindrance(held: Held, row: int) -> str:
    """What keeps a curve from proving a pass whatever its values are; "" for nothing."""
    if held.curves.repeated[row]:
        return "the source gives two values for one frequency"
    if row in held.lacks:
        return phrases.listed([phrases.lack(fact) for fact in held.lacks[row]])
    limit = held.evaluation.limit
    dim = ~limit.usable & (limit.grade > 0) & ~np.isnan(held.curves.value[row])
    if dim.any():
        at = phrases.frequency(float(held.curves.frequency_mhz[int(np.argmax(dim))]))
        grade = chr(int(limit.grade[dim].max()))
        return f"the limit is known too poorly (grade {grade}) from {at} on"
    return ""


def _why_open(held: Held, row: int) -> str:
    """Why the point nearest to failing proves nothing."""
    seen = held.evaluation
    opened = seen.open[row]
    at = int(np.argmin(np.where(opened, seen.margin[row], np.inf)))
    margin, low = float(seen.margin[row, at]), float(seen.low[row, at])
    limit = np.broadcast_to(seen.limit.value, seen.margin.shape)[row, at]
    place = phrases.frequency(float(held.curves.frequency_mhz[at]))
    unit = held.rule.unit
    near = f"{phrases.distance(margin, float(limit), unit, 'worse')} at {place}"
    bounds = (held.curves.low[row, at], held.curves.high[row, at])
    if not seen.binding[row, at] and seen.high[row, at] < 0.0:
        return f"{near}, where the source does not tell whether the point is for information only"
    if np.isinf(bounds).any():
        return f"{near}, and the reading is clipped there"
    spread = np.broadcast_to(seen.limit.high - seen.limit.low, seen.margin.shape)[row, at]
    if spread > 0.0 and low + spread >= 0.0:
        return (
            f"{near}, where the limit itself is known only within {phrases.figure(spread)} {unit}"
        )
    return f"{near}, nearer than the digits of the source can tell"


def finite(value: float) -> float | None:
    """The value, or None where it is infinite or no number: JSON has neither."""
    return value if math.isfinite(value) else None


def _margin(held: Held, row: int, outcome: Outcome, reason: str) -> Margin:
    seen, worst, key = held.evaluation, held.worst, held.curves.keys[row]
    evaluated = seen.evaluated[row]
    exported = held.exported is not None and bool((held.exported[row] & evaluated).any())
    if held.exported is not None and not evaluated.any():
        exported = bool(held.exported[row].any())
    any_points = bool(worst.points[row])
    margin_at, value_at = int(worst.margin_at[row]), int(worst.value_at[row])
    axis, limit = held.curves.frequency_mhz, np.broadcast_to(seen.limit.value, seen.margin.shape)

    def shown(array: F64, place: int | tuple[int, int]) -> float | None:
        return finite(float(array[place])) if any_points else None

    return Margin(
        parameter=key.parameter,
        obligation=held.obligation,
        end=key.end,
        pairs=key.pairs,
        outcome=outcome,
        worst_margin_db=shown(seen.margin, (row, margin_at)),
        worst_margin_mhz=shown(axis, margin_at),
        limit_at_worst_margin_db=shown(limit, (row, margin_at)),
        worst_value_db=shown(held.curves.value, (row, value_at)),
        worst_value_mhz=shown(axis, value_at),
        limit_at_worst_value_db=shown(limit, (row, value_at)),
        points_evaluated=int(worst.points[row]),
        points_for_information=int(seen.for_information[row]),
        origin=Origin.AS_EXPORTED if exported else Origin.RECOMPUTED,
        grade=_grade(held, row, outcome),
        reason=reason,
        margin_low_db=shown(worst.margin_low, row),
        margin_high_db=shown(worst.margin_high, row),
        value_low_db=shown(worst.value_low, row),
        value_high_db=shown(worst.value_high, row),
    )


def _grade(held: Held, row: int, outcome: Outcome) -> str | None:
    """Worst grade among the evaluated points; of a fail, the best among the failing ones."""
    seen = held.evaluation
    chosen = seen.fails[row] if outcome is Outcome.FAIL else seen.evaluated[row]
    codes = seen.limit.grade[chosen]
    if not codes.size:
        return None
    return chr(int(codes.min() if outcome is Outcome.FAIL else codes.max()))
