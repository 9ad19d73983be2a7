"""From matrices of margins to one plain Margin a curve, with its outcome and the reason for it."""

import math
from collections.abc import Callable, Sequence
from functools import partial
from itertools import repeat
from typing import Any

import numpy as np

from sweepbook.judging import phrases
from sweepbook.judging.assessment import Margin, Origin, Outcome
from sweepbook.judging.hold import Held
from sweepbook.judging.worst import Figures

NOT_EVALUATED = "every point is for information only, so nothing was evaluated"

_NO_FIGURES = (None,) * len(Figures._fields)

_made: Callable[[tuple[Any, ...]], Margin] = partial(tuple.__new__, Margin)
"""A Margin of all its members, without a call of its own: a record has a hundred."""


def margins(held: Held) -> tuple[Margin, ...]:
    """One Margin for each curve, in the order of the rows."""
    if not held.curves.keys:
        return ()
    parameters, ends, pairs = zip(*held.curves.keys, strict=True)
    outcomes, reasons = _outcomes(held)
    points = held.worst.points.tolist()
    figures = zip(*_shown(held, points), strict=True)
    margin, margin_mhz, margin_limit, value, value_mhz, value_limit, *between = figures
    columns = (
        parameters,
        repeat(held.obligation),
        ends,
        pairs,
        outcomes,
        margin,
        margin_mhz,
        margin_limit,
        value,
        value_mhz,
        value_limit,
        points,
        held.evaluation.for_information.tolist(),
        _origins(held),
        _grades(held),
        reasons,
        *between,
    )
    return tuple(map(_made, zip(*columns, strict=False)))


def _shown(held: Held, points: Sequence[int]) -> Sequence[Sequence[float | None]]:
    """The figures of each curve: none without a point, none where one is infinite."""
    worst = held.worst
    if all(worst.finite) and all(points):
        return worst.figures
    return [
        tuple(map(finite, worst.figures[row])) if count else _NO_FIGURES
        for row, count in enumerate(points)
    ]


def _outcomes(held: Held) -> tuple[list[Outcome], list[str]]:
    """What each curve proves, and why it proves nothing; "" where it does."""
    worst, count = held.worst, len(held.curves.keys)
    clear = not (held.lacks or held.evaluation.limit.dim is not None or held.curves.repeated.any())
    passing = (worst.margin_low >= 0.0) & (worst.points > 0)
    if clear and passing.all() and not any(held.failing):
        return [Outcome.PASS] * count, [""] * count
    outcomes, reasons = [], []
    undecided, dim = (~(worst.margin_low >= 0.0)).tolist(), _dim(held)
    for row, fails in enumerate(held.failing):
        outcome, reason = Outcome.FAIL, ""
        if not fails:
            outcome, reason = _unfailing(held, row, dim[row], undecided[row])
        outcomes.append(outcome)
        reasons.append(reason)
    return outcomes, reasons


def _unfailing(held: Held, row: int, dim: int | None, undecided: bool) -> tuple[Outcome, str]:
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
    if undecided:
        return Outcome.UNDECIDED, _why_open(held, row)
    return Outcome.PASS, ""


def _why_open(held: Held, row: int) -> str:
    """Why the point nearest to failing proves nothing."""
    seen = held.evaluation
    at = _open_at(held, row)
    here = np.array([row]), np.array([at])
    margin = float(seen.margin[row, at])
    low, high = (float(end[0]) for end in seen.ends_at(*here))
    lines = (seen.limit.value, seen.limit.low, seen.limit.high)
    limit, least, most = (float(seen.limit.at(one, *here)[0]) for one in lines)
    place = phrases.frequency(float(held.curves.frequency_mhz[at]))
    unit = held.rule.unit
    near = f"{phrases.distance(margin, limit, unit)} at {place}"
    bounds = np.array([end[0] for end in held.curves.ends_at(*here)])
    if high < 0.0 and not seen.binding[row, at]:
        return f"{near}, where the source does not tell whether the point is for information only"
    if np.isinf(bounds).all():
        return f"{near}, and the figure there is no reading"
    if np.isinf(bounds).any():
        return f"{near}, and the reading is clipped there"
    if most > least and low + (most - least) >= 0.0:
        width = phrases.figure(most - least)
        return f"{near}, where the limit itself is known only within {width} {unit}"
    return f"{near}, nearer than the digits of the source can tell"


def _open_at(held: Held, row: int) -> int:
    """Column of the smallest margin of a curve that proves no pass; there is one."""
    seen, at = held.evaluation, int(held.worst.margin_at[row])
    first = seen.ends_at(np.array([row]), np.array([at])).low[0]
    if not first >= 0.0:
        return at
    return int(np.argmin(np.where(seen.open[row], seen.margin[row], np.inf)))


def finite(value: float) -> float | None:
    """The value, or None where it is infinite or no number: JSON has neither."""
    return value if math.isfinite(value) else None


def _grades(held: Held) -> list[str | None]:
    """Worst grade among the evaluated points; of a fail, the best among the failing ones."""
    seen = held.evaluation
    if seen.limit.one_grade is not None:
        grade = chr(seen.limit.one_grade)
        return [grade if count else None for count in held.worst.points.tolist()]
    codes = seen.limit.grade
    chosen = np.where(seen.evaluated, codes, 0).max(axis=1, initial=0)
    if any(held.failing):
        best = np.where(seen.fails, codes, 255).min(axis=1, initial=255)
        chosen = np.where(best < 255, best, chosen)
    return [chr(code) if code else None for code in chosen.tolist()]


def _origins(held: Held) -> list[Origin]:
    """Where each curve comes from: exported where any evaluated point stands as exported."""
    if held.exported is None:
        return [Origin.RECOMPUTED] * len(held.curves.keys)
    used = (held.exported & held.evaluation.evaluated).any(axis=1)
    idle = held.worst.points == 0
    chosen: list[bool] = np.where(idle, held.exported.any(axis=1), used).tolist()
    return [Origin.AS_EXPORTED if one else Origin.RECOMPUTED for one in chosen]


def _dim(held: Held) -> list[int | None]:
    """First column of each curve where there is a limit that is known too poorly to be used."""
    doubtful = held.evaluation.limit.dim
    if doubtful is None:
        return [None] * len(held.curves.keys)
    there = doubtful & ~held.curves.holes
    return [int(np.argmax(row)) if row.any() else None for row in there]
