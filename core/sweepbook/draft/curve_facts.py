"""What the numbers of curves say: signs, and which of two pairs is the disturbed one."""

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from statistics import fmean, median
from typing import NamedTuple

import numpy as np

from sweepbook.dialect.parameters import quantity_of
from sweepbook.draft.parsed import Named
from sweepbook.judging.pair_order import fit

_AGREES_DB = 0.06
"""Mean difference of a derived curve from its parts, each rounded to hundredths."""
_RECIPROCAL_DB = 0.15
"""Mean difference that noise leaves between two measurements of one coupling: assumed."""
_WORSE = 3.0
"""How much worse the other order has to agree before it is ruled out."""
_LOW_PART = 5
"""The lowest fifth of an axis, where every loss and every ratio of one is far above 0 dB."""


class Measured(NamedTuple):
    """A curve as numbers.

    Attributes:
        name: what it is of, pairs in the order of the export.
        frequency: n numbers in the unit of the export.
        value: n numbers with the sign of the export; None for a gap or a clipped value.
    """

    name: Named
    frequency: Sequence[float]
    value: Sequence[float | None]


class Order(NamedTuple):
    """Which of two pairs comes first, by what that is known, and whether that proves it."""

    first: str
    why: str
    sure: bool


def negative(curves: Sequence[Measured]) -> dict[str, list[str]]:
    """Parameters that are written with a minus sign, each with the numbers that show it."""
    by_parameter: dict[str, list[float]] = {}
    for curve in curves:
        if curve.name.parameter and quantity_of(curve.name.parameter) == "loss":
            low = curve.value[: max(1, len(curve.value) // _LOW_PART)]
            by_parameter.setdefault(curve.name.parameter, []).extend(
                value for value in low if value is not None
            )
    return {
        parameter: [f"{value:g}" for value in values[:3]]
        for parameter, values in by_parameter.items()
        if values and median(values) < 0.0
    }


def orders(curves: Sequence[Measured], turned: Sequence[str]) -> Iterator[Order]:
    """Which of two pairs is named first, by each of the derived curves that show it.

    Power sums go over the disturbing pairs, whatever a tester subtracts besides, so they prove it.
    FEXT less the insertion loss of the disturbed pair is ACR-F, NEXT less that is ACR-N (by the
    definitions in the vocabulary); but there are testers that subtract the disturbing pair's. FEXT
    is the same from the other end the other way round (reciprocity), so that ACR-F of both ends
    differs by the insertion losses of the two pairs. ACR-N that is given once for two pairs may be
    the worse of both orders, so it tells nothing.

    Args:
        curves: all of one test, on shared axes.
        turned: parameters with a minus sign.
    """
    table = {
        curve.name: [None if v is None else (-v if curve.name.parameter in turned else v)
                     for v in curve.value]
        for curve in curves
    }  # fmt: skip
    for total, part in (("psfext", "fext"), ("psacr_f", "acr_f")):
        sums = {first: list(_sums(table, total, part, at)) for first, at in _PLACES.items()}
        if found := _better(sums):
            yield Order(found, f"{part} over the disturbing pairs adds up to {total}", True)
    for whole, part in (("acr_f", "fext"), ("acr_n", "next")):
        errors: dict[str, list[float]] = {"disturbing": [], "disturbed": []}
        for name, ratio in table.items():
            if name.parameter != whole or len(name.pairs) != 2:
                continue
            if whole == "acr_n" and name._replace(pairs=name.pairs[::-1]) not in table:
                continue
            for first, pair in (("disturbing", name.pairs[1]), ("disturbed", name.pairs[0])):
                errors[first] += _misses(table, part, name, ratio, pair)
        if found := _better(errors):
            why = f"{part} less the insertion loss of the disturbed pair is {whole}"
            yield Order(found, why, False)
    if found := _better(_reciprocal(table), _RECIPROCAL_DB):
        why = "acr_f of both ends differs as one fext less the loss of the disturbed pair does"
        yield Order(found, why, False)


_PLACES = {"disturbing": 1, "disturbed": 0}
"""Where the disturbed pair stands, by what comes first."""

Table = dict[Named, list[float | None]]


def _misses(
    table: Table, part: str, name: Named, ratio: Sequence[float | None], pair: str
) -> Iterator[float]:
    loss = table.get(Named("insertion_loss", (pair,), None))
    if loss is None:
        loss = table.get(Named("insertion_loss", (pair,), name.end))
    talk = table.get(name._replace(parameter=part))
    if talk is None and part == "next":
        talk = table.get(Named(part, name.pairs[::-1], name.end))
    if loss is None or talk is None or not len(loss) == len(talk) == len(ratio):
        return
    for a, b, c in zip(talk, loss, ratio, strict=True):
        if a is not None and b is not None and c is not None:
            yield abs(a - b - c)


def _reciprocal(table: Table) -> dict[str, list[float]]:
    """How far ACR-F of both ends is from one FEXT less the loss of either pair, in dB."""
    errors: dict[str, list[float]] = {"disturbing": [], "disturbed": []}
    for name, ratio in table.items():
        if name.parameter != "acr_f" or len(name.pairs) != 2 or name.end != "near":
            continue
        other = table.get(Named("acr_f", name.pairs[::-1], "far"))
        losses = [table.get(Named("insertion_loss", (pair,), None)) for pair in name.pairs]
        rows = [row for row in (ratio, other, *losses) if row is not None]
        if len(rows) < 4 or len({*map(len, rows)}) > 1:
            continue
        numbers = np.array(rows, dtype=np.float64)  # None is NaN
        fitted = fit(*numbers[:, np.isfinite(numbers).all(axis=0)])
        errors["disturbing"] += fitted.as_named.tolist()
        errors["disturbed"] += fitted.other.tolist()
    return errors


def _sums(table: Table, total: str, part: str, at: int) -> Iterator[float]:
    for name, wanted in table.items():
        if name.parameter != total or len(name.pairs) != 1:
            continue
        parts = [
            values
            for other, values in table.items()
            if other.parameter == part
            and other.end == name.end
            and len(other.pairs) == 2
            and other.pairs[at] == name.pairs[0]
        ]
        if len(parts) != 3 or any(len(values) != len(wanted) for values in parts):
            continue
        for goal, *row in zip(wanted, *parts, strict=True):
            numbers = [value for value in row if value is not None]
            if goal is not None and len(numbers) == len(row):
                power = sum(10.0 ** (-value / 10.0) for value in numbers)
                yield abs(-10.0 * math.log10(power) - goal)


def _better(errors: dict[str, list[float]], agrees_db: float = _AGREES_DB) -> str | None:
    if not all(errors.values()):
        return None
    means = {first: fmean(values) for first, values in errors.items()}
    best, other = sorted(means, key=lambda first: means[first])
    agrees = means[best] <= agrees_db and means[other] >= _WORSE * max(means[best], 0.005)
    return best if agrees else None


def rises(curve: Measured) -> bool:
    """Whether a curve grows with frequency nearly everywhere, by its size, as a loss of copper."""
    values = [abs(value) for value in curve.value if value is not None]
    steps = list(pairwise(values))
    return len(steps) > 3 and sum(b >= a for a, b in steps) >= 0.9 * len(steps)


def falls(curve: Measured) -> bool:
    """Whether a curve is much smaller in its highest part than in its lowest one."""
    values = [abs(value) for value in curve.value if value is not None]
    part = max(1, len(values) // _LOW_PART)
    return len(values) >= _LOW_PART and fmean(values[-part:]) < 0.9 * fmean(values[:part])
