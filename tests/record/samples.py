"""Records for the tests of the record: one made by hand, and any number made at random."""

import copy
from typing import Any

from hypothesis import strategies as st

from sweepbook.record.model import Record

ORIGIN = [{"sha256": "0" * 64, "name": "made up.csv", "locator": "lines 1-9"}]
PAIRS = ("1-2", "3-6", "4-5", "7-8")

TIME = {
    "as_stated": "4 March 2026, 9:12",
    "rfc3339": "2026-03-04T09:12:00-00:00",
    "zone_source": "unknown",
}

BODY: dict[str, Any] = {
    "link": {
        "label": "007",
        "near": {"place": {"floor": "1"}, "termination": "K1-07", "connector": {"screened": False}},
        "cable": {"nvp": 0.69, "nvp_decimals": 2},
        "external_ids": [{"system": "register", "id": "0042"}],
    },
    "test": {
        "purpose": "initial",
        "limit": {"as_stated": "Category 6A"},
        "configuration": {"kind": "channel"},
        "started": TIME,
        "near": {"instrument": {"serial": "007", "calibration_due": "2026-09-15"}},
        "field_reference": {"performed": TIME, "units": ["007"]},
        "accuracy": [
            {"parameter": "next", "constant_db": 0.8},
            {"parameter": "fext", "curve": {"frequency_mhz": [1, 500], "value_db": [0.5, 1.25]}},
        ],
    },
    "results": {
        "wire_map": {"pins": [["1", "1"], ["3", None]], "screen": "none"},
        "scalars": [
            {"parameter": "length", "pairs": ["1-2"], "length_m": 62.1, "decimals": 1},
            {"parameter": "delay_skew", "pairs": [], "delay_ns": 9, "decimals": 0},
        ],
        "grids": [
            {"id": "list", "frequency_mhz": [1, 1.15, 1.3, 2]},
            {"id": "runs", "runs": [{"start": "1", "step": "0.15", "count": 3}]},
        ],
        "sweeps": [
            {
                "parameter": "fext",
                "end": "far",
                "pairs": ["1-2", "3-6"],
                "grid": "list",
                "decimals": 2,
                "value_db": [90, 88.12],
                "gaps": [{"from": 1, "to": 2, "reason": "missing", "as_stated": "--"}],
                "bounds": [{"from": 0, "to": 0, "bound": "at_least", "as_stated": ">90"}],
            },
            {
                "parameter": "propagation_delay",
                "pairs": ["1-2"],
                "grid": "runs",
                "decimals": 1,
                "delay_ns": [302.1, 301, 300.2],
            },
            {
                "parameter": "return_loss",
                "end": "near",
                "pairs": ["1-2"],
                "grid": "runs",
                "decimals": 4,
                "complex": {
                    "form": "real-imaginary",
                    "real": [0.01, -0.02, 0.03],
                    "imaginary": [0.0012, 0, -1e-05],
                    "reference_ohm": 100,
                },
            },
        ],
    },
    "stated": {
        "overall": {"verdict": "pass", "as_stated": "OK"},
        "items": [
            {
                "parameter": "next",
                "verdict": "pass*",
                "worst_margin": {"margin_db": 0.1, "decimals": 1, "as_stated": "0.1"},
            }
        ],
    },
    "extra": {"weather": "fair"},
    "attachments": [
        {
            "role": "photograph",
            "media_type": "image/png",
            "sha256": "1" * 64,
            "bytes": 12,
            "name": "panel.png",
        }
    ],
    "extensions": {"org.example.notes": {"deep": [1, 2.5, None, {"name": "x"}]}},
    "resolved": {"label": "7", "limit": {"how": "no table of this name"}},
    "provenance": {"program": "sweepbook", "read_at": "2026-03-05T10:00:00Z"},
}


def body() -> dict[str, Any]:
    """A copy of the members of the record made by hand, to be changed freely."""
    return copy.deepcopy(BODY)


def record() -> Record:
    """The record made by hand; it uses nearly every member there is."""
    return Record.build(**body(), origin=ORIGIN)


def plain() -> dict[str, Any]:
    """Its document with plain lists, as a JSON parser gives it."""
    made = record().document
    head = {name: made[name] for name in ("schema", "kind", "record_id")}
    return {**head, "origin": copy.deepcopy(ORIGIN), **body()}


finite = st.floats(allow_nan=False, allow_infinity=False)
readings = st.decimals(-200, 200, places=2, allow_nan=False, allow_infinity=False).map(float)
texts = st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=12)
json_values = st.recursive(
    st.none() | st.booleans() | st.integers(-(2**53) + 1, 2**53 - 1) | finite | texts,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(texts, inner, max_size=3),
    max_leaves=8,
)


@st.composite
def spans(draw: st.DrawFn, points: int) -> list[tuple[int, int]]:
    """Some runs of positions below `points`, by rising position, without overlap."""
    edges = sorted(draw(st.sets(st.integers(0, points - 1), max_size=6)))
    pairs = zip(edges[::2], edges[1::2], strict=False)
    return [(first, last) for first, last in pairs]


@st.composite
def sweeps(draw: st.DrawFn, grid: str, points: int) -> dict[str, Any]:
    """A sweep on a grid of so many points, with gaps and bounds that do not meet."""
    runs = draw(spans(points))
    holes = runs[::2]
    gaps = [{"from": first, "to": last, "reason": "missing"} for first, last in holes]
    bounds = [{"from": a, "to": b, "bound": "at_least"} for a, b in runs[1::2]]
    size = points - sum(last - first + 1 for first, last in holes)
    sweep: dict[str, Any] = {
        "parameter": "next",
        "end": draw(st.sampled_from(["near", "far"])),
        "pairs": draw(st.permutations(PAIRS))[:2],
        "grid": grid,
        "decimals": draw(st.integers(0, 15)),
        "value_db": draw(st.lists(readings | finite, min_size=size, max_size=size)),
    }
    return sweep | ({"gaps": gaps} if gaps else {}) | ({"bounds": bounds} if bounds else {})


@st.composite
def records(draw: st.DrawFn) -> Record:
    """Records that follow the schema."""
    members = body()
    members["link"]["label"] = draw(texts)
    members["extra"] = draw(
        st.dictionaries(texts, st.text(st.characters(exclude_categories=["Cs"])))
    )
    members["extensions"] = {"org.example.any": draw(json_values)}
    frequencies = draw(st.lists(st.floats(0, 3000), min_size=1, max_size=12, unique=True))
    grid = {"id": "g", "frequency_mhz": frequencies}
    made = draw(st.lists(sweeps("g", len(frequencies)), min_size=1, max_size=3))
    members["results"]["grids"] = [grid]
    members["results"]["sweeps"] = made
    return Record.build(**members, origin=ORIGIN)
