"""What a schema cannot say about a record: arrays, grids, days, words. Checked in bulk."""

import math
from collections.abc import Iterator, Mapping
from datetime import date, datetime
from typing import Any

import numpy as np

from sweepbook.errors import SweepbookError
from sweepbook.record.arrays import F64, is_signed
from sweepbook.record.grids import of_grid

Fault = tuple[str, str]

VALUES = ("value_db", "delay_ns")


def arrays(found: Mapping[str, F64]) -> Iterator[Fault]:
    """Yield the first number of each array that is not finite, or negative where none may be.

    Args:
        found: arrays by JSON path.
    """
    with np.errstate(over="ignore", invalid="ignore"):
        every = np.concatenate([*found.values(), np.empty(0)])
        finite = math.isfinite(np.add.reduce(every))  # no dot: of so many, it wakes other threads
    for path, values in found.items():
        signed = is_signed(path)
        if finite and signed:
            continue
        right = np.isfinite(values)
        if not signed:
            right &= values >= 0.0
        if not right.all():
            wrong = ~right
            position = int(np.argmax(wrong))
            yield f"{path}[{position}]", f"{values[position]} is negative or not finite"


def sweeps(results: Mapping[str, Any], skipped: frozenset[str]) -> Iterator[Fault]:
    """Yield where grids and sweeps do not fit together.

    Args:
        results: of a document, arrays as float64[n].
        skipped: paths of grids and sweeps that do not follow the schema and are left out.
    """
    points: dict[str, int] = {}
    for position, grid in enumerate(results.get("grids", ())):
        path = f"$.results.grids[{position}]"
        if path in skipped:
            continue
        if grid["id"] in points:
            yield f"{path}.id", f"{grid['id']!r} is the id of an earlier grid"
        try:
            points[grid["id"]] = of_grid(grid).size
        except SweepbookError as error:
            yield f"{path}.runs", error.message
    for position, sweep in enumerate(results.get("sweeps", ())):
        if not skipped and _fits(sweep, points):
            continue
        path = f"$.results.sweeps[{position}]"
        if path in skipped:
            continue
        if sweep["grid"] in points:
            yield from _sweep(sweep, points[sweep["grid"]], path)
        elif not any(gone.startswith("$.results.grids") for gone in skipped):
            yield f"{path}.grid", f"no grid of this record has the id {sweep['grid']!r}"


def _fits(sweep: Mapping[str, Any], points: Mapping[str, int]) -> bool:
    """Whether a sweep is one whole array of as many values as its grid has points, as most are."""
    values, count = sweep.get("value_db"), points.get(sweep["grid"])
    if not isinstance(values, np.ndarray) or values.size != count:
        return False
    if "gaps" in sweep or "complex" in sweep or "delay_ns" in sweep:
        return False
    free = 0
    for bound in sweep.get("bounds", ()):
        if not free <= bound["from"] <= bound["to"] < count:
            return False
        free = bound["to"] + 1
    return True


def _sweep(sweep: Mapping[str, Any], points: int, path: str) -> Iterator[Fault]:
    gaps, bounds = sweep.get("gaps", ()), sweep.get("bounds", ())
    if not gaps and not bounds:
        yield from _sizes(sweep, points, points, path)
        return
    faults = [*_spans(gaps, points, f"{path}.gaps"), *_spans(bounds, points, f"{path}.bounds")]
    yield from faults
    if faults:
        return
    if not gaps:
        yield from _sizes(sweep, points, points, path)
        return
    hole = np.zeros(points, dtype=np.bool_)
    for gap in gaps:
        hole[gap["from"] : gap["to"] + 1] = True
    for position, bound in enumerate(bounds):
        if hole[bound["from"] : bound["to"] + 1].any():
            yield f"{path}.bounds[{position}]", "lies on a gap, where there is no value"
    yield from _sizes(sweep, points, points - int(hole.sum()), path)


def _sizes(sweep: Mapping[str, Any], points: int, expected: int, path: str) -> Iterator[Fault]:
    """Yield arrays that are of another length than expected."""
    for name, values in _columns(sweep):
        if values.size != expected:
            yield (
                f"{path}.{name}",
                f"has {values.size} values; the grid {sweep['grid']!r} has {points} points, "
                f"{points - expected} of them in gaps, so {expected} are expected",
            )


def _columns(sweep: Mapping[str, Any]) -> Iterator[tuple[str, F64]]:
    for name, values in sweep.items():
        if isinstance(values, np.ndarray):
            yield name, values
    for name, values in sweep.get("complex", {}).items():
        if isinstance(values, np.ndarray):
            yield f"complex.{name}", values


def _spans(spans: Any, points: int, path: str) -> Iterator[Fault]:  # noqa: ANN401 - a JSON list
    """Yield spans of positions outside the grid, turned round, or not after the one before."""
    free = 0
    for position, span in enumerate(spans):
        first, last = span["from"], span["to"]
        if not first <= last:
            yield f"{path}[{position}]", f"runs from {first} to {last}, backwards"
        elif not last < points:
            yield f"{path}[{position}]", f"ends at {last}; the grid ends at position {points - 1}"
        elif not first >= free:
            yield f"{path}[{position}]", f"begins at {first}, not after the one before it"
        free = max(free, last + 1)


def days(document: Mapping[str, Any]) -> Iterator[Fault]:
    """Yield days and times that no calendar has, and offsets that contradict their source."""
    test = document["test"]
    for end in ("near", "far"):
        instrument = test.get(end, {}).get("instrument", {})
        for name in ("calibrated_on", "calibration_due"):
            if name in instrument and not _exists(instrument[name], date):
                path = f"$.test.{end}.instrument.{name}"
                yield path, f"{instrument[name]!r} is no day of the calendar"
    times = {f"$.test.{name}": test.get(name) for name in ("started", "ended")}
    times["$.test.field_reference.performed"] = test.get("field_reference", {}).get("performed")
    for path, time in times.items():
        text = (time or {}).get("rfc3339")
        if text is None:
            continue
        if not _exists(text, datetime):
            yield f"{path}.rfc3339", f"{text!r} is no time of the calendar"
        elif text.endswith("-00:00") is not (time["zone_source"] == "unknown"):
            yield f"{path}.rfc3339", "the offset is -00:00 when the zone is unknown, and only then"
    read_at = document.get("provenance", {}).get("read_at")
    if read_at is not None and not _exists(read_at, datetime):
        yield "$.provenance.read_at", f"{read_at!r} is no time of the calendar"


def _exists(text: str, kind: type[date]) -> bool:
    try:
        kind.fromisoformat(text)
    except ValueError:
        return False
    return True
