"""The measured curves as an exported derived one would have them, where it is worse than they are.

A power sum, or a curve less an insertion loss, that was exported worse than the curves beside it
make it was made of others: one of these was changed since, or is of another pair, end or test. What
the exported one leaves for each of them, all others taken as they stand, follows by the definitions
of the derived curves (those of `derive`, solved for one member):

    NEXT_ik = -10 lg (10^(-PSNEXT_k / 10) - sum over the other j of 10^(-NEXT_jk / 10))
    NEXT_ik = ACR-N_ik + IL_k    IL_k = NEXT_ik - ACR-N_ik    IL_k = FEXT_ik - ACR-F_ik

with intervals in place of values, so that nothing follows from what the digits leave open.
"""

from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from sweepbook.judging.bands import Given
from sweepbook.judging.compose import power_sums
from sweepbook.judging.curves import Curves, Flags, Key, row_of_pair, shared
from sweepbook.judging.derive import F64, losses, powers
from sweepbook.judging.directions import (
    Way,
    as_given,
    reciprocal_fext,
    reciprocal_next,
    sums,
)
from sweepbook.judging.settle import TOLERANCE
from sweepbook.judging.working import Disagreement

SUMS: Mapping[str, tuple[str, Way]] = {
    "psnext": ("next", reciprocal_next),
    "psacr_f": ("acr_f", as_given),
}
"""Power sums with their members, and which of these is which direction."""

RATIOS: Mapping[str, tuple[str, Way | None]] = {
    "acr_n": ("next", reciprocal_next),
    "psacr_n": ("psnext", None),
    "acr_f": ("fext", reciprocal_fext),
    "psacr_f": ("psfext", None),
}
"""Curves less an insertion loss, with what it is taken off."""


def implied(
    fact: Disagreement, measured: Mapping[str, Curves], judged: Mapping[str, Curves]
) -> Iterator[Curves]:
    """What an exported derived curve leaves for the curves that it is made of.

    Args:
        fact: the exported curve, which these do not yield.
        measured: the curves as exported, by parameter.
        judged: those that are judged, by parameter.

    Yields:
        Curves of one parameter each, with points only where the exported one is worse than the
        others make it; nothing where another way of making it explains the difference.
    """
    name, exported = fact.key.parameter, measured.get(fact.key.parameter)
    if exported is None or fact.key not in exported.keys or fact.cause or fact.of_both:
        return
    one = exported.take([exported.keys.index(fact.key)], [fact.key])
    loss = measured.get("insertion_loss")
    if name in SUMS:
        parameter, way = SUMS[name]
        if (members := judged.get(parameter)) is not None:
            yield from _of_members(one, members, way)
    if name in RATIOS and loss is not None:
        parameter, turned = RATIOS[name]
        if (first := judged.get(parameter)) is not None:
            yield from _of_difference(one, first, turned, loss)


def _of_members(one: Curves, members: Curves, way: Way) -> Iterator[Curves]:
    """What a power sum leaves for each of its members; see above."""
    (key,) = one.keys
    keys, index = sums(key.parameter, members.keys, way)
    if key not in keys:
        return
    places = index[keys.index(key)]
    whole, parts = shared(one, members)
    made = power_sums(key.parameter, parts, way)
    worse = _worse(whole, made.take([keys.index(key)], [key]))
    if not worse.any():
        return
    left = [
        losses(powers(of_sum) - (sum_of - of_each))
        for of_sum, of_each in (
            (whole.value, powers(parts.value[places])),
            (whole.low, powers(parts.high[places])),
            (whole.high, powers(parts.low[places])),
        )
        for sum_of in (of_each.sum(axis=0),)
    ]
    yield _curves([members.keys[row] for row in places], whole.frequency_mhz, left, worse)


def _of_difference(one: Curves, first: Curves, way: Way | None, loss: Curves) -> Iterator[Curves]:
    """What a curve less an insertion loss leaves for either of the two; see above."""
    (key,) = one.keys
    if way is None:
        row = next((at for at, of in enumerate(first.keys) if of[1:] == key[1:]), None)
    else:
        row = way(first.keys).get((str(key.end), key.pairs[0], key.pairs[-1]))
    other = row_of_pair(loss.keys, key.end, key.pairs[-1])
    if row is None or other is None:
        return
    made, whole = shared(first.take([row], [first.keys[row]]), one)
    made, taken = shared(made, loss.take([other], [loss.keys[other]]))
    whole = whole.on(made.frequency_mhz)
    with np.errstate(all="ignore"):
        worse = made.low - taken.high - whole.high > TOLERANCE
        if not worse.any():
            return
        upper = whole.value + taken.value, whole.low + taken.low, whole.high + taken.high
        lower = made.value - whole.value, made.low - whole.high, made.high - whole.low
    yield _curves(made.keys, made.frequency_mhz, upper, worse)
    yield _curves(taken.keys, made.frequency_mhz, lower, worse)


def _worse(exported: Curves, made: Curves) -> Flags:
    """bool[1, n]: where an exported curve is worse than the one that is made, digits apart."""
    with np.errstate(invalid="ignore"):
        worse: Flags = made.low - exported.high > TOLERANCE
    return worse


def _curves(keys: Sequence[Key], axis: F64, ends: Sequence[F64], worse: Flags) -> Curves:
    """Curves of value, low and high, at some points only."""
    value, low, high = (np.where(worse, of, np.nan) for of in ends)
    without = ((),) * len(keys)
    doubtful = np.zeros(len(keys), dtype=np.bool_)
    return Curves(keys[0].parameter, tuple(keys), axis, value, Given(low, high), without, doubtful)
