"""The schemas that come with the program, and documents held against them."""

import json
from collections.abc import Callable, Iterator
from functools import cache
from importlib.resources import files
from itertools import islice
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

    return sorted(Draft202012Validator(against).iter_errors(document), key=_place)


def first_errors(document: object, against: dict[str, Any], most: int) -> "list[ValidationError]":
    """So many of them, the first that are found, by place."""
    from jsonschema import Draft202012Validator

    found = islice(Draft202012Validator(against).iter_errors(document), most)
    return sorted(found, key=_place)


def quick(against: dict[str, Any]) -> Callable[[object], bool]:
    """What gives a quick yes to a document that certainly follows a schema.

    Where it gives none, ask `errors`, whose words people see: it takes some fifty times as long.
    """
    from jsonschema_rs import Draft202012Validator

    compiled = Draft202012Validator(against)

    def follows(document: object) -> bool:
        try:
            return compiled.is_valid(document)
        except (ValueError, TypeError, OverflowError, RecursionError):
            return False  # a value that JSON has not

    return follows


def _place(error: "ValidationError") -> list[str]:
    return [str(part) for part in error.absolute_path]


def problems(document: object, name: str) -> Iterator[str]:
    """One sentence for each such place, as the validator words it: "$.summary: ..."."""
    for error in errors(document, schema(name)):
        yield f"{error.json_path}: {error.message}"
