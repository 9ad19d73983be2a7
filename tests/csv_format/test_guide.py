"""The examples of the guide for dialect authors are run, and every key is explained there."""

import json
from importlib.resources import files
from pathlib import Path

import pytest

from tests.guide import GUIDE, blocks, keys, mentioned, properties, told

from .reading import read

SCHEMAS = ("dialect-0.schema.json", "csv-layout-0.schema.json")


@pytest.mark.parametrize("example", [0, 1, 2, 3, 4, 5, 6, 7])
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


def test_the_example_of_kinds_holds_two_tests(tmp_path: Path) -> None:
    result = read(tmp_path, blocks("csv")[6], blocks("toml")[6])
    assert [record.label for record in result.records] == ["A-17", "A-18"]
    verdicts = [record.document["stated"]["overall"]["verdict"] for record in result.records]
    assert verdicts == ["pass", "fail"]
    wires = result.records[0].document["results"]["wire_map"]["pins"]
    assert wires == [["1", "1"], ["2", "2"]]


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
