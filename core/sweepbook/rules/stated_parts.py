"""Rules about the figures of a stated item: beside each other, its limit and its curve."""

from collections.abc import Iterator, Mapping
from typing import Any

import numpy as np

from sweepbook.judging.curves import UNORDERED
from sweepbook.judging.digits import half_digit
from sweepbook.judging.phrases import name, subject
from sweepbook.judging.stated_names import names_of
from sweepbook.limits.shapes import line
from sweepbook.rules.case import Case
from sweepbook.rules.items import Item, lacks_of, others, scalars_of
from sweepbook.rules.model import Hit
from sweepbook.rules.words import interval, listed, where

FLOATING_POINT = 1e-9
HERTZ_MHZ = 1e-6
FIGURES = ("worst_margin", "worst_value")
SOURCES = {
    "psnext": "next", "acr_n": "next", "psacr_n": "next",
    "psfext": "fext", "acr_f": "fext", "psacr_f": "fext",
    "delay_skew": "propagation_delay", "length": "propagation_delay",
}  # fmt: skip
"""What a derived parameter can be worked out of, so that a stated figure can be followed."""
SUMS = {"psnext": "next", "psfext": "fext", "psacr_n": "acr_n", "psacr_f": "acr_f"}


def margin_is_of_the_verdict(case: Case) -> Iterator[Hit]:
    """Yield every item that fails with a margin surely above 0, or passes with one below.

    A part passes only where all of it does, so that a margin below 0 stated by itself, of a pair or
    an end of the part, contradicts its pass as well.
    """
    told: dict[str, list[Item]] = {}
    for _, item in case.stated_items:
        if "worst_margin" in item:
            told.setdefault(item["parameter"], []).append(item)
    if not told:
        return
    for path, item in case.stated_items:
        verdict = item.get("verdict", "")
        if verdict.startswith("fail"):
            margins = [item] if "worst_margin" in item else []
        else:
            parts = told.get(item["parameter"], ()) if verdict else ()
            margins = [one for one in parts if _is_part(one, item)]
        for one in margins:
            value, unit = _value(one["worst_margin"])
            signed = -value if verdict.startswith("fail") else value
            if signed < -half_digit(one["worst_margin"]):
                what, part = _called(item), _called(one)
                said = {"what": what, "verdict": verdict, "margin": value, "unit": unit}
                yield Hit(f"{path}.verdict", {**said, "of": "" if part == what else f" of {part}"})
                break


def margin_is_value_less_limit(case: Case) -> Iterator[Hit]:
    """Yield every stated margin that is not the distance of value and limit stated with it.

    Only where all three are given for one frequency, or for none. A whole last digit each is
    allowed for, since an instrument may round before it subtracts.
    """
    limits = case.needed_table.parameters
    for path, item in case.stated_items:
        margin, worst = item.get("worst_margin"), item.get("worst_value")
        rule = limits.get(item["parameter"])
        if not margin or not worst or rule is None:
            continue
        limit = _limit(margin) or _limit(worst)
        if limit is None or margin.get("frequency_mhz") != worst.get("frequency_mhz"):
            continue
        (stated, unit), (value, _) = _value(margin), _value(worst)
        distance = value - limit if rule.sense == "min" else limit - value
        slack = 2.0 * (half_digit(margin) + 2.0 * half_digit(worst)) + FLOATING_POINT
        if not abs(stated - distance) <= slack:
            said = {"what": _called(item), "margin": stated, "unit": unit, "value": value}
            yield Hit(f"{path}.worst_margin", {**said, "limit": limit, "distance": distance})


def limit_is_of_the_table(case: Case) -> Iterator[Hit]:
    """Yield every limit stated with a figure that the table does not give at that frequency."""
    for path, item in case.stated_items:
        for figure in FIGURES:
            stated = item.get(figure, {})
            limit = _limit(stated)
            known = _of_table(case, item, stated) if limit is not None else []
            if limit is None or not known:
                continue
            slack = 2.0 * half_digit(stated) + FLOATING_POINT
            if not any(low - slack <= limit <= high + slack for low, high in known):
                unit = names_of(stated).unit
                at_mhz = stated.get("frequency_mhz")
                at = "" if at_mhz is None else f" at {at_mhz:g} MHz"
                said = {"what": _called(item), "limit": limit, "unit": unit, "at": at}
                yield Hit(f"{path}.{figure}", {**said, "computed": interval(*known[0])})
                break


def stated_frequency_follows(case: Case) -> Iterator[Hit]:
    """Yield every stated figure that is right, at a frequency where the sweep has another value.

    Only of parameters that are complete, and of frequencies that the sweep has: the worst point
    may lie in what is missing.
    """
    for found in case.needed_working.stated_figures:
        if not found.agrees or found.frequency_agrees is not False:
            continue
        curves = case.needed_working.judged_curves.get(found.parameter)
        if lacks_of(case, found.parameter) or curves is None or found.stated_mhz is None:
            continue
        if not (np.abs(curves.frequency_mhz - found.stated_mhz) <= HERTZ_MHZ).any():
            continue
        yield Hit(
            found.path,
            {
                "parameter": name(found.parameter),
                "where": where(found.end, found.pairs),
                "what": found.figure.replace("_", " "),
                "stated_mhz": found.stated_mhz,
                "computed_mhz": found.recomputed_mhz or 0.0,
            },
        )


def stated_parts_are_measured(case: Case) -> Iterator[Hit]:
    """Yield the parameters with a stated verdict or figure of which nothing was exported."""
    working, results = case.needed_working, case.document["results"]
    there = {*working.measured_curves, *(one["parameter"] for one in results.get("scalars", ()))}
    if "wire_map" in results:
        there.add("wire_map")
    said = dict.fromkeys(item["parameter"] for _, item in case.stated_items)
    bare = [name(one) for one in said if one not in there and SOURCES.get(one) not in there]
    if bare:
        yield Hit("$.stated.items", {"parameters": listed(bare)})


def stated_sum_is_below_its_members(case: Case) -> Iterator[Hit]:
    """Yield every worst value of a power sum that is better than that of a curve in the sum.

    One of ACR-N that may be the worse of both orders of its pairs says nothing of either.
    """
    items = [(path, item) for path, item in case.stated_items if "worst_value" in item]
    for path, item in items:
        members = [one for _, one in items if one["parameter"] == SUMS.get(item["parameter"])]
        for member in members:
            least, worst = item["worst_value"], member["worst_value"]
            if others(case, member) or not _is_in(member, item):
                continue
            if "value_db" not in least or "value_db" not in worst:
                continue
            slack = half_digit(least) + half_digit(worst) + FLOATING_POINT
            if least["value_db"] > worst["value_db"] + slack:
                said = {"what": _called(item), "sum_db": least["value_db"]}
                said |= {"member": _called(member), "member_db": worst["value_db"]}
                yield Hit(f"{path}.worst_value", said)
                break


def _is_part(one: Item, item: Item) -> bool:
    """Whether an item is the other of the same parameter, or a pair or end of it."""
    end, pairs = item.get("end"), list(item.get("pairs", ()))
    if end and one.get("end") != end:
        return False
    return not pairs or list(one.get("pairs", ())) == pairs


def _is_in(member: Item, item: Item) -> bool:
    """Whether every curve that a member is about enters the sums that the item is about."""
    end, pairs = item.get("end"), item.get("pairs", ())
    if end is not None and member.get("end") != end:
        return False
    if not pairs:
        return True
    joined = member.get("pairs", ())
    return pairs[0] in (joined if member["parameter"] in UNORDERED else joined[1:])


def _of_table(case: Case, item: Item, stated: Mapping[str, Any]) -> list[tuple[float, float]]:
    """What the limit may be there, by the table."""
    parameter, at = item["parameter"], stated.get("frequency_mhz")
    rule = case.needed_table.parameters.get(parameter)
    if rule is None:
        return []
    if rule.f_min_mhz is None or at is None:
        held = [one.limit for one in scalars_of(case, item) if one.limit is not None]
        return [(limit, limit) for limit in held]
    curves = case.needed_working.judged_curves.get(parameter)
    axis, place = np.array([at], dtype=np.float64), 0
    if curves is not None:
        near = int(np.searchsorted(curves.frequency_mhz, at))
        if near < curves.frequency_mhz.size and curves.frequency_mhz[near] == at:
            axis, place = curves.frequency_mhz, near  # its line is kept
    found = line(case.needed_table, parameter, axis, case.interpretations)
    low, high = float(found.low[place]), float(found.high[place])
    return [(low, high)] if np.isfinite(low) and np.isfinite(high) else []


def _limit(figure: Mapping[str, Any]) -> float | None:
    limit = names_of(figure).limit if figure else None
    return None if limit is None else float(figure[limit])


def _value(figure: Mapping[str, Any]) -> tuple[float, str]:
    """The figure and its unit."""
    number, unit, _ = names_of(figure)
    return float(figure[number]), unit


def _called(item: Item) -> str:
    return subject(item["parameter"], item.get("end"), item.get("pairs", ()))
