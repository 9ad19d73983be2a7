"""Rules about two curves of one record that cannot both be right."""

import math
from collections.abc import Iterator
from typing import Any

import numpy as np

from sweepbook.judging.curves import UNORDERED, Curves, Key, shared
from sweepbook.judging.digits import half_digit
from sweepbook.judging.one_order import alone
from sweepbook.judging.phrases import name
from sweepbook.judging.physics import LIGHT_M_PER_NS
from sweepbook.limits.shapes import line
from sweepbook.rules.case import Case
from sweepbook.rules.items import is_true_fail
from sweepbook.rules.model import Hit
from sweepbook.rules.words import where

SUMS = {"psnext": "next", "psfext": "fext", "psacr_n": "acr_n", "psacr_f": "acr_f"}
BOTH_WAYS = ("insertion_loss", "fext")
LOSS = "insertion_loss"
OF_LENGTH = ("length", "propagation_delay")
FEW = 16
"""Points of the upper half that are looked at."""


def curves_are_alike_both_ways(case: Case) -> Iterator[Hit]:
    """Yield every insertion loss or FEXT that differs by the direction it was measured in.

    By the median over the frequencies, where both are below the practice figure: further down the
    noise of the tester decides.
    """
    most, below = (case.practice.value(one) for one in ("reciprocity_db", "reciprocity_below_db"))
    for parameter in BOTH_WAYS:
        curves = case.needed_working.measured_curves.get(parameter)
        rows = {key: row for row, key in enumerate(curves.keys)} if curves else {}
        for key, far in rows.items():
            near = rows.get(Key(parameter, "near", key.pairs[::-1]))
            if curves is None or key.end != "far" or near is None:
                continue
            there = (curves.value[far] < below) & (curves.value[near] < below)
            if not there.any():
                continue
            apart = float(np.median(np.abs(curves.value[far, there] - curves.value[near, there])))
            if not apart <= most:
                said = {"apart_db": apart, "most_db": most}
                yield Hit(_path(curves, far), {**_which(key), **said})


def sums_are_below_their_members(case: Case) -> Iterator[Hit]:
    """Yield every exported power sum that is surely better than one of the curves in it.

    Where all curves are there the sum is computed and compared; this needs one of them only, and
    none of ACR-N that may be the worse of both orders of its pairs.
    """
    working = case.needed_working
    for parameter, member in SUMS.items():
        exported, members = (working.measured_curves.get(one) for one in (parameter, member))
        if exported is None or members is None:
            continue
        computed = working.recomputed_curves.get(parameter)
        done = set(computed.keys) if computed is not None else set()
        exported, members = shared(exported, members)
        for row, key in enumerate(exported.keys):
            if key not in done:
                yield from _above(exported, row, members)


def loss_is_of_the_length(case: Case) -> Iterator[Hit]:
    """Yield every insertion loss far above that of a cable of the category and of that length.

    The limit for the longest link, taken down to the length, with an offset for the connectors;
    by the median over some points of its upper half.
    """
    working, table = case.needed_working, case.needed_table
    curves = working.measured_curves.get(LOSS)
    if curves is None or LOSS not in table.parameters or is_true_fail(case):
        return
    times, offset = (case.practice.value(one) for one in ("loss_excess", "loss_excess_db"))
    first = curves.frequency_mhz.size // 2
    columns = np.arange(first, curves.frequency_mhz.size)[:: max(1, first // FEW)]
    limit = line(table, LOSS, curves.frequency_mhz, case.interpretations).value[columns]
    asked = [_longest_m(case, key.pairs[0]) for key in curves.keys]
    lengths = [one if math.isfinite(one) else table.longest_length_m for one in asked]
    shares = [min(length_m / table.longest_length_m, 1.0) for length_m in lengths]
    most = times * (limit * np.array(shares)[:, None]) + offset
    for row in np.flatnonzero((curves.value[:, columns] > most).any(axis=1)).tolist():
        key, length_m, usual = curves.keys[row], lengths[row], limit * shares[row]
        low = curves.ends_at(np.full(columns.size, row), columns).low
        beyond = low - (times * usual + offset)
        there = np.flatnonzero(np.isfinite(beyond) & np.isfinite(curves.value[row, columns]))
        if there.size and np.median(beyond[there]) > 0.0:
            at = int(there[len(there) // 2])
            said = {
                "value_db": float(curves.value[row, columns[at]]),
                "usual_db": float(usual[at]),
                "frequency_mhz": float(curves.frequency_mhz[columns[at]]),
                "length_m": length_m,
            }
            yield Hit(_path(curves, row), {**_which(key), **said})


def _longest_m(case: Case, pair: str) -> float:
    """How long a pair may be: by its length, the link's, or its delay; infinite without any."""
    by_delay = math.inf
    for one in case.document["results"].get("scalars", ()):
        if one["parameter"] not in OF_LENGTH:
            continue
        if one["pairs"] not in ([], [pair]) or "bound" in one:
            continue
        if one["parameter"] == "length" and one.get("length_m", 0.0) > 0.0:
            return float(one["length_m"]) + half_digit(one)
        if one["parameter"] == "propagation_delay" and one.get("delay_ns", 0.0) > 0.0:
            by_delay = (float(one["delay_ns"]) + half_digit(one)) * LIGHT_M_PER_NS
    return by_delay


def _above(exported: Curves, row: int, members: Curves) -> Iterator[Hit]:
    """The first member that a sum is above, where it is most so."""
    key, single = exported.keys[row], alone(members.keys)
    for place, member in enumerate(members.keys):
        joined = member.pairs if member.parameter in UNORDERED else member.pairs[1:]
        if member.end != key.end or key.pairs[0] not in joined or member in single:
            continue
        over = exported.low[row] - members.high[place]
        over[~np.isfinite(over)] = -np.inf
        at = int(np.argmax(over)) if over.size else 0
        if over.size and over[at] > 1e-9:
            said = {
                "frequency_mhz": float(exported.frequency_mhz[at]),
                "sum_db": float(exported.value[row, at]),
                "member": f"{name(member.parameter)} {where(member.end, member.pairs)}",
                "member_db": float(members.value[place, at]),
            }
            yield Hit(_path(exported, row), {**_which(key), **said})
            return


def _path(curves: Curves, row: int) -> str:
    return f"$.results.sweeps[{curves.sweeps[row][0]}]"


def _which(key: Key) -> dict[str, Any]:
    return {"parameter": name(key.parameter), "where": where(key.end, key.pairs)}
