"""The demo's own links in a workbook, held to the truth that the demo's model wrote.

truth.json comes from the transmission-line model, which shares no code with what judges and writes.
"""

import json
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from openpyxl import Workbook, load_workbook

from sweepbook.cli import main
from sweepbook.record import vocabulary

from .making import about_rows, rows

DEMO = Path(str(files("sweepbook_demo")))
EXPORTS = ("heron-1A-P1-01.csv", "heron-1A-P1-04.csv", "tolk-annexe-5.csv.gz")
TOLERANCE = 5e-4
"""Of a margin, in its unit: the truth is given to four decimals."""
Curve = tuple[str | None, ...]


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Workbook:
    target = tmp_path_factory.mktemp("demo") / "handover.xlsx"
    dialects = [f"--dialect={path}" for path in sorted((DEMO / "dialects").glob("*.toml"))]
    sources = [str(DEMO / "exports" / name) for name in EXPORTS]
    result = CliRunner().invoke(
        main, ["convert", *sources, *dialects, "--to", "xlsx", "-o", str(target)]
    )
    assert result.exit_code == 0, result.output
    return load_workbook(target)


@pytest.fixture(scope="module")
def truth() -> dict[str, dict[str, Any]]:
    links = json.loads((DEMO / "truth.json").read_text(encoding="utf-8"))["links"]
    return {link["label"]: link for link in links if link["file"] in EXPORTS}


def test_each_link_has_its_judgement(book: Workbook, truth: dict[str, dict[str, Any]]) -> None:
    found = {row["Link"]: row for row in rows(book, "Links")}
    assert found.keys() == truth.keys()
    for label, link in truth.items():
        row = found[label]
        assert row["Stated verdict"] == link["stated"]
        assert row["Sweeps say"] == link["recomputed"]
        assert row["Judgement"] == link["judgement"]
        assert row["Limit as stated"] == link["limit_as_stated"]
        assert row["Source file"] == link["file"]


def test_each_curve_has_its_margin(book: Workbook, truth: dict[str, dict[str, Any]]) -> None:
    found: dict[Curve, dict[str, Any]] = {}
    for row in rows(book, "Margins"):
        found[row["Link"], row["Parameter"], row["End"], row["Pair, or disturbing / disturbed"]] = (
            row
        )
    compared = 0
    for label, link in truth.items():
        for entry in link["margins"]:
            title = vocabulary.load().parameters[entry["parameter"]].title
            row = found[label, title, entry.get("end"), "/".join(entry["pairs"])]
            (value,) = (entry[name] for name in entry if name.startswith("margin_"))
            assert row["Worst margin"] == pytest.approx(value, abs=TOLERANCE)
            if entry["parameter"] not in {"delay_skew", "propagation_delay"}:
                assert row["Worst margin at, MHz"] == entry.get("frequency_mhz")
            compared += 1
    assert compared > 200


def test_the_instruments_of_both_makes_are_there(book: Workbook) -> None:
    makers = {row["Maker"] for row in rows(book, "Instruments")}
    assert makers == {"Brindlewick", "Osquary"}


def test_the_digests_of_the_limits_used_are_named(book: Workbook) -> None:
    said = about_rows(book)
    for path in {row["Limit"] for row in rows(book, "Links")}:
        assert len(said[f"limit table {path}"]) == 64
