"""From matrices of margins to one plain Margin a curve, with its outcome and the reason for it."""

import math

import numpy as np

from sweepbook.judging import phrases
from sweepbook.judging.assessment import Margin, Origin, Outcome
from sweepbook.judging.curves import F64, Flags
from sweepbook.judging.hold import Held

NOT_EVALUATED = "every point is for information only, so nothing was evaluated"

_FIGURES = (
    "worst_margin_db",
    "worst_margin_mhz",
    "limit_at_worst_margin_db",
    "worst_value_db",
    "worst_value_mhz",
    "limit_at_worst_value_db",
    "margin_low_db",
    "margin_high_db",
    "value_low_db",
    "value_high_db",
)


def margins(held: Held) -> tuple[Margin, ...]:
    """One Margin for each curve, in the order of the rows."""
    seen, worst = held.evaluation, held.worst
    # The smallest ends tell at once where no point can fail, and where none is open.
    fails = seen.fails if (worst.margin_high < 0.0).any() else None
    opened = seen.open if not (worst.margin_low >= 0.0).all() else None
    failing, undecided = _anywhere(held, fails), _anywhere(held, opened)
    grades = _grades(held, fails)
    exported = _exported(held)
    dim = _dim(held)
    figures = _figures(held)
    found = []
    for row, key in enumerate(held.curves.keys):
        outcome, reason = Outcome.FAIL, ""
        if not failing[row]:
            here = opened[row] if opened is not None and undecided[row] else None
            outcome, reason = _unfailing(held, row, dim[row], here)
        shown = figures[row] if worst.points[row] else (None,) * len(_FIGURES)
        found.append(
            Margin(
                parameter=key.parameter,
                obligation=held.obligation,
                end=key.end,
                pairs=key.pairs,
                outcome=outcome,
                points_evaluated=int(worst.points[row]),
                points_for_information=int(seen.for_information[row]),
                origin=Origin.AS_EXPORTED if exported[row] else Origin.RECOMPUTED,
                grade=grades[row],
                reason=reason,
                **dict(zip(_FIGURES, shown, strict=True)),
            )
        )
    return tuple(found)


def _anywhere(held: Held, flags: Flags | None) -> list[bool]:
    """For each curve, whether a flag is set at any of its points."""
    if flags is None:
        return [False] * len(held.curves.keys)
    found: list[bool] = np.any(flags, axis=1, keepdims=True)[:, 0].tolist()
    return found


def _unfailing(held: Held, row: int, dim: int | None, opened: Flags | None) -> tuple[Outcome, str]:
    """What a curve proves that fails nowhere: a pass only by all its points, with none lacking."""
    if held.curves.repeated[row]:
        return Outcome.UNDECIDED, "the source gives one frequency twice"
    if row in held.lacks:
        lacks = [phrases.lack(fact) for fact in held.lacks[row]]
        return Outcome.UNDECIDED, phrases.listed(lacks)
    if dim is not None:
        at = phrases.frequency(float(held.curves.frequency_mhz[dim]))
        grade = chr(int(held.evaluation.limit.grade[dim]))
        return Outcome.UNDECIDED, f"the limit is known too poorly (grade {grade}) from {at} on"
    if held.worst.points[row] == 0:
        if held.evaluation.for_information[row]:
            return Outcome.NOT_EVALUATED, NOT_EVALUATED
        return Outcome.UNDECIDED, "no point lies where the limit holds"
    if opened is not None:
        return Outcome.UNDECIDED, _why_open(held, row, opened)
    return Outcome.PASS, ""


def _why_open(held: Held, row: int, opened: Flags) -> str:
    """Why the point nearest to failing proves nothing."""
    seen = held.evaluation
    at = int(np.argmin(np.where(opened, seen.margin[row], np.inf)))
    margin, low = float(seen.margin[row, at]), float(seen.low[row, at])
    limit, least, most = (
        float(np.broadcast_to(line, seen.margin.shape)[row, at])
        for line in (seen.limit.value, seen.limit.low, seen.limit.high)
    )
    place = phrases.frequency(float(held.curves.frequency_mhz[at]))
    unit = held.rule.unit
    near = f"{phrases.distance(margin, limit, unit)} at {place}"
    bounds = (held.curves.low[row, at], held.curves.high[row, at])
    if not seen.binding[row, at] and seen.high[row, at] < 0.0:
        return f"{near}, where the source does not tell whether the point is for information only"
    if np.isinf(bounds).all():
        return f"{near}, and the figure there is no reading"
    if np.isinf(bounds).any():
        return f"{near}, and the reading is clipped there"
    if most > least and low + (most - least) >= 0.0:
        width = phrases.figure(most - least)
        return f"{near}, where the limit itself is known only within {width} {unit}"
    return f"{near}, nearer than the digits of the source can tell"


def finite(value: float) -> float | None:
    """The value, or None where it is infinite or no number: JSON has neither."""
    return value if math.isfinite(value) else None


def _figures(held: Held) -> list[tuple[float | None, ...]]:
    """The ten figures of each curve, in the order of `_FIGURES`."""
    seen, worst, axis = held.evaluation, held.worst, held.curves.frequency_mhz
    rows = np.arange(len(held.curves.keys))
    if not axis.size:
        return [(None,) * len(_FIGURES)] * rows.size
    limit = np.broadcast_to(seen.limit.value, seen.margin.shape)
    one, two = worst.margin_at, worst.value_at
    columns: list[F64] = [
        seen.margin[rows, one],
        axis[one],
        limit[rows, one],
        held.curves.value[rows, two],
        axis[two],
        limit[rows, two],
        worst.margin_low,
        worst.margin_high,
        worst.value_low,
        worst.value_high,
    ]
    table = np.stack(columns, axis=1)
    if np.isfinite(table).all():
        return [tuple(row) for row in table.tolist()]
    return [tuple(finite(value) for value in row) for row in table.tolist()]


def _grades(held: Held, fails: Flags | None) -> list[str | None]:
    """Worst grade among the evaluated points; of a fail, the best among the failing ones."""
    codes, seen = held.evaluation.limit.grade, held.evaluation.evaluated
    chosen = np.where(seen, codes, 0).max(axis=1, initial=0)
    if fails is not None:
        best = np.where(fails, codes, 255).min(axis=1, initial=255)
        chosen = np.where(best < 255, best, chosen)
    return [chr(code) if code else None for code in chosen.tolist()]


def _exported(held: Held) -> list[bool]:
    """Whether any evaluated point of a curve stands as the source exported it."""
    if held.exported is None:
        return [False] * len(held.curves.keys)
    used = (held.exported & held.evaluation.evaluated).any(axis=1)
    idle = held.worst.points == 0
    chosen: list[bool] = np.where(idle, held.exported.any(axis=1), used).tolist()
    return chosen


def _dim(held: Held) -> list[int | None]:
    """First column of each curve where there is a limit that is known too poorly to be used."""
    limit = held.evaluation.limit
    doubtful = ~limit.usable & (limit.grade > 0)
    if not doubtful.any():
        return [None] * len(held.curves.keys)
    there = doubtful & ~np.isnan(held.curves.value)
    return [int(np.argmax(row)) if row.any() else None for row in there]
