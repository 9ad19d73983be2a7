"""What a schema cannot say of a limit table: that its parts fit together."""

from collections.abc import Iterator
from itertools import pairwise
from typing import Any

import numpy as np

from sweepbook.limits.build import build_shape
from sweepbook.limits.formulas import evaluate

_OF_FREQUENCY = {"sum", "log_line", "voltage_sum"}
_WITHOUT_FREQUENCY = {"constant", "greater_of"}


def sense_faults(document: dict[str, Any]) -> list[str]:
    """What contradicts itself in a document that follows the schema, one line each."""
    lines = list(_ranges("$.steps.ranges", document["steps"]["ranges"]))
    lines += _step_source(document)
    for parameter, limit in document["parameters"].items():
        place = f"$.parameters.{parameter}"
        lines += _ranges(f"{place}.segments", limit["segments"])
        lines += _bounds(place, limit)
        if "tightened" in limit:
            lines += _known_sources(f"{place}.tightened", [limit["tightened"]["source"]], document)
        for i, segment in enumerate(limit["segments"]):
            lines += _segment(f"{place}.segments[{i}]", segment, limit, document)
    lines += _circles(document)
    lines += _doubtful(document)
    return lines


def _doubtful(document: dict[str, Any]) -> Iterator[str]:
    for i, entry in enumerate(document["not_usable"]):
        if entry["parameter"] in document["parameters"]:
            yield f"$.not_usable[{i}] is {entry['parameter']}, for which the table has a limit"
        if entry.get("from_mhz", 0) > entry.get("to_mhz", 0):
            yield f"$.not_usable[{i}] ends below its start"


def _step_source(document: dict[str, Any]) -> Iterator[str]:
    for place in ("steps", "wire_map", "ends"):
        if place in document:
            ids = [document[place]["source"], *document[place].get("support", ())]
            yield from _known_sources(f"$.{place}", ids, document)


def _ranges(place: str, ranges: list[dict[str, Any]]) -> Iterator[str]:
    if any("from_mhz" not in part for part in ranges):
        if len(ranges) > 1:
            yield f"{place}: a segment without frequencies must be the only one"
        return
    for i, part in enumerate(ranges):
        if part["from_mhz"] > part["to_mhz"]:
            yield f"{place}[{i}] ends below its start"
    for i, (lower, upper) in enumerate(pairwise(ranges), start=1):
        if lower["to_mhz"] != upper["from_mhz"]:
            yield f"{place}[{i}] starts at {upper['from_mhz']} MHz, " + (
                f"the one before ends at {lower['to_mhz']} MHz; they must meet"
            )


def _bounds(place: str, limit: dict[str, Any]) -> Iterator[str]:
    if "cap" in limit and limit["sense"] != "min":
        yield f"{place} has a cap, but only a minimum limit can have one"
    if "floor" in limit and limit["sense"] != "max":
        yield f"{place} has a floor, but only a maximum limit can have one"
    if "allowance_percent" in limit and limit["unit"] != "m":
        yield f"{place} has an allowance for NVP, but only a length can have one"
    relaxed = limit.get("relaxed_when")
    if relaxed and limit["sense"] != "min":
        yield f"{place} has relaxed_when, but only a minimum limit can have one"
    if relaxed and relaxed["from_mhz"] >= relaxed["to_mhz"]:
        yield f"{place}.relaxed_when ends below its start"


def _segment(
    place: str, segment: dict[str, Any], limit: dict[str, Any], document: dict[str, Any]
) -> Iterator[str]:
    shape, kind = segment["shape"], segment["shape"]["kind"]
    yield from _known_sources(place, [segment["source"], *segment.get("support", ())], document)
    if "from_mhz" not in segment and kind not in _WITHOUT_FREQUENCY:
        yield f"{place} has no frequencies, but its shape ({kind}) needs them"
    if kind not in _WITHOUT_FREQUENCY and segment.get("from_mhz") == 0:
        yield f"{place} starts at 0 MHz, where its shape ({kind}) has no value"
    if kind in _OF_FREQUENCY and segment.get("from_mhz"):
        yield from _without_value(place, segment)
    if kind == "difference_of":
        for which in ("minuend", "subtrahend"):
            if shape[which] not in document["parameters"]:
                yield f"{place}.shape takes {shape[which]}, for which the table has no limit"
    if kind == "greater_of":
        units = [amount["unit"] for amount in shape["of"]]
        if sorted(units) != ["ohm", "percent"] or limit["unit"] != "percent":
            yield f"{place}.shape must weigh percent against ohm, for a limit in percent"


def _without_value(place: str, segment: dict[str, Any]) -> Iterator[str]:
    """A limit beyond all numbers is none: every value would keep it, or no value."""
    ends = np.array([segment["from_mhz"], segment["to_mhz"]], dtype=np.float64)
    with np.errstate(all="ignore"):
        values = evaluate(build_shape(segment["shape"]), ends)
    for end in ends[~np.isfinite(values)]:
        yield f"{place}.shape has no value at {end:g} MHz that a number can hold"


def _known_sources(place: str, ids: list[str], document: dict[str, Any]) -> Iterator[str]:
    for id_ in ids:
        if id_ not in document["sources"]:
            yield f"{place} names the source {id_!r}, which $.sources does not have"


def _circles(document: dict[str, Any]) -> Iterator[str]:
    needs = {
        parameter: {
            segment["shape"][which]
            for segment in limit["segments"]
            if segment["shape"]["kind"] == "difference_of"
            for which in ("minuend", "subtrahend")
        }
        for parameter, limit in document["parameters"].items()
    }
    for start in needs:
        reached: set[str] = set()
        todo = list(needs[start])
        while todo:
            parameter = todo.pop()
            if parameter not in reached:
                reached.add(parameter)
                todo += needs.get(parameter, ())
        if start in reached:
            yield f"$.parameters.{start} is a difference that comes back to itself"
