"""The schema over a record whose number arrays are set aside: the authority on its shape."""

import re
from collections.abc import Iterator
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from sweepbook.record.acceptance import accepts
from sweepbook.record.schema import schema

if TYPE_CHECKING:
    from jsonschema import ValidationError
    from jsonschema.protocols import Validator

LONGEST = 240
"""Characters of one message; a fault may quote a whole record."""


def faults(skeleton: dict[str, Any]) -> Iterator[tuple[str, str]]:
    """Yield (JSON path, message) for each place that does not follow the schema.

    Args:
        skeleton: a document with every number array replaced by a short list.
    """
    if accepts(skeleton):
        return
    for error in validator().iter_errors(skeleton):
        yield error.json_path, _message(error)


@lru_cache(maxsize=1)
def validator() -> "Validator":
    """The validator of record-1.

    It is stricter than JSON Schema in two points: a pattern that ends in `$` does not let a
    newline through after it, as ECMA 262 has it and Python has not; and an integer is written
    without a decimal mark, so that it is one in every program.
    """
    from jsonschema import Draft202012Validator, validators

    checker = Draft202012Validator.TYPE_CHECKER.redefine("integer", _is_integer)
    strict = validators.extend(  # type: ignore[no-untyped-call]
        Draft202012Validator, {"pattern": _pattern}, type_checker=checker
    )
    made: Validator = strict(schema())
    return made


def _is_integer(_checker: object, instance: object) -> bool:
    return isinstance(instance, int) and not isinstance(instance, bool)


def _pattern(
    _validator: object, pattern: str, instance: object, _schema: object
) -> "Iterator[ValidationError]":
    from jsonschema import ValidationError

    if not isinstance(instance, str):
        return
    exact = f"{pattern[:-1]}\\Z" if pattern.endswith("$") else pattern
    if not re.search(exact, instance):
        yield ValidationError(f"{_short(repr(instance))} does not match {pattern}")


def _message(error: "ValidationError") -> str:
    """The schema's own words where it has some, else those of the library, cut to size."""
    if error.validator == "not" and isinstance(error.schema, dict) and "message" in error.schema:
        words = str(error.schema["message"])
        return f"{error.instance!r} {words}" if isinstance(error.instance, str) else words
    if "propertyNames" in error.schema_path and error.validator == "enum":
        return f"has a member {_short(repr(error.instance))}, which this kind of record has not"
    return _short(error.message)


def _short(text: str) -> str:
    return text if len(text) <= LONGEST else f"{text[: LONGEST - 20]} ... {text[-16:]}"
