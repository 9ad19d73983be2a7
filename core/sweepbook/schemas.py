"""The schemas that come with the program, and documents held against them."""

import json
from collections.abc import Iterator
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from jsonschema.exceptions import ValidationError


@cache
def schema(name: str) -> dict[str, Any]:
    """A schema by the name of its file, e.g. "dialect-0.schema.json"; not to be changed."""
    loaded: dict[str, Any] = json.loads(files("sweepbook_schemas").joinpath(name).read_bytes())
    return loaded


def errors(document: object, against: dict[str, Any]) -> "list[ValidationError]":
    """Where a document does not follow a schema, by place.

    Args:
        document: plain data, as of JSON or TOML.
        against: the schema.
    """
    from jsonschema import Draft202012Validator

    found = Draft202012Validator(against).iter_errors(document)
    return sorted(found, key=lambda error: [str(part) for part in error.absolute_path])


def problems(document: object, name: str) -> Iterator[str]:
    """One sentence for each such place, as the validator words it: "$.summary: ..."."""
    for error in errors(document, schema(name)):
        yield f"{error.json_path}: {error.message}"
