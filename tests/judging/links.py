"""Made-up links to judge: every curve and figure a full proof needs, each easy to change.

The values are round figures chosen to pass with room to spare; no limit was looked at to shape
them beyond that.
"""

from collections.abc import Callable, Iterable, Mapping
from functools import cache
from itertools import combinations, permutations
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sweepbook.judging.assessment import Assessment, Margin
from sweepbook.judging.judge import judge_with_working
from sweepbook.judging.settings import JudgeSettings
from sweepbook.judging.working import Working
from sweepbook.limits.interpretations import Interpretations
from sweepbook.limits.library import Library
from sweepbook.limits.model import LimitTable
from sweepbook.record.model import Record

F64 = NDArray[np.float64]
PAIRS = ("1-2", "3-6", "4-5", "7-8")
ENDS = ("near", "far")
TIA = "tia-568.2-d/cat6a/permanent-link"
TIA_CHANNEL = "tia-568.2-d/cat6a/channel"
ISO = "iso-11801-1-2017/class-ea/permanent-link"
ORDERS_DB = 0.5  # how far NEXT in the other order may be off
Change = Callable[[dict[str, Any]], None]


@cache
def grid() -> F64:
    """1 to 500 MHz with the largest steps remembered of the standards: 0.15, 0.25, 0.5, 1 MHz."""
    parts = (
        1.0 + 0.15 * np.arange(202),
        31.25 + 0.25 * np.arange(275),
        100.0 + 0.5 * np.arange(300),
        250.0 + np.arange(251),
    )
    return np.concatenate(parts).astype(np.float64).round(2)


def loss(f: F64) -> F64:
    """Insertion loss of some 60 m of cable: 1 dB at 1 MHz, 28 dB at 500 MHz."""
    return 1.15 * np.sqrt(f) + 0.0052 * f


def sweep(parameter: str, end: str | None, pairs: Iterable[str], values: F64) -> dict[str, Any]:
    head: dict[str, Any] = {"parameter": parameter}
    if end is not None:
        head["end"] = end
    return {**head, "pairs": list(pairs), "grid": "g", "decimals": 2, "value_db": values.round(2)}


def sweeps(f: F64) -> list[dict[str, Any]]:
    """The 36 raw sweeps: IL 4, RL 8, NEXT 12, FEXT 12 received at the far end."""
    lines = 20.0 * np.log10(f)
    found = [sweep("insertion_loss", None, [pair], loss(f)) for pair in PAIRS]
    for end in ENDS:
        found += [sweep("return_loss", end, [pair], 40.0 - lines / 2.5) for pair in PAIRS]
        found += [sweep("next", end, two, 100.0 - lines) for two in combinations(PAIRS, 2)]
    for i, k in permutations(PAIRS, 2):
        found.append(sweep("fext", "far", [i, k], 80.0 - lines + loss(f)))
    for number, one in enumerate(found):
        better = -1.0 if one["parameter"] == "insertion_loss" else 1.0
        one["value_db"][8::11] += 0.01 * number * better  # no two measurements are the same
    return found


def scalars() -> list[dict[str, Any]]:
    """Lengths of 58 m and up, delays of 290 ns and up, 9 ohm a loop."""
    found: list[dict[str, Any]] = []
    for row, pair in enumerate(PAIRS):
        found.append(scalar("length", pair, length_m=58.0 + row, decimals=1))
        found.append(scalar("propagation_delay", pair, delay_ns=290 + 3 * row, decimals=0))
        found.append(scalar("dc_loop_resistance", pair, resistance_ohm=9.0, decimals=1))
    return found


def scalar(parameter: str, pair: str | None, **values: Any) -> dict[str, Any]:
    return {"parameter": parameter, "pairs": [pair] if pair else [], **values}


def scale(body: dict[str, Any], share: float) -> None:
    """Make lengths, delays and loop resistances those of a longer or shorter link."""
    for one in body["results"]["scalars"]:
        for name in ("length_m", "delay_ns", "resistance_ohm"):
            if name in one:
                one[name] = round(one[name] * share, 3)
                one["decimals"] = 3


def straight() -> list[list[str]]:
    return [[str(pin), str(pin)] for pin in range(1, 9)]


def members() -> dict[str, Any]:
    """link, test, results and stated of the good link."""
    return {
        "link": {"label": "A-01", "cable": {"construction": "U/UTP"}},
        "test": {"limit": {"as_stated": "Category 6A"}},
        "results": {
            "wire_map": {"pins": straight(), "screen": "none"},
            "scalars": scalars(),
            "grids": [{"id": "g", "frequency_mhz": grid()}],
            "sweeps": sweeps(grid()),
        },
        "stated": {"overall": {"verdict": "pass", "as_stated": "PASS"}},
    }


def record(*changes: Change) -> Record:
    """The good link with changes."""
    body = members()
    for change in changes:
        change(body)
    origin = [{"sha256": "0" * 64, "name": "made up", "locator": ""}]
    return Record.build(**body, origin=origin)


@cache
def library() -> Library:
    return Library.load()


def table(path: str = TIA) -> LimitTable:
    return library().table(path)


@cache
def readings() -> Interpretations:
    return Interpretations.load()


def settings(**options: Any) -> JudgeSettings:
    return JudgeSettings(**{"interpretations": readings(), **options})


def judged(
    *changes: Change, path: str = TIA, options: Mapping[str, Any] | None = None
) -> tuple[Assessment, Working]:
    """Judge the good link with changes."""
    return judge_with_working(record(*changes), table(path), settings(**(options or {})))


def margin(assessment: Assessment, parameter: str, end: str | None, *pairs: str) -> Margin:
    """The margin of one curve."""
    found = [
        m for m in assessment.margins if (m.parameter, m.end, m.pairs) == (parameter, end, pairs)
    ]
    assert len(found) == 1, f"{len(found)} margins of {parameter} {end} {pairs}"
    return found[0]


def find(body: dict[str, Any], parameter: str, end: str | None, *pairs: str) -> dict[str, Any]:
    """One sweep of a record under construction."""
    found: list[dict[str, Any]] = [
        s
        for s in body["results"]["sweeps"]
        if (s["parameter"], s.get("end"), tuple(s["pairs"])) == (parameter, end, pairs)
    ]
    assert len(found) == 1, f"{len(found)} sweeps of {parameter} {end} {pairs}"
    return found[0]


def at(f_mhz: float) -> int:
    """Position of a frequency on the grid."""
    place = int(np.argmin(np.abs(grid() - f_mhz)))
    assert grid()[place] == f_mhz
    return place


def put(parameter: str, end: str | None, pairs: tuple[str, ...], f_mhz: float, db: float) -> Change:
    """Set one value of one curve."""

    def change(body: dict[str, Any]) -> None:
        find(body, parameter, end, *pairs)["value_db"][at(f_mhz)] = db

    return change


def stating(verdict: str | None) -> Change:
    """State a verdict, or none."""

    def change(body: dict[str, Any]) -> None:
        body["stated"] = {"overall": {"verdict": verdict, "as_stated": verdict}} if verdict else {}

    return change


def without(parameter: str, end: str | None = None, *pairs: str) -> Change:
    """Leave out the sweeps of a parameter, of one end or of some pairs."""

    def change(body: dict[str, Any]) -> None:
        body["results"]["sweeps"] = [
            s
            for s in body["results"]["sweeps"]
            if s["parameter"] != parameter
            or (end is not None and s.get("end") != end)
            or (pairs and tuple(s["pairs"]) != pairs)
        ]

    return change


def adding(*more: dict[str, Any]) -> Change:
    """Add sweeps."""

    def change(body: dict[str, Any]) -> None:
        body["results"]["sweeps"] += more

    return change
