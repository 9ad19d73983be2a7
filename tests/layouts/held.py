"""Holds records against the tests that an export was written from, field by field."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime
from typing import Any, NamedTuple

from sweepbook.record.model import frequency_mhz

from .truth import Stated, Test

Document = Mapping[str, Any]
WRONG, LACKING = "wrong", "lacking"
_SAME = 1e-6


class Fault(NamedTuple):
    """A field that is not as it should be: its kind, wrong or lacking, and what was held."""

    field: str
    kind: str
    told: str


def faults(tests: Sequence[Test], documents: Sequence[Document]) -> list[Fault]:
    """All that differs between tests and the records that were read of them."""
    found: list[Fault] = []
    by_label = {_at(document, "link.label"): document for document in documents}
    if len(by_label) < len(documents):
        found.append(Fault("label", WRONG, "two records of one label"))
    labels = {test.label for test in tests}
    strange = [label for label in by_label if label not in labels]
    found += [Fault("label", WRONG, f"a record of {label!r}") for label in strange if label]
    left = [document for label, document in by_label.items() if label not in labels]
    for test in tests:
        document = by_label.get(test.label) or (left.pop(0) if left else None)
        if document is None:
            found.append(Fault("test", LACKING, test.label))
            continue
        if _at(document, "link.label") is None:
            found.append(Fault("label", LACKING, test.label))
        found += [*_facts(test, document), *_scalars(test, document)]
        found += [*_curves(test, document), *_stated(test, document)]
    return found


def _at(document: Document, path: str) -> Any:
    at: Any = document
    for step in path.split("."):
        at = at.get(step) if isinstance(at, Mapping) else None
    return at


def _facts(test: Test, document: Document) -> Iterator[Fault]:
    wanted: dict[str, object] = {
        "test.operator": test.operator,
        "test.near.instrument.serial": test.serials[0],
        "test.far.instrument.serial": test.serials[1],
        "test.limit.as_stated": test.limit,
        "link.cable.maker": test.cable[0],
        "link.cable.part": test.cable[1],
        "link.cable.nvp": round(test.cable[2] / 100, 6),
        "stated.overall.verdict": "pass" if test.passed else "fail",
    }
    for path, value in wanted.items():
        held = _at(document, path)
        if held is None:
            yield Fault(path, LACKING, "")
        elif held != value and not (
            isinstance(held, float) and abs(held - float(str(value))) < _SAME
        ):
            yield Fault(path, WRONG, f"{held!r} in place of {value!r}")
    started = _at(document, "test.started.rfc3339")
    if started is None:
        yield Fault("test.started", LACKING, "")
    elif not _same_time(str(started), test.started):
        yield Fault("test.started", WRONG, f"{started} in place of {test.started.isoformat()}")


def _same_time(held: str, wanted: datetime) -> bool:
    time = datetime.fromisoformat(held)
    return time == wanted and time.utcoffset() == wanted.utcoffset()


def _scalars(test: Test, document: Document) -> Iterator[Fault]:
    wanted: dict[tuple[str, tuple[str, ...]], float | None] = {
        ("length", ()): test.metres,
        ("delay_skew", ()): test.skew,
    }
    wanted |= {("propagation_delay", (pair,)): value for pair, value in test.delay.items()}
    wanted |= {("dc_loop_resistance", (pair,)): value for pair, value in test.resistance.items()}
    units = (
        "value_ns",
        "delay_ns",
        "skew_ns",
        "length_m",
        "resistance_ohm",
        "value_m",
        "value_ohm",
    )
    held: dict[tuple[str, tuple[str, ...]], float | None] = {}
    for scalar in document.get("results", {}).get("scalars", []):
        values = [value for name, value in scalar.items() if name in units]
        held[scalar["parameter"], tuple(scalar.get("pairs", []))] = values[0] if values else None
    for key, value in wanted.items():
        found = held.get(key)
        if found is None:
            yield from [Fault(key[0], LACKING, " ".join(key[1]))] if value is not None else []
        elif value is None or abs(found - value) > _SAME:
            yield Fault(key[0], WRONG, f"{found} in place of {value}")
    for key in held:
        if key not in wanted:
            yield Fault(key[0], WRONG, f"one of {key[1]}")


def _curves(test: Test, document: Document) -> Iterator[Fault]:
    left = dict(test.curves)
    for sweep in document.get("results", {}).get("sweeps", []):
        parameter, end, pairs = sweep["parameter"], sweep.get("end"), tuple(sweep["pairs"])
        pairs = tuple(sorted(pairs)) if parameter == "next" else pairs
        key = (parameter, None if parameter == "insertion_loss" else end, pairs)
        wanted = left.pop(key, None)
        if wanted is None:
            yield Fault("curves", WRONG, f"a curve of {parameter} {end} {'/'.join(pairs)}")
            continue
        axis = [float(mhz) for mhz in frequency_mhz(document, sweep["grid"])]
        if [round(mhz * 1000) for mhz in axis] != test.khz:
            yield Fault("axis", WRONG, f"{axis[:2]} to {axis[-1]} MHz")
        elif not _same_values(sweep, wanted):
            yield Fault("curves", WRONG, f"values of {parameter} {end} {'/'.join(pairs)}")
    if left:
        yield Fault("curves", LACKING, f"{len(left)}, such as {next(iter(left))}")


def _same_values(sweep: Mapping[str, Any], wanted: Sequence[float | None]) -> bool:
    gaps = {at for gap in sweep.get("gaps", []) for at in range(gap["from"], gap["to"] + 1)}
    measured = iter(sweep["value_db"])
    held = [None if at in gaps else float(next(measured)) for at in range(len(wanted))]
    return all(
        (a is None) == (b is None) and (a is None or b is None or abs(a - b) < _SAME)
        for a, b in zip(held, wanted, strict=True)
    )


def _stated(test: Test, document: Document) -> Iterator[Fault]:
    items = _at(document, "stated.items") or []
    for stated in test.stated:
        some = [item for item in items if item["parameter"] == stated.parameter]
        some = [item for item in some if stated.end is None or item.get("end") == stated.end]
        verdicts = {item["verdict"] for item in some if item.get("verdict")}
        if not verdicts:
            yield Fault("verdicts", LACKING, f"{stated.parameter} {stated.end}")
        elif verdicts != {"pass" if stated.passed else "fail"}:
            yield Fault("verdicts", WRONG, f"{stated.parameter} {stated.end} {verdicts}")
        margins = [item for item in some if item.get("worst_margin")]
        if not margins:
            yield Fault("margins", LACKING, f"{stated.parameter} {stated.end}")
        elif any(not _same_margin(item, stated) for item in margins):
            yield Fault("margins", WRONG, f"{margins[0]} in place of {stated}")


def _same_margin(item: Mapping[str, Any], stated: Stated) -> bool:
    margin = item["worst_margin"]
    pairs = tuple(margin.get("pairs") or item.get("pairs") or ())
    pairs = tuple(sorted(pairs)) if stated.parameter == "next" else pairs
    frequency = margin.get("frequency_mhz")
    return (
        pairs == stated.pairs
        and abs(margin.get("margin_db", 1e9) - stated.margin) < _SAME
        and frequency is not None
        and abs(frequency * 1000 - stated.khz) < 1e-3
    )
