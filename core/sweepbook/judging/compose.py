"""Derived curves out of raw ones: which curve goes with which, ends and pairs.

A pair k is disturbed by the other pairs of its cable. NEXT is reciprocal at an end; far-end
crosstalk is reciprocal between the ends: FEXT(i to k, received far) = FEXT(k to i, received near),
so twelve ordered combinations from one end give the twelve of the other.
"""

from collections.abc import Mapping, Sequence
from typing import Literal

import numpy as np

from sweepbook.judging.bands import Band, Given, Less, Summed
from sweepbook.judging.curves import (
    ENDS,
    F64,
    OTHER_END,
    PAIRS,
    Curves,
    Flags,
    Key,
    joined,
    row_of_pair,
    shared,
)
from sweepbook.judging.derive import losses, powers, total

Rows = Mapping[tuple[str, str, str], int]
"""Row of a crosstalk matrix by (end, disturbing pair, disturbed pair)."""


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
    made["psnext"] = power_sums("psnext", near, reciprocal_next(near)) if near else None
    made["psfext"] = power_sums("psfext", far, reciprocal_fext(far)) if far else None
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
        sums = power_sums("psacr_f", exported, as_given(exported))
        sums = _without(sums, less_loss("psacr_f", measured.get("psfext"), loss))
        made["psacr_f"] = completed(made.get("psacr_f"), sums)
    return {name: curves for name, curves in made.items() if curves and curves.keys}


def skew(delays: Curves) -> Curves | None:
    """Skew of each pair over frequency: its delay less the least of all pairs, in ns.

    With d_i in [l_i, h_i]: skew_i lies in [max(0, l_i - least h_j), max(0, h_i - least l_j)],
    j over the other pairs. None unless all pairs have a delay.
    """
    rows = [row_of_pair(delays, None, pair) for pair in PAIRS]
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
    return _derived(keys, own.frequency_mhz, value, Given(low, high), doubtful)


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


def as_given(crosstalk: Curves) -> Rows:
    """Rows by direction, as they stand."""
    return {
        (key.end, key.pairs[0], key.pairs[1]): row
        for row, key in enumerate(crosstalk.keys)
        if key.end in ENDS and len(key.pairs) == 2
    }


def reciprocal_next(crosstalk: Curves) -> Rows:
    """Rows by direction; where only one direction was measured it stands for both."""
    given = as_given(crosstalk)
    turned = {(end, k, i): row for (end, i, k), row in given.items()}
    return {**turned, **given}


def reciprocal_fext(crosstalk: Curves) -> Rows:
    """Rows by direction and receiving end; what was measured there goes before reciprocity."""
    given = as_given(crosstalk)
    turned = {(OTHER_END[end], k, i): row for (end, i, k), row in given.items()}
    return {**turned, **given}


def acr_n(crosstalk: Curves, loss: Curves) -> Curves | None:
    """ACR-N_ik = NEXT_ik - IL_k of every direction at both ends; None where no pair has an IL."""
    return _ratio("acr_n", crosstalk, reciprocal_next(crosstalk), loss, 1)


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
    rows = reciprocal_fext(crosstalk)
    return _ratio("acr_f", crosstalk, rows, loss, 1 if by == "disturbed" else 0)


def power_sums(parameter: str, crosstalk: Curves, rows: Rows) -> Curves:
    """Power sum for each disturbed pair at each end.

    A sum with a combination missing would come out too good: it is not made.

    Args:
        parameter: name of the result.
        crosstalk: NEXT, FEXT or ACR-F, m x n.
        rows: which row is which direction.
    """
    cable = [*PAIRS, *sorted({pair for _, i, k in rows for pair in (i, k)} - set(PAIRS))]
    keys: list[Key] = []
    members: list[list[int]] = []
    for end in ENDS:
        for disturbed in cable:
            wanted = [(end, i, disturbed) for i in cable if i != disturbed]
            if all(direction in rows for direction in wanted):
                keys.append(Key(parameter, end, (disturbed,)))
                members.append([rows[direction] for direction in wanted])
    index = np.array(members, dtype=np.intp).reshape(len(keys), len(cable) - 1)
    value = losses(total(powers(crosstalk.value), index))
    doubtful: Flags = np.any(crosstalk.repeated[index], axis=1)
    return _derived(keys, crosstalk.frequency_mhz, value, Summed(crosstalk, index), doubtful)


def _ratio(
    parameter: str, crosstalk: Curves, rows: Rows, loss: Curves, whose: int
) -> Curves | None:
    """Crosstalk less the insertion loss of pair number `whose` of (disturbing, disturbed)."""
    keys = [Key(parameter, end, (i, k)) for end, i, k in rows]
    return less_loss(parameter, crosstalk.take(list(rows.values()), keys), loss, whose)


def less_loss(
    parameter: str, first: Curves | None, loss: Curves | None, whose: int = -1
) -> Curves | None:
    """Subtract from each curve the insertion loss of one of its pairs, at shared points.

    Args:
        parameter: name of the result.
        first: crosstalk or a power sum of it; None for none.
        loss: insertion loss; None for none.
        whose: which pair's, by its position in the curve's pairs.

    Returns:
        The curves that have a point, or None without any.
    """
    if first is None or loss is None:
        return None
    rows = [row_of_pair(loss, key.end, key.pairs[whose]) for key in first.keys]
    kept = [place for place, row in enumerate(rows) if row is not None]
    chosen = [row for row in rows if row is not None]
    keys = [Key(parameter, first.keys[place].end, first.keys[place].pairs) for place in kept]
    if not keys:
        return None
    one, two = shared(first, loss)
    mine, others = np.array(kept, dtype=np.intp), np.array(chosen, dtype=np.intp)
    with np.errstate(all="ignore"):
        value = one.value[mine] - two.value[others]
    doubtful = one.repeated[mine] | two.repeated[others]
    band = Less(one, mine, two, others)
    found = _derived(keys, one.frequency_mhz, value, band, doubtful).with_points()
    return found if found.keys else None


def _derived(keys: Sequence[Key], axis: F64, value: F64, band: Band, repeated: Flags) -> Curves:
    name = keys[0].parameter if keys else ""
    return Curves(name, tuple(keys), axis, value, band, ((),) * len(keys), repeated)
