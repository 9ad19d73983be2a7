"""Where a document breaks its schema, in words for a person who writes it by hand."""

from collections.abc import Iterable, Iterator
from difflib import get_close_matches
from itertools import islice
from typing import TYPE_CHECKING, Any

from sweepbook.schemas import errors, schema

if TYPE_CHECKING:
    from jsonschema.exceptions import ValidationError

MOST_UNKNOWN = 20
"""Members of one object that are told to be unknown; a file of nothing else is none of ours."""


_LONGEST = 200
"""Characters of a value that are told."""
FEW = 12
"""Names that are all listed, beside one that is near."""


def faults(document: dict[str, Any], schema_name: str) -> list[str]:
    """Hold a document against one of the schemas that come with the program.

    Args:
        document: parsed JSON.
        schema_name: file name of the schema.

    Returns:
        One line a fault, each with its place; empty where there is none.
    """
    found = sorted(errors(document, schema(schema_name)), key=lambda error: error.json_path)
    # A member that lacks three others is three errors, and one line.
    return list(dict.fromkeys(line for error in found for line in _lines(error)))


def _unknown(place: str, key: str, known: Iterable[str]) -> str:
    """That a member is not known, with the one that is near or else all that are."""
    every = list(known)
    near = get_close_matches(key, every, n=1)
    hints = [f"perhaps {near[0]} is meant"] if near else []
    if not near or len(every) <= FEW:
        hints.append(f"known are {', '.join(every)}")
    hint = "; ".join(hints)
    return f"{place} has {key}, which is not known here; {hint}"


def _lines(error: "ValidationError") -> Iterator[str]:
    place = error.json_path
    asked: Any = error.validator_value
    broken: dict[str, Any] = error.schema if isinstance(error.schema, dict) else {}
    found: Any = error.instance
    match error.validator:
        case "required":
            yield f"{place} lacks {', '.join(key for key in asked if key not in found)}"
        case "additionalProperties":
            known = broken.get("properties", {})
            strange = (key for key in found if key not in known)
            yield from (_unknown(place, key, known) for key in islice(strange, MOST_UNKNOWN))
        case "enum":
            yield f"{place} is {_short(found)}; it must be one of {', '.join(map(str, asked))}"
        case "const":
            yield f"{place} is {_short(found)}; it must be {asked!r}"
        case "type":
            yield f"{place} is {_short(found)}; it must be of type {asked}"
        case "dependentRequired":
            for key, others in asked.items():
                lacking = ", ".join(other for other in others if other not in found)
                if key in found and lacking:
                    yield f"{place} gives {key} without {lacking}; give both or neither"
        case "anyOf":
            ways = (", ".join(way["required"]) for way in asked)
            yield f"{place} must give {' or '.join(ways)}"
        case _:
            yield _as_worded(error)


def _as_worded(error: "ValidationError") -> str:
    """An error in the words of the validator, what was found told in short, and what it is of."""
    found: Any = error.instance
    if error.validator in ("maxItems", "maxProperties", "maxLength"):
        most = error.validator_value
        return f"{error.json_path} is too long: {len(found):,}, where {most:,} are the most"
    broken = error.schema if isinstance(error.schema, dict) else {}
    what = broken.get("description", "")
    message = error.message.replace(repr(found), _short(found), 1)
    return f"{error.json_path}: {message}" + (f" ({what})" if what else "")


def _short(found: object) -> str:
    """A value as it is told; of a long one the beginning."""
    told = repr(found)
    return told if len(told) <= _LONGEST else f"{told[:_LONGEST]}…"
