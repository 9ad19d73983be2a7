"""A limit table out of its file: parsed strictly, held against the schema, checked for sense."""

import hashlib
import json
from typing import Any

from sweepbook.errors import SweepbookError
from sweepbook.limits.build import build
from sweepbook.limits.model import LimitTable

_TODO = "Correct the file; limits-0.schema.json describes every member."


class LimitFault(SweepbookError):
    """A limit file that cannot be used. `faults` says everything that is wrong, one line each."""

    def __init__(self, name: str, faults: tuple[str, ...]) -> None:
        self.faults = faults
        more = f" (and {len(faults) - 1} more)" if len(faults) > 1 else ""
        super().__init__(f"{name} is no usable limit table: {faults[0]}{more}.", _TODO)


def load(raw: bytes, name: str, *, trusted: bool = False) -> LimitTable:
    """Read one limit table.

    Args:
        raw: content of the file.
        name: how to call the file in a message.
        trusted: True for the program's own tables, which its tests hold against the schema.

    Returns:
        The table.

    Raises:
        LimitFault: the file is no JSON, does not follow the schema or contradicts itself.
    """
    document = _parse(raw, name)
    if not trusted:
        _refuse(name, schema_faults(document))
        from sweepbook.limits.sense import sense_faults

        _refuse(name, sense_faults(document))
    return build(document, hashlib.sha256(raw).hexdigest())


def _refuse(name: str, faults: list[str]) -> None:
    if faults:
        raise LimitFault(name, tuple(faults))


def _parse(raw: bytes, name: str) -> dict[str, Any]:
    try:
        document = json.loads(
            raw.decode("utf-8"), object_pairs_hook=_once_each, parse_constant=_no_constant
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


def _no_constant(text: str) -> float:
    raise ValueError(f"it holds {text}, which is no number of JSON")


def schema_faults(document: dict[str, Any]) -> list[str]:
    """What of a document does not follow the schema, one line each, in the order of the file."""
    from sweepbook.limits.schema_check import faults

    return faults(document, "limits-0.schema.json")
