"""What a schema says against a dialect, in words that name the key and what to do."""

import difflib
from collections.abc import Iterable, Iterator, Mapping
from itertools import islice
from typing import Any

from sweepbook import schemas

MOST_PROBLEMS = 20
TRADE_WORDS = {
    "attenuation": "insertion_loss",
    "il": "insertion_loss",
    "rl": "return_loss",
    "crosstalk": "next",
    "acr": "acr_n",
    "psacr": "psacr_n",
    "elfext": "acr_f",
    "pselfext": "psacr_f",
    "delay": "propagation_delay",
    "skew": "delay_skew",
    "resistance": "dc_loop_resistance",
    "loop_resistance": "dc_loop_resistance",
    "ca": "coupling_attenuation",
}
"""What the trade also calls a parameter, in lower case: common practice, no source."""


def problems(document: Mapping[str, Any], schema_name: str, prefix: str = "") -> list[str]:
    """What the schema says against the document, at most 20 sentences, by key path.

    Args:
        document: plain data out of TOML.
        schema_name: file of the schema.
        prefix: key path of the document in the file, e.g. "csv".
    """
    errors = schemas.errors(document, schemas.schema(schema_name))
    found = list(dict.fromkeys(_sentences(errors, prefix)))
    if len(found) > MOST_PROBLEMS:
        return [*found[:MOST_PROBLEMS], f"and {len(found) - MOST_PROBLEMS} more"]
    return found


def _sentences(errors: Iterable[Any], prefix: str) -> Iterator[str]:
    for error in errors:
        path = ".".join([*([prefix] if prefix else []), *map(str, error.absolute_path)])
        yield from _of_error(error, path)


def _of_error(error: Any, path: str) -> Iterator[str]:  # noqa: ANN401 - jsonschema's own type
    """One error of jsonschema as sentences."""
    at = f"{path}." if path else ""
    if error.validator == "additionalProperties" and error.validator_value is False:
        known = list(error.schema["properties"])
        strange = (name for name in error.instance if name not in known)
        for name in islice(strange, MOST_PROBLEMS):
            yield f"{at}{name}: there is no such key; {_nearest(name, known)}"
    elif error.validator == "required":
        for name in error.validator_value:
            if name not in error.instance:
                about = error.schema.get("properties", {}).get(name, {}).get("description", "")
                yield f"{at}{name}: is missing. {about}".rstrip()
    elif error.validator == "not":
        for name in (of["required"][0] for of in error.validator_value["anyOf"]):
            if name in error.instance:
                yield f"{at}{name}: does not go with the rest of this table; take it out"
    else:
        yield f"{path or 'the file'}: {_expectation(error)}"


def _expectation(error: Any) -> str:  # noqa: ANN401 - jsonschema's own type
    """What was read and what is expected there."""
    read = f"{error.instance!r:.60}"
    if error.validator == "enum":
        return f"{read} is not one of {', '.join(map(repr, error.validator_value))}"
    if error.validator == "const":
        return f"write {error.validator_value!r} here, not {read}"
    if error.validator == "oneOf":
        return f"expected is {error.schema.get('title', 'something else')}, not {read}"
    if error.validator == "pattern":
        about = error.schema.get("description", f"the form {error.validator_value}")
        return f"{read} does not fit. {about}"
    if error.validator == "type":
        kinds = {
            "object": "a table",
            "array": "a list",
            "string": "a text in quotes",
            "boolean": "true or false",
        }
        return f"expected is {kinds.get(error.validator_value, error.validator_value)}, not {read}"
    return f"{error.message:.300}"


def _nearest(name: str, known: list[str]) -> str:
    if (meant := TRADE_WORDS.get(name.casefold().replace("-", "_"))) in known:
        return f"did you mean {meant!r}?"
    close = difflib.get_close_matches(name, known, 1)
    return f"did you mean {close[0]!r}?" if close else f"known here: {', '.join(known)}"
