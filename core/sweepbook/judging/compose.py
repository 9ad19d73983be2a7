"""Derived curves out of raw ones; which curve goes with which is told by `directions`."""

from collections.abc import Callable, Mapping
from functools import partial
from typing import Literal

import numpy as np

from sweepbook.judging.bands import Band, Given, Less, Summed
from sweepbook.judging.curves import PAIRS, Curves, Flags, Key, joined, row_of_pair, shared
from sweepbook.judging.derive import F64, Places, losses, powers, total
from sweepbook.judging.directions import (
    Differences,
    Keys,
    Way,
    as_given,
    differences,
    reciprocal_fext,
    reciprocal_next,
    sums,
)


def recompute(measured: Mapping[str, Curves]) -> dict[str, Curves]:
    """Every derived parameter that the raw curves allow.

    Args:
        measured: curves by parameter, as the record has them.

    Returns:
        Curves by derived parameter. A curve whose raw curves are not all there is left out; power
        sums at the far end are made from exported ACR-F where there is no raw FEXT for them.
    """
    made: dict[str, Curves | None] = {}
    loss, near, far = (measured.get(name) for name in ("insertion_loss", "next", "fext"))
    made["psnext"] = power_sums("psnext", near, reciprocal_next) if near else None
    made["psfext"] = power_sums("psfext", far, reciprocal_fext) if far else None
    if loss:
        made["acr_n"] = acr_n(near, loss) if near else None
        made["psacr_n"] = less_loss("psacr_n", made["psnext"], loss)
        made["acr_f"] = acr_f(far, loss) if far else None
        made["psacr_f"] = less_loss("psacr_f", made["psfext"], loss)
        made["eltctl"] = less_loss("eltctl", measured.get("tctl"), loss)
    delays = measured.get("propagation_delay")
    made["delay_skew"] = skew(delays) if delays else None
    exported = measured.get("acr_f")
    if exported:
        others = power_sums("psacr_f", exported, as_given)
        others = _without(others, less_loss("psacr_f", measured.get("psfext"), loss))
        made["psacr_f"] = completed(made.get("psacr_f"), others)
    return {name: curves for name, curves in made.items() if curves and curves.keys}


def skew(delays: Curves) -> Curves | None:
    """Skew of each pair over frequency: its delay less the least of all pairs, in ns.

    With d_i in [l_i, h_i]: skew_i lies in [max(0, l_i - least h_j), max(0, h_i - least l_j)],
    j over the other pairs. None unless all pairs have a delay.
    """
    rows = [row_of_pair(delays.keys, None, pair) for pair in PAIRS]
    chosen = [row for row in rows if row is not None]
    if len(chosen) < len(PAIRS):
        return None
    keys = [Key("delay_skew", None, (pair,)) for pair in PAIRS]
    own = delays.take(chosen, keys)
    others = [[other for other in range(len(PAIRS)) if other != row] for row in range(len(PAIRS))]
    low = np.maximum(own.low - own.high[others].min(axis=1), 0.0)
    high = np.maximum(own.high - own.low[others].min(axis=1), 0.0)
    value = own.value - own.value.min(axis=0)
    doubtful = np.full(len(PAIRS), own.repeated.any())
    return _derived(tuple(keys), own.frequency_mhz, value, Given(low, high), doubtful)


def _without(curves: Curves, others: Curves | None) -> Curves:
    """Those curves whose key is in none of the others."""
    taken = set(others.keys) if others is not None else set()
    rows = [row for row, key in enumerate(curves.keys) if key not in taken]
    return curves.take(rows, [curves.keys[row] for row in rows])


def completed(first: Curves | None, second: Curves) -> Curves:
    """`first` with those curves of `second` that it lacks."""
    if first is None:
        return second
    rows = [row for row, key in enumerate(second.keys) if key not in first.keys]
    if not rows:
        return first
    rest = second.take(rows, [second.keys[row] for row in rows])
    one, two = joined(first, rest)
    return Curves(
        one.parameter,
        one.keys + two.keys,
        one.frequency_mhz,
        np.vstack((one.value, two.value)),
        Given(np.vstack((one.low, two.low)), np.vstack((one.high, two.high))),
        one.sweeps + two.sweeps,
        np.concatenate((one.repeated, two.repeated)),
    )


def acr_n(crosstalk: Curves, loss: Curves) -> Curves | None:
    """ACR-N_ik = NEXT_ik - IL_k of every direction at both ends; None where no pair has an IL."""
    made = differences("acr_n", crosstalk.keys, reciprocal_next, loss.keys, 1)
    return _less(crosstalk, loss, made)


def acr_f(
    crosstalk: Curves, loss: Curves, by: Literal["disturbed", "disturbing"] = "disturbed"
) -> Curves | None:
    """ACR-F_ik = FEXT_ik - IL of every direction at both ends.

    Args:
        crosstalk: FEXT.
        loss: insertion loss.
        by: whose insertion loss is taken; "disturbed" is the standards' and the judged one.

    Returns:
        The curves, or None where no pair has an insertion loss.
    """
    whose = 1 if by == "disturbed" else 0
    made = differences("acr_f", crosstalk.keys, reciprocal_fext, loss.keys, whose)
    return _less(crosstalk, loss, made)


def power_sums(parameter: str, crosstalk: Curves, way: Way) -> Curves:
    """Power sum for each disturbed pair at each end of which no combination is missing.

    Args:
        parameter: name of the result.
        crosstalk: NEXT, FEXT or ACR-F, m x n.
        way: which row is which direction.
    """
    keys, index = sums(parameter, crosstalk.keys, way)
    doubtful: Flags = np.any(crosstalk.repeated[index], axis=1)
    value = partial(_summed, crosstalk, index)
    return _derived(keys, crosstalk.frequency_mhz, value, Summed(crosstalk, index), doubtful)


def _summed(members: Curves, index: Places) -> F64:
    return losses(total(powers(members.value), index))


def less_loss(parameter: str, first: Curves | None, loss: Curves | None) -> Curves | None:
    """Subtract from each curve the insertion loss of its last pair, at shared points.

    Args:
        parameter: name of the result.
        first: crosstalk or a power sum of it; None for none.
        loss: insertion loss; None for none.

    Returns:
        The curves that have a point, or None without any.
    """
    if first is None or loss is None:
        return None
    return _less(first, loss, differences(parameter, first.keys, None, loss.keys, -1))


def _less(first: Curves, loss: Curves, made: Differences) -> Curves | None:
    keys, rows, others = made
    if not keys:
        return None
    one, two = shared(first, loss)
    doubtful = one.repeated[rows] | two.repeated[others]
    value = partial(_difference, one, rows, two, others)
    found = _derived(keys, one.frequency_mhz, value, Less(one, rows, two, others), doubtful)
    if not (one.frequency_mhz.size and one.whole and two.whole):
        found = found.with_points()
    return found if found.keys else None


def _difference(first: Curves, rows: Places, second: Curves, others: Places) -> F64:
    value = first.value[rows]
    with np.errstate(all="ignore"):
        value -= second.value[others]
    return value


def _derived(
    keys: Keys, axis: F64, value: F64 | Callable[[], F64], band: Band, repeated: Flags
) -> Curves:
    name = keys[0].parameter if keys else ""
    return Curves(name, keys, axis, value, band, ((),) * len(keys), repeated)
