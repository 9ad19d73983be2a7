"""What the program computes, held to a reader that knows nothing but the written specification."""

import json
import shutil
import subprocess
import sys
from collections import Counter
from collections.abc import Callable
from copy import deepcopy
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from . import reader, thorough
from .identity import record_id

ROOT = Path(__file__).parents[2]
LIMITS = ROOT / "schemas" / "sweepbook_schemas" / "limits"
DEMO = ROOT / "demo_data" / "sweepbook_demo"
PROGRAM = shutil.which("sweepbook", path=str(Path(sys.executable).parent)) or "sweepbook"

Json = dict[str, Any]

SWEPT = {"insertion_loss", "return_loss", "next", "psnext", "acr_n", "psacr_n", "acr_f", "psacr_f"}
TIMED = {"propagation_delay", "delay_skew"}  # swept by one make, single figures of the other
SINGLE = {"length", "dc_loop_resistance"}


def sweepbook(*arguments: str | Path) -> Json:
    done = subprocess.run(
        [PROGRAM, *map(str, arguments)], capture_output=True, encoding="utf-8", check=False
    )
    assert done.returncode in (0, 1), done.stderr
    answer: Json = json.loads(done.stdout)
    return answer


def differences(
    record: Json,
    checked: Json,
    margins: Callable[[Json, Json], tuple[Any, Any]],
    table: Json | None = None,
) -> tuple[Counter[str], list[str]]:
    """How many margins were compared of each parameter, and the ones that differ."""
    if table is None:
        table = json.loads((LIMITS / f"{checked['limit']['path']}.json").read_bytes())
    curves, figures = margins(record, table)
    theirs: dict[Any, tuple[float, float | None]] = {}
    for m in checked["margins"]:
        if m["worst_margin_db"] is not None:
            key = "curve", m["parameter"], m["end"], tuple(m["pairs"])
            theirs[key] = m["worst_margin_db"], m["worst_margin_mhz"]
    for m in checked["scalars"]:
        if m["margin"] is not None and m["parameter"] != "wire_map":
            pairs = tuple(m["pair"].split("/")) if m["pair"] else ()
            theirs["figure", m["parameter"], None, pairs] = m["margin"], None
    ours = {("curve", *key): value for key, value in curves.items()}
    ours |= {("figure", *key): (margin, None) for key, (margin, _) in figures.items()}
    differ = []
    for key in ours.keys() | theirs.keys():
        mine, other = ours.get(key), theirs.get(key)
        if not (mine and other and abs(mine[0] - other[0]) <= 1e-9 and mine[1] == other[1]):
            differ.append(f"{checked['label']} {key}: reader {mine}, program {other}")
    return Counter(key[1] for key in ours.keys() & theirs.keys()), differ


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder: Path = tmp_path_factory.mktemp("independent") / "book"
    dialects = [text for d in sorted(DEMO.glob("dialects/*")) for text in ("--dialect", d)]
    sweepbook("gather", "--json", *dialects, folder, DEMO / "exports")
    return folder


@pytest.fixture(scope="module")
def records(book: Path) -> dict[str, Json]:
    found = [json.loads(path.read_bytes()) for path in book.glob("records/*/*.json")]
    return {record["record_id"]: record for record in found}


def test_each_record_of_the_demo_has_the_digest_that_the_text_describes(
    records: dict[str, Json],
) -> None:
    assert records
    assert {record_id(record) for record in records.values()} == set(records)


@pytest.mark.parametrize("by", [reader, thorough])
def test_every_margin_of_the_demo_follows_from_the_text(
    book: Path, records: dict[str, Json], by: ModuleType
) -> None:
    compared: Counter[str] = Counter()
    differ = []
    for checked in sweepbook("check", "--json", book)["records"]:
        if checked["limit"]:
            counted, more = differences(records[checked["record_id"]], checked, by.margins)
            compared += counted
            differ += more
    assert not differ
    assert set(compared) == SWEPT | TIMED | SINGLE
    assert compared.total() > 1800


def values_of(sweep: Json) -> list[float]:
    values: list[float] = sweep["value_db" if "value_db" in sweep else "delay_ns"]
    return values


def with_gaps(record: Json) -> None:
    for sweep in record["results"]["sweeps"][::3]:
        del values_of(sweep)[100:200]
        sweep["gaps"] = [{"from": 100, "to": 199, "reason": "missing"}]
        sweep.pop("bounds", None)


def on_runs_that_reach_the_ends_within_1_hz(record: Json) -> None:
    grid = record["results"]["grids"][0]
    count = len(grid.pop("frequency_mhz")) - 1
    grid["runs"] = [
        {"start": "0.9999995", "step": "0.4803", "count": count},
        {"start": "500.0000005", "step": "1", "count": 1},
    ]


def with_acr_f_exported_in_place_of_fext(record: Json) -> None:
    for sweep in record["results"]["sweeps"]:
        if sweep["parameter"] == "fext":
            sweep["parameter"] = "acr_f"


def measured_twice(record: Json) -> None:
    """Some at each end, one pair at one end and without end, some at the same place again."""
    sweeps = record["results"]["sweeps"]
    for sweep in list(sweeps):
        again = deepcopy(sweep)
        values_of(again)[:] = [v + 1.5 * (-1) ** n for n, v in enumerate(values_of(again))]
        if sweep["parameter"] in ("insertion_loss", "fext"):
            again["end"] = "near"
            if sweep["pairs"] != ["1-2"]:
                sweep["end"] = "far"
        if sweep["parameter"] != "next":
            sweeps.append(again)


def at_the_3_db_rule(record: Json) -> None:
    """The worst return loss is then the first one that counts, by the digits and the bounds."""
    for sweep in record["results"]["sweeps"]:
        if sweep["parameter"] == "return_loss":
            values_of(sweep)[:] = [5.0] * len(values_of(sweep))
        if sweep["parameter"] == "insertion_loss":
            sweep["resolution"] = 1.0
            if sweep["pairs"] == ["3-6"]:
                sweep["bounds"] = [{"from": 5, "to": 9, "bound": "at_least"}]


def next_in_both_orders(record: Json) -> None:
    """Half of the combinations again, named the other way round, with other values."""
    near = [s for s in record["results"]["sweeps"] if s["parameter"] == "next"]
    for sweep in deepcopy(near[::2]):
        sweep["pairs"].reverse()
        values_of(sweep)[:] = [v + 3 * (-1) ** n for n, v in enumerate(values_of(sweep))]
        record["results"]["sweeps"].append(sweep)


def without_points(record: Json) -> None:
    """FEXT of one combination is all gaps and was measured from the other end instead."""
    sweeps = record["results"]["sweeps"]
    gone = next(s for s in sweeps if s["parameter"] == "fext")
    sweeps.append({**deepcopy(gone), "end": "near", "pairs": gone["pairs"][::-1]})
    last = len(values_of(gone)) - 1
    values_of(gone).clear()
    gone.pop("bounds", None)
    gone["gaps"] = [{"from": 0, "to": last, "reason": "missing"}]


def with_power_sums_exported(record: Json) -> None:
    """They fill the gaps of NEXT, and stand in for FEXT of which there is none."""
    sweeps = record["results"]["sweeps"]
    near = next(s for s in sweeps if s["parameter"] == "next" and s["end"] == "near")
    count = len(values_of(near))
    del values_of(near)[150:300]
    near["gaps"] = [{"from": 150, "to": 299, "reason": "missing"}]
    near.pop("bounds", None)
    sweeps[:] = [s for s in sweeps if s["parameter"] != "fext"]
    for pair in reader.PAIRS:
        for name, end in (("psnext", "near"), ("psfext", "far")):
            head = {"parameter": name, "end": end, "pairs": [pair], "grid": near["grid"]}
            values = [30.0 + n % 7 for n in range(count)]
            sweeps.append({**head, "decimals": 2, "value_db": values})


@pytest.mark.parametrize(
    "change",
    [
        with_gaps,
        without_points,
        with_power_sums_exported,
        next_in_both_orders,
        on_runs_that_reach_the_ends_within_1_hz,
        with_acr_f_exported_in_place_of_fext,
        measured_twice,
        at_the_3_db_rule,
    ],
)
def test_every_margin_of_an_awkward_record_follows_from_the_text(
    change: Callable[[Json], None], records: dict[str, Json], tmp_path: Path
) -> None:
    swept = [r for r in records.values() if "delay_ns" in r["results"]["sweeps"][-1]]
    record = deepcopy(min(swept, key=lambda r: str(r["link"]["label"])))
    change(record)
    record["record_id"] = record_id(record)
    (tmp_path / "record.json").write_text(json.dumps(record), "utf-8")
    (checked,) = sweepbook("check", "--json", tmp_path)["records"]
    assert checked["record_id"] == record["record_id"]
    counted, differ = differences(record, checked, thorough.margins)
    assert not differ
    assert counted.total() > 80


@pytest.mark.parametrize(
    ("base", "tighter_by"),
    [
        ("tia-568.2-d/cat6a/permanent-link", {"psnext": (2, "dB"), "length": (10, "m")}),
        (
            "iso-11801-1-2017/class-ea/permanent-link",
            {"insertion_loss": (1.5, "dB"), "next": (3, "dB"), "acr_n": (0.5, "dB")},
        ),
    ],
    ids=["a length with its allowance", "a difference and its parts"],
)
def test_every_margin_under_a_contract_follows_from_the_text(
    base: str, tighter_by: dict[str, tuple[float, str]], records: dict[str, Json], tmp_path: Path
) -> None:
    contract = {
        "schema": "urn:sweepbook:limits-0",
        "path": "harbour-hall/permanent-link",
        "title": "Harbour Hall, permanent link",
        "document": "Harbour Hall, works contract",
        "edition": "2",
        "published_year": 2024,
        "based_on": base,
        "adjustments": [
            {"parameters": [name], "tighter_by": by, "unit": unit, "source": "contract"}
            for name, (by, unit) in tighter_by.items()
        ],
        "sources": {"contract": "Appendix C"},
    }
    own, folder = tmp_path / "contract.json", tmp_path / "records"
    folder.mkdir()
    own.write_text(json.dumps(contract), "utf-8")
    record = min(records.values(), key=lambda r: str(r["link"]["label"]))
    (folder / "record.json").write_text(json.dumps(record), "utf-8")
    against = str(contract["path"])
    (checked,) = sweepbook("check", "--json", "--limits", own, "--against", against, folder)[
        "records"
    ]
    table = json.loads((LIMITS / f"{base}.json").read_bytes())
    for name, (by, _) in tighter_by.items():
        table["parameters"][name]["tightened"] = {"by": by}
    counted, differ = differences(record, checked, thorough.margins, table)
    assert not differ
    assert counted.keys() >= tighter_by.keys()
