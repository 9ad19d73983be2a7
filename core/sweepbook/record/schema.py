"""The schema of a record as data: read once, and the order of members that it lays down."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from typing import Any

NAME = "urn:sweepbook:record-1"
"""What a record that is made here names as its schema."""

READ = (NAME, "urn:sweepbook:record-0")
"""What a record may name: the draft of the schema differs in its name alone."""


@dataclass(frozen=True)
class Order:
    """In which order the members of an object stand on disk.

    Attributes:
        names: members in order; others follow by name.
        members: orders of what the members hold.
        items: the order of the items of an array.
    """

    names: tuple[str, ...]
    members: Mapping[str, "Order"]
    items: "Order | None" = None


ANY = Order((), {})
"""An object or array whose inside no schema orders."""


@lru_cache(maxsize=1)
def schema() -> dict[str, Any]:
    """The JSON Schema of record-1."""
    text = files("sweepbook_schemas").joinpath("record-1.schema.json").read_text(encoding="utf-8")
    loaded: dict[str, Any] = json.loads(text)
    return loaded


@lru_cache(maxsize=1)
def order() -> Order:
    """The order of a record: that of the schema's text."""
    whole = schema()
    body = whole["$defs"]["balanced_link"]
    members = {
        name: _order(part, whole["$defs"])
        for name, part in {**whole["properties"], **body["properties"]}.items()
    }
    return Order(tuple(body["propertyNames"]["enum"]), members)


def _order(part: Mapping[str, Any], definitions: Mapping[str, Any]) -> Order:
    """The order below one part of the schema."""
    if "$ref" in part:
        part = definitions[part["$ref"].rpartition("/")[2]]
    properties = part.get("properties", {})
    items = part.get("items")
    return Order(
        tuple(properties),
        {name: _order(below, definitions) for name, below in properties.items()},
        None if items is None else _order(items, definitions),
    )
