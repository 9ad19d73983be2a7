"""Points for information only, and limits relaxed on a condition: what interpretations do.

Both hang on a companion curve (insertion loss, far-end crosstalk) that is itself known only within
an interval. The side taken is always the one that proves less: a point is left out only where the
companion certainly meets the condition, and a fail is proved only where it certainly does not. The
same goes for a relaxation. A companion that is missing meets no condition for certain, and no
failing of one either.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

import numpy as np

from sweepbook.judging.bands import Given
from sweepbook.judging.coverage import ONE_HZ_MHZ
from sweepbook.judging.curves import F64, UNORDERED, Curves, Flags, Key
from sweepbook.judging.directions import companions
from sweepbook.judging.evaluate import Information
from sweepbook.judging.limit_line import Limit
from sweepbook.limits.effects import Exclusion, Relaxation


class Condition(NamedTuple):
    """bool[m, n] or bool[m, 1]: whether a condition holds for certain, and whether it may hold."""

    certain: Flags
    possible: Flags


def for_information(
    curves: Curves, rules: Sequence[Exclusion], companions: Mapping[str, Curves]
) -> Information | None:
    """Which points of the curves the rules leave out; None where there is no rule.

    Args:
        curves: m x n.
        rules: exclusions in force for the parameter.
        companions: curves by parameter that conditions are about.
    """
    if not rules:
        return None
    certain = np.zeros(curves.value.shape, dtype=np.bool_)
    possible = certain.copy()
    for rule in rules:
        companion = companions.get(rule.companion)
        moved = companion.on(curves.frequency_mhz) if companion is not None else None
        held = _held(curves.keys, moved, rule, rule.when, rule.threshold_db, slice(None))
        certain |= held.certain
        possible |= held.possible
    return Information(certain, possible)


def relaxed(
    curves: Curves,
    limit: Limit,
    rules: Sequence[Relaxation],
    companions: Mapping[str, Curves],
) -> Limit:
    """The limit with what the rules take off it, curve by curve.

    The limit's `low` is lowered where the condition may hold, its `high` only where it does for
    certain, its `value` where the nominal companion meets it.

    Args:
        curves: m x n.
        limit: float64[n] as without the rules.
        rules: relaxations in force for the parameter.
        companions: curves by parameter that conditions are about.
    """
    for rule in rules:
        companion = companions.get(rule.companion)
        column = _column(companion, rule.at_mhz)
        held = _held(curves.keys, companion, rule, "below", rule.below_db, column)
        nominal = _nominal(curves.keys, companion, rule, column)
        amount = rule.amount_db(curves.frequency_mhz)
        limit = replace(
            limit,
            value=limit.value - amount * nominal,
            low=limit.low - amount * held.possible,
            high=limit.high - amount * held.certain,
        )
    return limit


def _column(companion: Curves | None, at_mhz: float) -> slice:
    """The column of one frequency; an empty slice where the companion has no such point."""
    if companion is None:
        return slice(0, 0)
    near = np.flatnonzero(np.abs(companion.frequency_mhz - at_mhz) <= ONE_HZ_MHZ)
    return slice(int(near[0]), int(near[0]) + 1) if near.size else slice(0, 0)


def _held(
    keys: Sequence[Key],
    companion: Curves | None,
    rule: Exclusion | Relaxation,
    when: str,
    threshold_db: float,
    columns: slice,
) -> Condition:
    """Whether the companion of each key is below (or above) a threshold."""
    width = companion.value[:, columns].shape[1] if companion is not None else 0
    if companion is None or width == 0:
        no = np.zeros((len(keys), 1), dtype=np.bool_)
        return Condition(no, ~no)
    low, high = companion.low[:, columns], companion.high[:, columns]
    if when == "below":
        certain, impossible = high < threshold_db, low >= threshold_db
    else:
        certain, impossible = low > threshold_db, high <= threshold_db
    return Condition(
        _spread(keys, companion, rule, certain, missing=False),
        _spread(keys, companion, rule, ~impossible, missing=True),
    )


def _nominal(
    keys: Sequence[Key], companion: Curves | None, rule: Relaxation, columns: slice
) -> Flags:
    if companion is None or companion.value[:, columns].shape[1] == 0:
        return np.zeros((len(keys), 1), dtype=np.bool_)
    return _spread(
        keys, companion, rule, companion.value[:, columns] < rule.below_db, missing=False
    )


def _spread(
    keys: Sequence[Key],
    companion: Curves,
    rule: Exclusion | Relaxation,
    flags: Flags,
    *,
    missing: bool,
) -> Flags:
    """Carry flags of the companion's rows to the keys: by the pair or pairs the rule names.

    One NEXT curve stands for both directions, so that each of its pairs is the disturbed one of one
    of them: a rule about the disturbed pair reaches it only where it reaches both directions.
    """
    rows, others = companions(tuple(keys), companion.parameter, companion.keys, rule.pairs)
    blank = np.full((1, flags.shape[1]), missing, dtype=np.bool_)
    padded = np.concatenate((flags, blank))
    first = padded[rows]
    if rows is others:
        return first
    second = padded[others]
    symmetric = bool(keys) and keys[0].parameter in UNORDERED
    if rule.pairs == "both" or (rule.pairs == "disturbed" and symmetric):
        return first & second
    return first | second


def rounded(curves: Curves, decimals: int) -> Curves:
    """Values and intervals rounded half up to a number of decimals, as some read the standards.

    The 1e-9 lets a half that binary cannot hold (0.35) count as the half it was printed as.
    """
    scale = 10.0**decimals

    def half_up(matrix: F64) -> F64:
        return np.floor(matrix * scale + (0.5 + 1e-9)) / scale

    band = Given(half_up(curves.low), half_up(curves.high))
    return replace(curves, given=half_up(curves.value), band=band, among=None)
