"""What a table changes of the one that it is based on, in words."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from sweepbook.limits.formulas import Floats
from sweepbook.limits.lines import unrounded_line
from sweepbook.limits.model import LimitTable, ParameterLimit

SMALLEST = 0.0005
"""Differences below it, in the parameter's unit, are none."""


@dataclass(frozen=True, slots=True)
class Change:
    """What is changed of one parameter."""

    parameter: str
    text: str


def changes(base: LimitTable, table: LimitTable) -> tuple[Change, ...]:
    """What a table changes of another one, parameter by parameter, in the order of the table.

    Only the limits are compared, and what is asked of each; not sources or grades.
    """
    words = [*table.parameters, *(word for word in base.parameters if word not in table.parameters)]
    return tuple(Change(word, text) for word in words for text in _of(base, table, word))


@lru_cache(maxsize=256)
def asks_no_less(table: LimitTable, base: LimitTable) -> bool:
    """Whether whatever passes a table passes another one too.

    So it is where each parameter that the other one requires is required as widely, over its whole
    range, with no limit looser anywhere; and where wire map and steps are the same.
    """
    if (table.wire_map, table.steps) != (base.wire_map, base.steps):
        return False
    required = [one for one in base.parameters.values() if one.obligation == "required"]
    return all(_as_strict(table, base, one) for one in required)


def _as_strict(table: LimitTable, base: LimitTable, before: ParameterLimit) -> bool:
    after = table.parameters.get(before.parameter)
    if after is None or after.obligation != "required":
        return False
    same = ("sense", "unit", "decides", "relaxed_when", "rounding")
    if any(getattr(after, name) != getattr(before, name) for name in same):
        return False
    if after.required_when not in (None, before.required_when):
        return False
    if after.allowance_percent > before.allowance_percent:
        return False
    if before.f_min_mhz is not None and before.f_max_mhz is not None:
        if after.f_min_mhz is None or after.f_max_mhz is None:
            return False
        if not (after.f_min_mhz <= before.f_min_mhz and after.f_max_mhz >= before.f_max_mhz):
            return False
    tighter = _tighter(base, table, before)[1]
    if not tighter.size:  # a limit that hangs on another figure, such as percent or ohm
        return after.segments == before.segments
    return bool((tighter > -SMALLEST).all())


def _of(base: LimitTable, table: LimitTable, word: str) -> Iterator[str]:
    before, after = base.parameters.get(word), table.parameters.get(word)
    if after is None:
        yield "no limit any more"
    elif before is None:
        yield f"a limit that {base.path} does not set"
    else:
        if before.obligation != after.obligation:
            yield f"{after.obligation} instead of {before.obligation}{_doubt(after)}"
        if (before.sense, before.unit) != (after.sense, after.unit):
            yield f"{after.sense} in {after.unit} instead of {before.sense} in {before.unit}"
        elif (before.f_min_mhz, before.f_max_mhz) != (after.f_min_mhz, after.f_max_mhz):
            yield f"{_range(after)} instead of {_range(before)}"
            yield from _moved(base, table, after)
        else:
            yield from _moved(base, table, after)


def _doubt(limit: ParameterLimit) -> str:
    """That nothing passes by a limit that is required now, or ""."""
    poor = [x for x in limit.segments if x.grade >= "C" and x.interval is None]
    if limit.obligation != "required" or not poor:
        return ""
    return (
        f", but its limit is known to grade {limit.grade} only, so that nothing passes by it: give "
        "the limit as your contract states it in $.parameters"
    )


def _range(limit: ParameterLimit) -> str:
    if limit.f_min_mhz is None or limit.f_max_mhz is None:
        return "without frequency"
    return f"{limit.f_min_mhz:g} to {limit.f_max_mhz:g} MHz"


def _moved(base: LimitTable, table: LimitTable, limit: ParameterLimit) -> Iterator[str]:
    """By how much the limit is tighter or looser, where both have one."""
    unit = limit.unit
    mhz, tighter = _tighter(base, table, limit)
    if not tighter.size:
        return
    least, most = float(tighter.min()), float(tighter.max())
    if max(abs(least), abs(most)) < SMALLEST:
        return
    if most - least < SMALLEST:
        yield _by(most, unit)
        return
    ends = ((int(np.argmin(tighter)), least), (int(np.argmax(tighter)), most))
    yield ", ".join(f"{_by(by, unit)} at {mhz[at]:.4g} MHz" for at, by in ends)


def _tighter(base: LimitTable, table: LimitTable, limit: ParameterLimit) -> tuple[Floats, Floats]:
    """Frequencies where both tables have a limit, and by how much the second is tighter there.

    Args:
        base: has the parameter.
        table: has it too.
        limit: of either, with the range to look at.

    Returns:
        float64[n] in MHz, and float64[n] in the parameter's unit.
    """
    word = limit.parameter
    low, high = limit.f_min_mhz or 1.0, limit.f_max_mhz or 1.0
    edges = [s.from_mhz for x in (base, table) for s in x.parameters[word].segments if s.from_mhz]
    mhz: Floats = np.unique(np.append(np.geomspace(low, high, 2000), [low, high, *edges]))
    before, after = (unrounded_line(x, word, mhz).value for x in (base, table))
    tighter = after - before if limit.sense == "min" else before - after
    there = ~np.isnan(tighter)
    return mhz[there], tighter[there]


def _by(amount: float, unit: str) -> str:
    if abs(amount) < SMALLEST:
        return "the same"
    return f"{abs(amount):.3g} {unit} {'tighter' if amount > 0.0 else 'looser'}"
