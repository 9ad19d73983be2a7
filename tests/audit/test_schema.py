"""The schema of the audit document says of every property what it is, and of figures their unit."""

import json
from collections.abc import Iterator
from importlib.resources import files
from typing import Any

import pytest
from jsonschema import Draft202012Validator

SCHEMA: Any = json.loads(files("sweepbook_schemas").joinpath("audit-1.schema.json").read_bytes())


def properties(part: object, place: str = "$") -> Iterator[tuple[str, str, dict[str, Any]]]:
    """Every property below a schema: place, name and its own schema, references resolved."""
    if not isinstance(part, dict):
        return
    for name, inner in part.get("properties", {}).items():
        target = inner
        if "$ref" in inner:
            target = SCHEMA["$defs"][inner["$ref"].rpartition("/")[2]]
        yield f"{place}.{name}", name, target
        yield from properties(inner, f"{place}.{name}")
    for word in ("items", "additionalProperties"):
        yield from properties(part.get(word), place)
    for name, inner in part.get("$defs", {}).items():
        yield from properties(inner, f"{place}.$defs.{name}")


ALL = list(properties(SCHEMA))


def test_it_is_a_schema() -> None:
    Draft202012Validator.check_schema(SCHEMA)
    assert len(ALL) > 70


@pytest.mark.parametrize(("place", "name", "schema"), ALL, ids=[entry[0] for entry in ALL])
def test_every_property_is_explained(place: str, name: str, schema: dict[str, Any]) -> None:
    words = schema["description"].casefold()
    assert schema["title"]
    assert len(words) > 12, place
    assert words.rstrip(".") != name.replace("_", " ")


@pytest.mark.parametrize(("place", "name", "schema"), ALL, ids=[entry[0] for entry in ALL])
def test_every_figure_has_its_unit(place: str, name: str, schema: dict[str, Any]) -> None:
    kinds = schema.get("type", ())
    kinds = [kinds] if isinstance(kinds, str) else kinds
    if "number" in kinds or "integer" in kinds:
        endings = {"_db": "dB", "_mhz": "MHz"}
        expected = [unit for ending, unit in endings.items() if name.endswith(ending)]
        assert schema["unit"], place
        assert not expected or schema["unit"] == expected[0]


def test_no_object_takes_unknown_names() -> None:
    def objects(part: object) -> Iterator[dict[str, Any]]:
        if isinstance(part, dict):
            if part.get("type") == "object":
                yield part
            for inner in part.values():
                yield from objects(inner)

    assert all("additionalProperties" in entry for entry in objects(SCHEMA))
