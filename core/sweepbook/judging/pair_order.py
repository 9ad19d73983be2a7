"""Which of two pairs disturbs, by ACR-F of both ends.

FEXT from i to k at one end is that from k to i at the other (reciprocity of a passive network, any
textbook on two-ports), and ACR-F is FEXT less the insertion loss of the disturbed pair, so that
ACR-F_near(i, k) - ACR-F_far(k, i) = IL_i - IL_k. With the pairs named in the other order, or with
the loss of the disturbing pair taken off, it is IL_k - IL_i.
"""

from collections.abc import Mapping, Sequence
from itertools import chain
from typing import NamedTuple

import numpy as np

from sweepbook.judging.assessment import (
    Assessment,
    Margin,
    Outcome,
    PairOrder,
    Recomputed,
    ScalarMargin,
)
from sweepbook.judging.curves import F64, Curves, row_of_pair, shared
from sweepbook.judging.directions import as_given
from sweepbook.judging.doubt_words import path_of
from sweepbook.judging.limit_line import where_held
from sweepbook.judging.physics import Bounds
from sweepbook.judging.working import Doubt, DoubtKind
from sweepbook.limits.model import LimitTable

POINTS = 30
"""Points of a combination with which it has a say."""
COMBINATIONS = 3
"""Combinations that have to say the same, where the first pair loses more and where it loses less.

What is amiss with one unit or with one pair moves both alike, and the order of pairs does not.
"""
SUMS = "psacr_f"
"""What is made of ACR-F and is of other curves where its pairs stand in the other order."""


class Fit(NamedTuple):
    """How far two curves of a combination are from one FEXT, float64[n] each in dB.

    Attributes:
        as_named: with the loss of the second pair added, which is the disturbed one.
        other: with that of the first pair.
    """

    as_named: F64
    other: F64


def fit(here: F64, there: F64, first: F64, second: F64) -> Fit:
    """How far ACR-F of the two ends is from one FEXT, by which pair's loss is added.

    Args:
        here: float64[n], dB, ACR-F of two pairs at one end.
        there: float64[n], dB, of the same in the other order at the other end.
        first: float64[n], dB, insertion loss of the pair named first here.
        second: float64[n], dB, of the other.
    """
    off, by = here - there, first - second
    return Fit(np.abs(off - by), np.abs(off + by))


class Told(NamedTuple):
    """What ACR-F of both ends says of the order of its pairs.

    Attributes:
        shown: which order it goes with.
        doubts: one where that is clearly the other one.
    """

    shown: PairOrder
    doubts: tuple[Doubt, ...] = ()


def order_of(measured: Mapping[str, Curves], bounds: Bounds, table: LimitTable | None) -> Told:
    """Which order of its pairs exported ACR-F goes with, by that of both ends.

    Power sums of curves in the other order go over the wrong ones. Where FEXT was exported ACR-F is
    made from that, and nothing rests on the exported one.

    Args:
        measured: curves of the record as exported.
        bounds: how far apart the losses of two pairs have to be, up to which FEXT it is asked, and
            how many times better one order has to fit.
        table: points outside the range of a limit are passed over; None for none.
    """
    ratio, loss = measured.get("acr_f"), measured.get("insertion_loss")
    if ratio is None or "fext" in measured:
        return Told(PairOrder.NOT_ASKED)
    if loss is None:
        return Told(PairOrder.NOT_SHOWN)
    ratio, loss = shared(*(one.between(where_held(one, table)) for one in (ratio, loss)))
    kinds = _fits(ratio, loss, bounds)
    if all(_as_named(fits, bounds) for fits in kinds):
        return Told(PairOrder.AS_NAMED)
    if not all(_as_named([Fit(*one[::-1]) for one in fits], bounds) for fits in kinds):
        return Told(PairOrder.NOT_SHOWN)
    far, near = (f"{_median(fits):.2f}" for fits in zip(*chain(*kinds), strict=True))
    text = (
        f"ACR-F of the two ends gives one FEXT, to {near} dB, with the insertion loss of the first "
        f"pair added, and only to {far} dB with that of the second, the disturbed one: the pairs "
        "stand in the other order, or the loss of the disturbing pair was taken off"
    )
    doubt = Doubt(DoubtKind.ORDER, path_of(ratio, 0), text, ((SUMS, ()),))
    return Told(PairOrder.OTHER, (doubt,))


def hangs_on_order(assessment: Assessment) -> bool:
    """Whether the verdict would not be proved if its ACR-F were of the other order of its pairs.

    A pass would not; a fail would, save one by power sums of ACR-F alone: each curve of ACR-F is
    one of the link, whatever it is called.
    """
    if assessment.recomputed is not Recomputed.FAIL:
        return assessment.recomputed is Recomputed.PASS
    parts: tuple[Margin | ScalarMargin, ...] = (*assessment.margins, *assessment.scalars)
    return not any(
        part.outcome is Outcome.FAIL and part.obligation == "required" and part.parameter != SUMS
        for part in parts
    )


def _fits(ratio: Curves, loss: Curves, bounds: Bounds) -> tuple[list[Fit], list[Fit]]:
    """The combinations of the near end, by whether the first pair loses more or less."""
    rows = as_given(ratio.keys)
    more: list[Fit] = []
    less: list[Fit] = []
    for (end, i, k), near in rows.items():
        far = rows.get(("far", k, i))
        first, second = row_of_pair(loss.keys, "far", i), row_of_pair(loss.keys, "near", k)
        if end != "near" or far is None or first is None or second is None:
            continue
        here, there = ratio.value[near], ratio.value[far]
        one, two = loss.value[first], loss.value[second]
        told = (here + two < bounds.reciprocity_below_db) & (
            there + one < bounds.reciprocity_below_db
        )
        both = [near, far]
        told &= np.isfinite([ratio.low[both], ratio.high[both]]).all(axis=(0, 1))
        for side, apart in (
            (more, loss.low[first] - loss.high[second]),
            (less, loss.low[second] - loss.high[first]),
        ):
            at = told & (apart >= bounds.pair_order_db)
            if np.count_nonzero(at) >= POINTS:
                side.append(fit(here[at], there[at], one[at], two[at]))
    return more, less


def _as_named(fits: Sequence[Fit], bounds: Bounds) -> bool:
    """Whether every combination fits better as it is named, and all of them much better."""
    if len(fits) < COMBINATIONS:
        return False
    if any(np.median(one.as_named) >= np.median(one.other) for one in fits):
        return False
    as_named, other = map(_median, zip(*fits, strict=True))
    return bounds.pair_order_times * as_named <= other


def _median(parts: Sequence[F64]) -> float:
    return float(np.median(np.concatenate(parts)))
