"""Clipped values where the curve itself reads further, and curves that are clipped too far.

A tester clips at the end of its range. A value given as "at least X" in a curve that has an exact
reading above X is no such end: its point is kept, known between no bounds.
"""

from collections.abc import Iterator, Mapping

import numpy as np

from sweepbook.judging import phrases
from sweepbook.judging.curves import F64, OWN_LOSSES, Curves, Flags
from sweepbook.judging.doubt_words import curve_of, path_of, shown
from sweepbook.judging.limit_line import where_held
from sweepbook.judging.working import Doubt, DoubtKind
from sweepbook.limits.model import LimitTable

READ = ("insertion_loss", "return_loss", "next", "fext", "propagation_delay")
"""Curves that a tester reads; a derived one is clipped at another value at each point."""
ROUNDING = 1e-6
"""Room for binary rounding, far below any printed digit."""


def inside_range(measured: Mapping[str, Curves]) -> tuple[dict[str, Curves], tuple[Doubt, ...]]:
    """Take the bounds from clipped points beyond which the same curve has an exact reading.

    Args:
        measured: curves of a record by parameter.

    Returns:
        The curves, and one doubt for each curve with such points.
    """
    curves = dict(measured)
    doubts: list[Doubt] = []
    for name in READ:
        one = measured.get(name)
        if one is None or not one.frequency_mhz.size or not one.clipped:
            continue
        above, below = _passed(one, upwards=True), _passed(one, upwards=False)
        if above is None and below is None:
            continue
        none = np.zeros(one.value.shape, dtype=np.bool_)
        above, below = (none if flags is None else flags for flags in (above, below))
        wrong = above | below
        low, high = np.where(wrong, -np.inf, one.low), np.where(wrong, np.inf, one.high)
        curves[name] = one.within(low, high)
        for flags, upwards in ((above, True), (below, False)):
            doubts.extend(_doubts(one, flags, upwards))
    return curves, tuple(doubts)


def unread(measured: Mapping[str, Curves], table: LimitTable | None) -> Iterator[Doubt]:
    """Yield every required curve without an exact reading, or with none in its upper half.

    NEXT of a short or screened link may well be out of range at low frequencies. Towards the last
    frequency the connectors of any link are in range.

    Args:
        measured: curves of a record by parameter.
        table: points outside the range of the limit are passed over; None for none.
    """
    for name in OWN_LOSSES:
        curves = measured.get(name)
        if curves is None or not _required(name, table):
            continue
        if curves.whole and not curves.clipped:
            continue  # exact throughout
        inside = where_held(curves, table)
        last = curves.ends_in(inside.stop - 1) if inside.stop > inside.start else None
        if last is not None and bool(_exact(*last).all()):
            continue
        curves = curves.between(inside)
        there = np.isfinite(curves.value)
        exact = there & _exact(curves.low, curves.high)
        for row in np.flatnonzero(there.any(axis=1)).tolist():
            axis = curves.frequency_mhz[there[row]]
            half = (axis[0] + axis[-1]) / 2.0
            if (exact[row] & (curves.frequency_mhz >= half)).any():
                continue
            where = f"at no point from {phrases.frequency(float(half))} on"
            if not exact[row].any():
                where = f"at none of its {axis.size} points"
            text = (
                f"{curve_of(curves.keys[row])} has an exact reading {where}, only clipped values, "
                "and no tester has so short a range"
            )
            yield Doubt(DoubtKind.CONTRADICTION, path_of(curves, row), text)


def _required(name: str, table: LimitTable | None) -> bool:
    """Whether a limit asks for curves of a parameter; FEXT is asked for by that of ACR-F."""
    if table is None:
        return True
    rules = (table.parameters.get(one) for one in (name, "acr_f" if name == "fext" else name))
    return any(rule is not None and rule.obligation == "required" for rule in rules)


def _exact(low: F64, high: F64) -> Flags:
    return np.isfinite(low) & np.isfinite(high)


def _passed(curves: Curves, *, upwards: bool) -> Flags | None:
    """bool[m, n]: "at least" points more than a last digit below an exact reading of the curve.

    "At most" points above one where it is not upwards. None for none.
    """
    boundless = curves.boundless.above if upwards else curves.boundless.below
    if boundless is None:
        return None
    value = curves.value if upwards else -curves.value
    ends = np.where(boundless, value, np.inf).min(axis=1)
    rows = np.flatnonzero(np.fmax.reduce(value, axis=1) > ends)
    if not rows.size:
        return None  # no reading is beyond where it is clipped
    low, value, high = curves.low[rows], value[rows], curves.high[rows]
    if not upwards:
        low, high = -high, -low
    clipped = np.isfinite(low) & np.isposinf(high)
    most = np.where(_exact(low, high), value, -np.inf).max(axis=1, keepdims=True)
    passed = clipped & (most > value + 2.0 * (value - low) + ROUNDING)
    if not passed.any():
        return None
    found = np.zeros(curves.value.shape, dtype=np.bool_)
    found[rows] = passed
    return found


def _doubts(curves: Curves, flags: Flags, upwards: bool) -> Iterator[Doubt]:
    unit = "ns" if curves.parameter == "propagation_delay" else "dB"
    exact = _exact(curves.low, curves.high)
    for row in np.flatnonzero(flags.any(axis=1)).tolist():
        ends = curves.value[row, flags[row]]
        read = curves.value[row, exact[row]]
        end, most = (ends.min(), read.max()) if upwards else (ends.max(), read.min())
        at = phrases.frequency(float(curves.frequency_mhz[exact[row]][read == most][0]))
        side = "least" if upwards else "most"
        text = (
            f"{curve_of(curves.keys[row])} reads {shown(most)} {unit} at {at}, and is clipped at "
            f"{shown(end)} {unit} (at {side}) or the like at {ends.size} other points: the range "
            "of the tester does not end there, and they are no readings"
        )
        yield Doubt(DoubtKind.CONTRADICTION, path_of(curves, row), text)
