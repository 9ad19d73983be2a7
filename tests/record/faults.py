"""Ways not to follow record-1, one change each, with the place and words of the problem."""

from collections.abc import Callable
from typing import Any

Document = dict[str, Any]
Change = Callable[[Document], object]
SWEEP, SCALAR, MARGIN = (
    "$.results.sweeps[0]",
    "$.results.scalars[0]",
    "$.stated.items[0].worst_margin",
)


def sweep(document: Document, position: int = 0) -> Document:
    found: Document = document["results"]["sweeps"][position]
    return found


def scalar(document: Document) -> Document:
    found: Document = document["results"]["scalars"][0]
    return found


def margin(document: Document) -> Document:
    found: Document = document["stated"]["items"][0]["worst_margin"]
    return found


def put(value: object, *way: str | int) -> Change:
    def change(document: Any) -> None:
        for name in way[:-1]:
            document = document[name]
        document[way[-1]] = value

    return change


# What the JSON Schema alone says: (change, path of the problem, words of the message).
BY_SCHEMA: dict[str, tuple[Change, str, str]] = {
    "another schema": (put("urn:sweepbook:record-9", "schema"), "$.schema", "is not one of"),
    "no origin": (lambda d: d.pop("origin"), "$", "'origin' is a required property"),
    "no link": (lambda d: d.pop("link"), "$", "'link' is a required property"),
    "a stray member": (put(1, "verdict"), "$", "has a member 'verdict'"),
    "a stray member inside": (put(1, "link", "colour"), "$.link", "'colour' was unexpected"),
    "an empty label": (put("", "link", "label"), "$.link.label", "non-empty"),
    "a label that is a number": (put(7, "link", "label"), "$.link.label", "not of type 'string'"),
    "an empty object": (put({}, "extra"), "$.extra", "non-empty"),
    "extra that is no text": (put(7, "extra", "weather"), "$.extra.weather", "not of type"),
    "an extension without a domain": (put(1, "extensions", "mine"), "$.extensions", "'mine'"),
    "an NVP of more than 1": (put(69, "link", "cable", "nvp"), "$.link.cable.nvp", "maximum of 1"),
    "an NVP without digits": (
        lambda d: d["link"]["cable"].pop("nvp_decimals"),
        "$.link.cable",
        "'nvp_decimals' is a dependency of 'nvp'",
    ),
    "a purpose of no kind": (put("fun", "test", "purpose"), "$.test.purpose", "not one of"),
    "a time without zone": (
        put({"as_stated": "now", "rfc3339": "2026-03-04T09:12:00Z"}, "test", "started"),
        "$.test.started",
        "'zone_source' is a dependency",
    ),
    "a time without offset": (
        put("2026-03-04T09:12:00", "test", "started", "rfc3339"),
        "$.test.started.rfc3339",
        "does not match",
    ),
    "a contact 0": (
        put("0", "results", "wire_map", "pins", 0, 0),
        "$.results.wire_map.pins[0][0]",
        "'0'",
    ),
    "a contact alone": (
        put(["1"], "results", "wire_map", "pins", 0),
        "$.results.wire_map.pins[0]",
        "short",
    ),
    "a figure without value": (lambda d: scalar(d).pop("length_m"), SCALAR, "has no value"),
    "a figure with two": (
        lambda d: scalar(d).update(delay_ns=1),
        SCALAR,
        "'length_m' must not stand beside delay_ns",
    ),
    "a figure without digits": (lambda d: scalar(d).pop("decimals"), SCALAR, "'decimals' is a req"),
    "a sweep without values": (lambda d: sweep(d).pop("value_db"), SWEEP, "has no values"),
    "a sweep with two": (
        lambda d: sweep(d).update(delay_ns=[1]),
        SWEEP,
        "'delay_ns' must not stand beside value_db",
    ),
    "a pair of no connector": (
        lambda d: sweep(d).update(pairs=["1-0"]),
        f"{SWEEP}.pairs[0]",
        "1-0",
    ),
    "a pair with itself": (
        lambda d: sweep(d).update(pairs=["1-2", "1-2"]),
        f"{SWEEP}.pairs",
        "non-unique",
    ),
    "an end of three": (lambda d: sweep(d).update(end="middle"), f"{SWEEP}.end", "not one of"),
    "negative digits": (
        lambda d: sweep(d).update(decimals=-1),
        f"{SWEEP}.decimals",
        "minimum of 0",
    ),
    "a resolution of 0": (lambda d: sweep(d).update(resolution=0), f"{SWEEP}.resolution", "0"),
    "a gap without reason": (
        lambda d: sweep(d)["gaps"][0].pop("reason"),
        f"{SWEEP}.gaps[0]",
        "'reason'",
    ),
    "text among numbers": (
        lambda d: sweep(d).update(value_db=[1, "2"]),
        f"{SWEEP}.value_db[1]",
        "'2'",
    ),
    "true among numbers": (
        lambda d: sweep(d).update(value_db=[1, True]),
        f"{SWEEP}.value_db[1]",
        "True",
    ),
    "null among numbers": (
        lambda d: sweep(d).update(value_db=[None, 1]),
        f"{SWEEP}.value_db[0]",
        "None",
    ),
    "lists among numbers": (
        lambda d: sweep(d).update(value_db=[[1], [2]]),
        f"{SWEEP}.value_db[0]",
        "[1]",
    ),
    "a negative frequency": (
        put([-1, 1, 2, 3], "results", "grids", 0, "frequency_mhz"),
        "$.results.grids[0].frequency_mhz[0]",
        "negative",
    ),
    "a grid without points": (
        put([], "results", "grids", 0, "frequency_mhz"),
        "$.results.grids[0].frequency_mhz",
        "non-empty",
    ),
    "a grid twice over": (
        put([1], "results", "grids", 1, "frequency_mhz"),
        "$.results.grids[1]",
        "'runs' must not stand beside frequency_mhz",
    ),
    "a grid of nothing": (
        lambda d: d["results"]["grids"][1].pop("runs"),
        "$.results.grids[1]",
        "neither frequency_mhz nor runs",
    ),
    "a step of 0": (
        put("0.00", "results", "grids", 1, "runs", 0, "step"),
        "$.results.grids[1].runs[0].step",
        "'0.00'",
    ),
    "sweeps without grids": (
        lambda d: d["results"].pop("grids"),
        "$.results",
        "'grids' is a depend",
    ),
    "a form without its arrays": (
        lambda d: sweep(d, 2)["complex"].pop("imaginary"),
        "$.results.sweeps[2].complex",
        "'imaginary' is a required",
    ),
    "arrays of another form": (
        lambda d: sweep(d, 2)["complex"].update(magnitude=[1, 1, 1]),
        "$.results.sweeps[2].complex",
        "'magnitude' does not belong to this form",
    ),
    "a margin of two units": (
        lambda d: margin(d).update(margin_ns=1),
        MARGIN,
        "'margin_ns' must not stand beside margin_db",
    ),
    "a limit of another unit": (
        lambda d: margin(d).update(limit_ns=1),
        MARGIN,
        "'margin_ns' is a dep",
    ),
    "a verdict of no kind": (
        put("okay", "stated", "overall", "verdict"),
        "$.stated.overall.verdict",
        "not one of",
    ),
    "accuracy of nothing": (
        lambda d: d["test"]["accuracy"][0].pop("constant_db"),
        "$.test.accuracy[0]",
        "has none of",
    ),
}

# What goes beyond the JSON Schema.
BEYOND: dict[str, tuple[Change, str, str]] = {
    "a newline after an id": (
        put("0" * 64 + "\n", "origin", 0, "sha256"),
        "$.origin[0].sha256",
        "match",
    ),
    "an integer with a mark": (
        lambda d: sweep(d).update(decimals=2.0),
        f"{SWEEP}.decimals",
        "'integer'",
    ),
    "a value too few": (
        lambda d: sweep(d).update(value_db=[1]),
        f"{SWEEP}.value_db",
        "has 1 values; the grid 'list' has 4 points, 2 of them in gaps, so 2 are expected",
    ),
    "a value too many": (
        lambda d: sweep(d, 1)["delay_ns"].append(1),
        "$.results.sweeps[1].delay_ns",
        "has 4",
    ),
    "parts of unequal length": (
        lambda d: sweep(d, 2)["complex"]["real"].pop(),
        "$.results.sweeps[2].complex.real",
        "has 2 values",
    ),
    "a gap beyond the grid": (
        lambda d: sweep(d)["gaps"][0].update(to=4),
        f"{SWEEP}.gaps[0]",
        "ends at 4; the grid ends at position 3",
    ),
    "a gap turned round": (
        lambda d: sweep(d)["gaps"][0].update({"from": 2, "to": 1}),
        f"{SWEEP}.gaps[0]",
        "backwards",
    ),
    "gaps that overlap": (
        lambda d: sweep(d)["gaps"].append({"from": 2, "to": 3, "reason": "x"}),
        f"{SWEEP}.gaps[1]",
        "begins at 2",
    ),
    "a bound on a gap": (
        lambda d: sweep(d)["bounds"][0].update(to=1),
        f"{SWEEP}.bounds[0]",
        "lies on a gap",
    ),
    "a grid that is not there": (lambda d: sweep(d).update(grid="x"), f"{SWEEP}.grid", "id 'x'"),
    "two grids of one id": (
        put("list", "results", "grids", 1, "id"),
        "$.results.grids[1].id",
        "an earlier grid",
    ),
    "a grid without end": (
        lambda d: d["results"]["grids"][1].update(
            runs=[{"start": "1", "step": "1", "count": 600_000}] * 2
        ),
        "$.results.grids[1].runs",
        "1200000 points",
    ),
    "30 February": (
        put("2026-02-30", "test", "near", "instrument", "calibration_due"),
        "$.test.near.instrument.calibration_due",
        "no day of the calendar",
    ),
    "25 o'clock": (
        put("2026-03-04T25:00:00-00:00", "test", "started", "rfc3339"),
        "$.test.started.rfc3339",
        "no time of the calendar",
    ),
    "an offset that nobody knows": (
        put("2026-03-04T09:00:00+01:00", "test", "started", "rfc3339"),
        "$.test.started.rfc3339",
        "-00:00 when the zone is unknown",
    ),
    "an unknown offset that is known": (
        put("stated", "test", "field_reference", "performed", "zone_source"),
        "$.test.field_reference.performed.rfc3339",
        "-00:00 when the zone is unknown",
    ),
    "a time of reading of no day": (
        put("2026-13-01T00:00:00Z", "provenance", "read_at"),
        "$.provenance.read_at",
        "no time",
    ),
    "crosstalk of one pair": (
        lambda d: sweep(d).update(pairs=["1-2"]),
        f"{SWEEP}.pairs",
        "fext has 2 pairs here, not 1",
    ),
    "crosstalk without an end": (lambda d: sweep(d).pop("end"), SWEEP, "near or far"),
    "a delay with an end": (
        lambda d: sweep(d, 1).update(end="near"),
        "$.results.sweeps[1].end",
        "has no end",
    ),
    "a delay in dB": (
        lambda d: sweep(d, 1).update(value_db=sweep(d, 1).pop("delay_ns")),
        "$.results.sweeps[1]",
        "propagation_delay is given in ns: delay_ns",
    ),
    "a length in ohm": (
        lambda d: scalar(d).update(resistance_ohm=scalar(d).pop("length_m")),
        SCALAR,
        "length is given in m: length_m",
    ),
    "a wire map as a figure": (
        lambda d: scalar(d).update(parameter="wire_map", pairs=[]),
        SCALAR,
        "a place of its own",
    ),
}
