"""The examples of the guide for dialect authors are run, and every key is explained there."""

import json
import re
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

from .reading import GUIDE, axis, blocks, called, read

SCHEMAS = ("dialect-0.schema.json", "csv-layout-0.schema.json")


@pytest.mark.parametrize("example", [0, 1, 2])
def test_an_example_reads_as_the_guide_says(example: int, tmp_path: Path) -> None:
    result = read(tmp_path, blocks("csv")[example], blocks("toml")[example])
    assert result.problems == []
    assert told(result.records[0].document) == blocks("text")[example].splitlines()


def test_the_second_example_holds_two_tests(tmp_path: Path) -> None:
    result = read(tmp_path, blocks("csv")[1], blocks("toml")[1])
    assert [record.label for record in result.records] == ["007", "008"]
    operators = [record.document["test"]["operator"] for record in result.records]
    assert operators == ["op-4", "op-4"]


def test_the_third_example_holds_two_tests(tmp_path: Path) -> None:
    result = read(tmp_path, blocks("csv")[2], blocks("toml")[2])
    assert [record.label for record in result.records] == ["A-17", "A-18"]
    documents = [record.document for record in result.records]
    assert [document["test"]["operator"] for document in documents] == ["J. Okoro"] * 2
    locators = [document["origin"][0]["locator"] for document in documents]
    assert locators == ["lines 2-27", "lines 28-34"]


@pytest.mark.parametrize("schema", SCHEMAS)
def test_every_key_stands_in_the_guide(schema: str) -> None:
    loaded = json.loads(files("sweepbook_schemas").joinpath(schema).read_text(encoding="utf-8"))
    guide = GUIDE.read_text(encoding="utf-8")
    missing = [key for key in sorted(keys(loaded)) if f"`{key}`" not in mentioned(guide)]
    assert missing == []


@pytest.mark.parametrize("schema", SCHEMAS)
def test_every_key_has_a_description_that_says_more_than_its_name(schema: str) -> None:
    loaded = json.loads(files("sweepbook_schemas").joinpath(schema).read_text(encoding="utf-8"))
    bare = [path for path, node in properties(loaded, "$") if len(node.get("description", "")) < 8]
    assert bare == []


def told(document: dict[str, Any]) -> list[str]:
    """A record in the lines that the guide uses."""
    stated = document.get("stated", {})
    limit = document["resolved"]["limit"]
    lines = [
        f"label {document['link']['label']}",
        f"limit {document['test']['limit']['as_stated']} -> {limit['path']}",
        f"started {document['test']['started']['rfc3339']}",
    ]
    if "overall" in stated:
        lines.append(f"stated {stated['overall']['verdict']}")
    for item in stated.get("items", []):
        if "verdict" in item:
            lines.append(f"{called(item)}: stated {item['verdict']}")
        if margin := item.get("worst_margin"):
            at = f"{margin['margin_db']:g} dB at {margin['frequency_mhz']:g} MHz"
            lines.append(f"{called(item)}: worst margin {at}")
    for entry in document["results"].get("scalars", []):
        if "length_m" in entry:
            lines.append(f"{called(entry)}: {entry['length_m']:.5f} m")
        elif "resistance_ohm" in entry:
            lines.append(f"{called(entry)}: {entry['resistance_ohm']:g} ohm")
        else:
            at = f"{entry['delay_ns']:g} ns at {entry['frequency_mhz']:g} MHz"
            lines.append(f"{called(entry)}: {at}")
    for entry in document["results"]["sweeps"]:
        lines.append(f"{called(entry)}: {', '.join(points(document, entry))}")
    extra = document.get("extra", {})
    return [*lines, f"extra {', '.join(extra) or 'nothing'}"]


def points(document: dict[str, Any], entry: dict[str, Any]) -> list[str]:
    """Every point of a sweep in words."""
    values = iter(entry["value_db"])
    gaps = {gap["from"] for gap in entry.get("gaps", [])}
    bounds = {bound["from"]: bound["bound"] for bound in entry.get("bounds", [])}
    said = []
    for position, frequency in enumerate(axis(document, entry)):
        clipped = f"{bounds[position].replace('_', ' ')} " if position in bounds else ""
        what = "gap" if position in gaps else f"{clipped}{next(values):g}"
        said.append(f"{what} at {frequency:g} MHz")
    return said


def properties(node: object, path: str) -> list[tuple[str, dict[str, Any]]]:
    """Path and schema of every property."""
    found = []
    if isinstance(node, dict):
        for name, inner in node.get("properties", {}).items():
            if isinstance(inner, dict) and "const" not in inner and "if" not in path:
                found.append((f"{path}.{name}", inner))
        for name, inner in node.items():
            found += [] if name in ("if", "then") else properties(inner, f"{path}.{name}")
    if isinstance(node, list):
        for position, inner in enumerate(node):
            found += properties(inner, f"{path}[{position}]")
    return found


def keys(schema: dict[str, Any]) -> set[str]:
    """Last part of the path of every property."""
    return {path.rpartition(".")[2] for path, _ in properties(schema, "$") if "allOf" not in path}


def mentioned(guide: str) -> str:
    """The guide with the tables' names and dotted names taken apart: `.part` and `a.b` count."""
    names = set()
    for code in re.findall(r"`([^`\n]+)`", guide):
        names |= {code, *re.split(r"[.\[\]]+", code)}
    return "".join(f"`{name}`" for name in names)
