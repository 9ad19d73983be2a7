"""The schemas themselves: valid, explained, with units, and in step with the code."""

import json
import re
from collections.abc import Iterator
from importlib.resources import files
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from sweepbook.record import arrays, grids, identity, schema, strict, validate
from sweepbook.record.arrays import EACH

NAMES = ("record-1.schema.json", "vocabulary-1.schema.json")
UNITS = {
    "mhz": "MHz",
    "db": "dB",
    "ns": "ns",
    "m": "m",
    "ohm": "ohm",
    "percent": "percent",
    "c": "°C",
    "deg": "degree",
}

Part = dict[str, Any]


def load(name: str) -> Part:
    loaded: Part = json.loads(files("sweepbook_schemas").joinpath(name).read_text("utf-8"))
    return loaded


def properties(part: Any, path: str = "") -> Iterator[tuple[str, Part]]:
    """Every property of a schema, however deep, with its path in the schema's text."""
    if isinstance(part, list):
        for item in part:
            yield from properties(item, path)
    if not isinstance(part, dict):
        return
    for name, below in part.items():
        if name == "properties":
            for member, inner in below.items():
                if isinstance(inner, dict) and set(inner) - {"const"}:
                    yield f"{path}.{member}", inner
        yield from properties(below, f"{path}.{name}")


def words(text: str) -> set[str]:
    return set(re.findall(r"[A-Za-z0-9]{2,}", text.lower()))


def merged(part: Part, whole: Part) -> Part:
    """A part of a schema with what it refers to; its own words come first."""
    if "$ref" not in part:
        return part
    return {**merged(whole["$defs"][part["$ref"].removeprefix("#/$defs/")], whole), **part}


RECORD = load("record-1.schema.json")
EVERY = [
    pytest.param(part, load(name), id=f"{name}{path}")
    for name in NAMES
    for path, part in properties(load(name))
]


@pytest.mark.parametrize("name", NAMES)
def test_it_is_a_schema_of_2020_12_named_by_a_urn(name: str) -> None:
    loaded = load(name)
    Draft202012Validator.check_schema(loaded)
    assert loaded["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert loaded["$id"] == f"urn:sweepbook:{name.removesuffix('.schema.json')}"


@pytest.mark.parametrize(("part", "whole"), EVERY)
def test_every_property_has_a_title_and_a_description(part: Part, whole: Part) -> None:
    full = merged(part, whole)
    assert full["title"]
    new = words(full["description"]) - words(full["title"])
    assert len(new) >= 3, "it must say more than its name"
    assert full["description"].endswith(".")


@pytest.mark.parametrize(("part", "whole"), EVERY)
def test_every_number_has_a_unit(part: Part, whole: Part) -> None:
    full = merged(part, whole)
    items = merged(full.get("items", {}), whole)
    if {full.get("type"), items.get("type")} & {"number", "integer"}:
        assert full["unit"]


def test_units_are_those_of_the_names() -> None:
    checked = 0
    for path, part in properties(RECORD):
        name, full = path.rpartition(".")[2], merged(part, RECORD)
        suffix = name.rpartition("_")[2] if "_" in name else ""
        if "unit" in full and suffix in UNITS:
            assert full["unit"] == UNITS[suffix], path
            checked += 1
    assert checked > 40


def test_titles_tell_properties_apart() -> None:
    titles: dict[str, set[str]] = {}
    for path, part in properties(RECORD):
        if "title" in part:
            titles.setdefault(part["title"], set()).add(path)
    twice = {title: paths for title, paths in titles.items() if len(paths) > 1}
    limits = {title for title in twice if title.startswith("Limit there")}
    assert set(twice) == limits, "the limits beside a margin and beside a value are the same thing"


def test_it_uses_no_keyword_that_gives_useless_messages_or_fails_on_decimals() -> None:
    text = json.dumps(RECORD)
    for keyword in ("oneOf", "anyOf", "multipleOf"):
        assert f'"{keyword}"' not in text


def test_every_object_is_closed_but_the_open_places() -> None:
    def opened(part: Any, path: str = "$") -> Iterator[str]:
        if isinstance(part, dict):
            if part.get("type") == "object" and "additionalProperties" not in part:
                yield path
            for name, below in part.items():
                yield from opened(below, f"{path}.{name}")

    assert set(opened(RECORD)) == {"$", "$.properties.extensions"}
    body = RECORD["$defs"]["balanced_link"]
    known = {*RECORD["properties"], *body["properties"]}
    assert set(body["propertyNames"]["enum"]) == known, "closed by the names of its members"


def test_the_code_knows_every_array_of_numbers_of_the_schema() -> None:
    def found(part: Part) -> Part:
        full = merged(part, RECORD)
        if "items" in full:
            items = merged(full["items"], RECORD)
            if items.get("type") == "number":
                return {"here": True}
            below = found(items)
            return {EACH: below} if below else {}
        inner = {name: found(below) for name, below in full.get("properties", {}).items()}
        return {name: below for name, below in inner.items() if below}

    def plain(where: Any) -> Part:
        if where is arrays.HERE:
            return {"here": True}
        return {name: plain(below) for name, below in where.items()}

    assert found(RECORD["$defs"]["balanced_link"]) == plain(arrays.BALANCED_LINK)


def test_names_and_bounds_are_the_same_in_schema_and_code() -> None:
    assert tuple(RECORD["properties"]["schema"]["enum"]) == schema.READ
    assert schema.READ[0] == schema.NAME == validate.SCHEMA
    run = RECORD["$defs"]["run"]["properties"]
    assert run["count"]["maximum"] == grids.MOST_POINTS
    assert RECORD["$defs"]["position"]["maximum"] == grids.MOST_POINTS - 1
    order = schema.order().names
    assert set(identity.OUTSIDE) < set(order)
    assert strict.DEEPEST > 9
