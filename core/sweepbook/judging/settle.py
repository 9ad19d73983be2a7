"""Which curve is judged where one was recomputed, exported, or both, and where the two differ."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import reduce

import numpy as np

from sweepbook.judging.bands import LEAST_ABOVE, LEAST_BELOW, Given
from sweepbook.judging.compose import acr_f, less_loss, power_sums
from sweepbook.judging.curves import Curves, Flags, Key, joined, shared
from sweepbook.judging.directions import as_given
from sweepbook.judging.one_order import alone, worse_of_both
from sweepbook.judging.working import Disagreement

TOLERANCE = 1e-6
"""Room for binary rounding when two intervals are compared; far below any printed digit."""

MOST_DB = 1e6
"""Greater values are none, and their binary rounding is not below that room."""

DISTURBING = "disturbing pair's insertion loss"

SUMS = {"psacr_n": "psnext", "psacr_f": "psfext"}
"""Power sums of ratios, and the power sum, exported points included, that each is made from."""

DERIVED = ("psnext", "acr_n", "psacr_n", "psfext", "acr_f", "psacr_f", "eltctl", "delay_skew")


@dataclass(frozen=True, slots=True, eq=False)
class Settled:
    """The curves of one parameter that are judged.

    Attributes:
        curves: m curves.
        exported: bool[m, n], True at points that stand as the source exported them; None for none.
    """

    curves: Curves
    exported: Flags | None


def settle(measured: Mapping[str, Curves], recomputed: Mapping[str, Curves]) -> dict[str, Settled]:
    """Take the recomputed value at every point that has one, else the exported one.

    Args:
        measured: all curves of the record, by parameter.
        recomputed: derived curves made from raw ones, by parameter.
    """
    raw = {name: Settled(curves, None) for name, curves in measured.items() if name not in DERIVED}
    derived: dict[str, Settled | None] = {}
    for name in DERIVED:
        from_sum = None
        if name in SUMS:
            base = derived[SUMS[name]]
            if base is not None and base.exported is not None:
                from_sum = less_loss(name, base.curves, measured.get("insertion_loss"))
        derived[name] = _filled(recomputed.get(name), from_sum, measured.get(name))
    return raw | {name: settled for name, settled in derived.items() if settled}


def _filled(made: Curves | None, *exported: Curves | None) -> Settled | None:
    """The recomputed curves with their holes filled from the others, the first of them first."""
    chain = [curves for curves in (made, *exported) if curves is not None]
    if not chain:
        return None
    whole = reduce(_with_holes_filled, chain)
    if made is None:
        return Settled(whole, np.ones(whole.value.shape, dtype=np.bool_))
    if whole is made:
        return Settled(made, None)
    flags: Flags = ~np.isnan(whole.value)
    flags[: len(made.keys)] &= np.isnan(made.on(whole.frequency_mhz).value)
    return Settled(whole, flags if flags.any() else None)


def _with_holes_filled(first: Curves, second: Curves) -> Curves:
    """`first`, and where it has no point or no curve, `second`; rows of `first` come first."""
    one, two = joined(first, second)
    keys = one.keys + tuple(key for key in two.keys if key not in one.keys)
    place = {key: row for row, key in enumerate(keys)}
    shape = (len(keys), one.frequency_mhz.size)
    value, low, high = (np.full(shape, np.nan) for _ in range(3))
    for target, have in ((value, one.value), (low, one.low), (high, one.high)):
        target[: len(one.keys)] = have
    repeated = np.zeros(len(keys), dtype=np.bool_)
    repeated[: len(one.keys)] = one.repeated
    sweeps = list(one.sweeps) + [()] * (len(keys) - len(one.keys))
    filled = False
    for row, key in enumerate(two.keys):
        goes = place[key]
        holes = np.isnan(value[goes]) & ~np.isnan(two.value[row])
        if not holes.any():
            continue
        filled = True
        for target, have in ((value, two.value), (low, two.low), (high, two.high)):
            target[goes, holes] = have[row, holes]
        repeated[goes] |= two.repeated[row]
        sweeps[goes] = two.sweeps[row]
    if not filled:
        return first
    band = Given(low, high)
    return Curves(first.parameter, keys, one.frequency_mhz, value, band, tuple(sweeps), repeated)


def disagreements(
    measured: Mapping[str, Curves], recomputed: Mapping[str, Curves]
) -> tuple[Disagreement, ...]:
    """Exported derived curves whose interval misses that of the recomputed one somewhere.

    Where taking the disturbing pair's insertion loss for ACR-F reproduces the export at every
    shared point, the fact says so. A curve that may be the worse of both orders of its pairs
    misses both readings, each as a whole.
    """
    found: list[Disagreement] = []
    for name in DERIVED:
        if name not in measured or name not in recomputed:
            continue
        facts = _apart(measured[name], recomputed[name])
        facts = _in_both_readings(facts, measured[name], recomputed[name])
        if facts and name in ("acr_f", "psacr_f"):
            swapped = _by_disturbing(name, measured)
            explained = _alike(measured[name], swapped) if swapped else set()
            facts = [
                replace(fact, cause=DISTURBING) if fact.key in explained else fact for fact in facts
            ]
        found.extend(facts)
    return tuple(found)


def _in_both_readings(
    facts: list[Disagreement], exported: Curves, made: Curves
) -> list[Disagreement]:
    """The facts without those that the other reading explains; each by the reading it is nearer."""
    single = alone(exported.keys) if facts else frozenset()
    keys = [fact.key for fact in facts if fact.key in single]
    if not keys:
        return facts
    apart = {fact.key: fact for fact in _apart(exported, worse_of_both(made, keys))}
    found = []
    for fact in facts:
        if fact.key not in single:
            found.append(fact)
        elif fact.key in apart:
            found.append(min(fact, replace(apart[fact.key], of_both=True), key=_off))
    return found


def _off(fact: Disagreement) -> tuple[int, float]:
    """How far off a reading is: at how many points, and by how much at most."""
    return fact.points, abs(fact.exported - fact.recomputed)


def _common(exported: Curves, made: Curves) -> tuple[Curves, Curves]:
    """Rows whose key is in both, in one order, at shared points."""
    place = {key: row for row, key in enumerate(made.keys)}
    keys = [key for key in exported.keys if key in place]
    first = exported.take([exported.keys.index(key) for key in keys], keys)
    return shared(first, made.take([place[key] for key in keys], keys))


def _misses(one: Curves, two: Curves) -> Flags:
    """bool[m, n]: the two intervals do not meet; False where either has no point."""
    with np.errstate(invalid="ignore"):
        apart: Flags = np.maximum(one.low - two.high, two.low - one.high) > TOLERANCE
    return apart


def _surely_meet(one: Curves, two: Curves) -> bool:
    """Whether the values alone tell that the intervals meet wherever both have a point.

    They do where the values are no further apart than both reach towards each other at least.
    """
    with np.errstate(invalid="ignore"):
        off = one.value - two.value
    down = one.reach[LEAST_BELOW] + two.reach[LEAST_ABOVE]
    up = one.reach[LEAST_ABOVE] + two.reach[LEAST_BELOW]
    beyond = (off > down[:, None]) | (off < -up[:, None]) | (np.abs(one.value) > MOST_DB)
    return not beyond.any()


def _apart(exported: Curves, made: Curves) -> list[Disagreement]:
    one, two = _common(exported, made)
    if _surely_meet(one, two):
        return []
    apart = _misses(one, two)
    facts = []
    for row in np.flatnonzero(apart.any(axis=1)):
        size = np.where(apart[row], np.abs(one.value[row] - two.value[row]), -1.0)
        at = int(np.argmax(size))
        facts.append(
            Disagreement(
                key=one.keys[row],
                path=f"$.results.sweeps[{one.sweeps[row][0]}]",
                at_mhz=float(one.frequency_mhz[at]),
                exported=float(one.value[row, at]),
                recomputed=float(two.value[row, at]),
                points=int(apart[row].sum()),
                cause="",
                unit="ns" if exported.parameter == "delay_skew" else "dB",
            )
        )
    return facts


def _alike(exported: Curves, made: Curves) -> set[Key]:
    one, two = _common(exported, made)
    apart = _misses(one, two)
    return {key for row, key in enumerate(one.keys) if not apart[row].any()}


def _by_disturbing(name: str, measured: Mapping[str, Curves]) -> Curves | None:
    """ACR-F, or its power sum, with the insertion loss of the disturbing pair."""
    far, loss = measured.get("fext"), measured.get("insertion_loss")
    if far is None or loss is None:
        return None
    ratio = acr_f(far, loss, by="disturbing")
    if ratio is None or name == "acr_f":
        return ratio
    return power_sums("psacr_f", ratio, as_given)
