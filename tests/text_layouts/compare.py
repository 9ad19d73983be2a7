"""What a record holds against what the export said: which fields are wrong, which missing."""

from collections.abc import Iterator
from datetime import datetime
from typing import Any

from sweepbook.record.model import Record, frequency_mhz

from .heads import true_time
from .truth import KHZ, Key, Test
from .wording import Wording

Fault = tuple[str, str, str]
"""What is wrong: "wrong" or "missing", the field, and both texts."""

_FIELDS = {
    "operator": "test.operator",
    "near serial": "test.near.instrument.serial",
    "far serial": "test.far.instrument.serial",
    "limit name": "test.limit.as_stated",
    "cable maker": "link.cable.maker",
    "cable part": "link.cable.part",
}
_NUMBERS = ("delay_ns", "skew_ns", "length_m", "resistance_ohm", "unbalance_percent")
_LEAST = 1e-9


def faults(test: Test, record: Record, wording: Wording) -> Iterator[Fault]:
    """Everything in a record that is not as it was written."""
    document = record.document
    truth = {
        "operator": test.operator,
        "near serial": test.serials[0],
        "far serial": test.serials[1],
        "limit name": wording["limits"],
        "cable maker": test.maker,
        "cable part": test.part,
    }
    for name, path in _FIELDS.items():
        yield from _held(name, _at(document, path), truth[name])
    nvp = _at(document, "link.cable.nvp")
    yield from _held("nvp", None if nvp is None else round(float(nvp) * 1000), test.nvp)
    overall = "pass" if test.passed else "fail"
    yield from _held("overall", _at(document, "stated.overall.verdict"), overall)
    yield from _time(document, test, wording)
    yield from _scalars(document, test)
    yield from _curves(document, test)
    if wording.choices.margins != "none":
        yield from _stated(document, test, wording)


def _at(document: Any, path: str) -> Any:
    for step in path.split("."):
        document = document.get(step) if isinstance(document, dict) else None
    return document


def _held(name: str, have: object, want: object) -> Iterator[Fault]:
    if have is None:
        yield "missing", name, f"want {want!r}"
    elif have != want:
        yield "wrong", name, f"{have!r}, want {want!r}"


def _time(document: dict[str, Any], test: Test, wording: Wording) -> Iterator[Fault]:
    text = _at(document, "test.started.rfc3339")
    if text is None:
        yield "missing", "started", str(_at(document, "test.started"))
        return
    have, want = datetime.fromisoformat(text), true_time(test, wording)
    unzoned = text.endswith("-00:00")
    if have.replace(tzinfo=None) != want.replace(tzinfo=None):
        yield "wrong", "started", f"{text}, want {want}"
    elif unzoned != (wording.choices.zone == "none"):
        yield ("missing" if unzoned else "wrong"), "zone", f"{text}, want {want}"
    elif not unzoned and have != want:
        yield "wrong", "zone", f"{text}, want {want}"


def _scalars(document: dict[str, Any], test: Test) -> Iterator[Fault]:
    want: dict[tuple[str, tuple[str, ...]], float] = {("delay_skew", ()): float(test.skew)}
    want["length", ()] = test.length / 10
    for pair, ns in test.delay.items():
        want["propagation_delay", (pair,)] = float(ns)
    for pair, ohm in test.resistance.items():
        if ohm is not None:
            want["dc_loop_resistance", (pair,)] = ohm / 10
    have = {}
    for one in document["results"].get("scalars", []):
        number = next((one[of] for of in _NUMBERS if of in one), None)
        if number is not None:
            have[one["parameter"], tuple(one.get("pairs", ()))] = float(number)
    for (parameter, pairs), value in want.items():
        got = have.pop((parameter, pairs), None)
        if got is None:
            yield "missing", parameter, f"{pairs} want {value}"
        elif not abs(got - value) < _LEAST:
            yield "wrong", parameter, f"{pairs} {got}, want {value}"
    for (parameter, pairs), value in have.items():
        yield "wrong", parameter, f"{pairs} {value} that no one stated"


def _curves(document: dict[str, Any], test: Test) -> Iterator[Fault]:
    have: dict[Key, list[float | None]] = {}
    for sweep in document["results"].get("sweeps", []):
        parameter, pairs = sweep["parameter"], tuple(sweep["pairs"])
        pairs = tuple(sorted(pairs)) if parameter == "next" else pairs
        key = (parameter, None if parameter == "insertion_loss" else sweep.get("end"), pairs)
        have[key] = _values(document, sweep)
    for key, values in test.curves.items():
        want = [None if value is None else value / 100 for value in values]
        got = have.pop(key, None)
        if got is None:
            yield "missing", f"curve {key[0]}", str(key)
        elif got != want:
            yield "wrong", f"curve {key[0]}", f"{key} {got[:3]}, want {want[:3]}"
    for key in have:
        yield "wrong", f"curve {key[0]}", f"{key} that no one stated"


def _values(document: dict[str, Any], sweep: dict[str, Any]) -> list[float | None]:
    """The values at all frequencies of the export; none at those that a curve does not have."""
    axis = [round(float(mhz) * 1000, 6) for mhz in frequency_mhz(document, sweep["grid"])]
    gaps = {at for gap in sweep.get("gaps", []) for at in range(gap["from"], gap["to"] + 1)}
    numbers = iter(sweep["value_db"])
    held = {khz: None if at in gaps else float(next(numbers)) for at, khz in enumerate(axis)}
    if not set(held) <= set(KHZ):
        return [-1.0]
    return [held.get(khz) for khz in KHZ]


def _stated(document: dict[str, Any], test: Test, wording: Wording) -> Iterator[Fault]:
    paired = wording.choices.margins == "rows" and wording.choices.margin_pair != "none"
    paired = paired and wording.choices.structure != "joined"
    items = _at(document, "stated.items") or []
    for one in test.stated:
        if (
            wording.choices.margins == "across"
            and one.end is None
            and wording.choices.structure != "joined"
        ):
            continue
        some = [
            item
            for item in items
            if item["parameter"] == one.parameter
            and (one.parameter == "insertion_loss" or item.get("end") == one.end)
            and ("worst_margin" in item or "verdict" in item)
        ]
        name = f"{one.parameter} {one.end}"
        worst = [item for item in some if "worst_margin" in item]
        if not worst:
            yield "missing", "margin", name
        elif len(worst) > 1:
            yield "wrong", "margin", f"{name}: {len(worst)} of them"
        else:
            yield from _worst(worst[0], one, name, paired=paired)
        verdicts = {item["verdict"] for item in some if "verdict" in item}
        want = "pass" if one.passed else "fail"
        if not verdicts:
            yield "missing", "verdict", name
        elif verdicts != {want}:
            yield "wrong", "verdict", f"{name}: {verdicts}, want {want}"


def _worst(item: dict[str, Any], one: Any, name: str, *, paired: bool) -> Iterator[Fault]:
    worst = item["worst_margin"]
    pairs = tuple(worst.get("pairs") or item.get("pairs") or ())
    same = sorted(pairs) == sorted(one.pairs) if one.parameter == "next" else pairs == one.pairs
    if paired and not pairs:
        yield "missing", "pair of a margin", name
    elif paired and not same:
        yield "wrong", "pair of a margin", f"{name}: {pairs}, want {one.pairs}"
    if not abs(float(worst["margin_db"]) - one.margin / 10) < _LEAST:
        yield "wrong", "margin", f"{name}: {worst['margin_db']}, want {one.margin / 10}"
    at = worst.get("frequency_mhz")
    if at is None:
        yield "missing", "frequency of a margin", name
    elif not abs(float(at) * 1000 - one.khz) < _LEAST * one.khz:
        yield "wrong", "frequency of a margin", f"{name}: {at}, want {one.khz / 1000}"
