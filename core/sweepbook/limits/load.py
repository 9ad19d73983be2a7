"""A limit table out of its file: parsed strictly, held against the schema, checked for sense."""

import hashlib
import json
import math
from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

from sweepbook.errors import SweepbookError
from sweepbook.limits.basing import Document, basing_faults, perhaps, whole
from sweepbook.limits.build import build
from sweepbook.limits.model import LimitTable
from sweepbook.limits.words import word_faults

_NONE: Mapping[str, Document] = MappingProxyType({})
_MOST_DIGITS = 20
_TODO = "Correct the file: `sweepbook limits check FILE` tells every mistake in it."


class LimitFault(SweepbookError):
    """A limit file that cannot be used. `faults` says everything that is wrong, one line each."""

    def __init__(self, name: str, faults: tuple[str, ...]) -> None:
        self.faults = faults
        more = f" (and {len(faults) - 1} more)" if len(faults) > 1 else ""
        super().__init__(f"{name} is no usable limit table: {faults[0]}{more}.", _TODO)


def load(
    raw: bytes, name: str, *, trusted: bool = False, bases: Mapping[str, Document] = _NONE
) -> LimitTable:
    """Read one limit table.

    Args:
        raw: content of the file.
        name: how to call the file in a message.
        trusted: True for the program's own tables, which its tests hold against the schema.
        bases: whole documents by path, for a table that is based on one of them.

    Returns:
        The table.

    Raises:
        LimitFault: the file is no JSON, does not follow the schema or contradicts itself.
    """
    document = completed(parse(raw, name, trusted=trusted), name, trusted, bases)
    return build(document, hashlib.sha256(raw).hexdigest())


def completed(
    document: Document, name: str, trusted: bool, bases: Mapping[str, Document]
) -> Document:
    """Make a document that gives everything itself, and hold it to schema and sense; see `load`.

    Raises:
        LimitFault: it does not follow the schema or contradicts itself or its base.
    """
    if not trusted:
        _refuse(name, schema_faults(document))
        _refuse(name, [*word_faults(document), *_base_faults(document, bases)])
    if "based_on" in document:
        document = whole(document, bases[document["based_on"]])
    if not trusted:
        from sweepbook.limits.sense import sense_faults

        _refuse(name, sense_faults(document))
    return document


def _base_faults(document: Document, bases: Mapping[str, Document]) -> list[str]:
    if "based_on" not in document:
        return []
    path = document["based_on"]
    if path in bases:
        return basing_faults(document, bases[path])
    return [
        f"$.based_on is {path!r}, and there is no such table{perhaps(path, bases)}; "
        "`sweepbook limits list` shows every path"
    ]


def _refuse(name: str, faults: list[str]) -> None:
    if faults:
        raise LimitFault(name, tuple(faults))


def parse(raw: bytes, name: str, *, trusted: bool = False) -> Document:
    """Read the JSON of a limit table, strictly.

    Raises:
        LimitFault: it is no JSON object, gives a member twice or holds what is no number.
    """
    if trusted:
        own: Document = json.loads(raw)
        return own
    try:
        document = json.loads(
            raw.decode("utf-8"),
            object_pairs_hook=_once_each,
            parse_constant=_no_constant,
            parse_int=_integer,
            parse_float=_finite,
        )
    except UnicodeDecodeError as error:
        raise LimitFault(name, (f"it is not UTF-8 text ({error.reason})",)) from error
    except RecursionError as error:
        raise LimitFault(name, ("it is nested too deeply",)) from error
    except json.JSONDecodeError as error:
        place = f"line {error.lineno}, column {error.colno}"
        raise LimitFault(name, (f"it is no JSON at {place}: {error.msg}",)) from error
    except ValueError as error:
        raise LimitFault(name, (str(error),)) from error
    if not isinstance(document, dict):
        raise LimitFault(name, ("it holds no object at the top",))
    return document


def _once_each(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    members: dict[str, Any] = {}
    for key, value in pairs:
        if key in members:
            raise ValueError(f"it gives {key!r} twice in one object")
        members[key] = value
    return members


def _integer(digits: str) -> int:
    if len(digits) > _MOST_DIGITS:
        raise ValueError(f"it holds an integer of {len(digits)} digits")
    return int(digits)


def _finite(text: str) -> float:
    value = float(text)
    if not math.isfinite(value):
        raise ValueError(f"it holds {text[:_MOST_DIGITS]}, which is larger than any number here")
    return value


def _no_constant(text: str) -> float:
    raise ValueError(f"it holds {text}, which is no number of JSON")


def schema_faults(document: dict[str, Any]) -> list[str]:
    """What of a document does not follow the schema, one line each, in the order of the file."""
    from sweepbook.limits.schema_check import faults

    return faults(document, "limits-0.schema.json")
