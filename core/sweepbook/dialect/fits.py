"""Whether what a dialect makes of a text fits the record: one member at first, then the whole."""

import re
from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from sweepbook.dialect.model import Meaning
from sweepbook.record.schema import schema

if TYPE_CHECKING:
    from sweepbook.record.model import Record

FAULTS_TOLD = 3
_ENTRY = re.compile(r"\$\.(results|stated|test)\.(scalars|items|accuracy|sweeps)\[([0-9]+)\]")
_KEYS = {
    "scalars": "figures.value",
    "items": "figures",
    "accuracy": "figures.accuracy",
    "sweeps": "words.pairs and crosstalk",
}
"""The key of a dialect that fills a list of a record."""


def range_fault(path: str, value: float) -> str:
    """What numbers a member takes, in words, where this one is none of them; "" where it is.

    Args:
        path: a member that is a number: "link.cable.nvp".
        value: in the record's unit.
    """
    member = _member(path)
    over, least, most = (member.get(n) for n in ("exclusiveMinimum", "minimum", "maximum"))
    fits = (over is None or value > over) and (least is None or value >= least)
    if fits and (most is None or value <= most):
        return ""
    said = (("above", over), ("at least", least), ("at most", most))
    return " and ".join(f"{word} {bound:g}" for word, bound in said if bound is not None)


@lru_cache(maxsize=64)
def _member(path: str) -> Mapping[str, Any]:
    definitions = schema()["$defs"]
    part = definitions["balanced_link"]
    for name in path.split("."):
        part = part["properties"][name]
        if "$ref" in part:
            part = definitions[part["$ref"].rpartition("/")[2]]
    found: Mapping[str, Any] = part
    return found


def record_faults(record: "Record", meaning: Meaning) -> Iterator[str]:
    """Yield why a record does not follow its schema: where, what is wrong, which key fills it.

    Fields are held against the schema one by one before; this is the net below them, so that no
    record goes into a book that nothing can judge.
    """
    from sweepbook.record import validate

    faults = validate.problems(record.document, FAULTS_TOLD, record.record_id)
    for fault in faults:
        yield f"{fault.path}: {fault.message}; see {_key(fault.path, record.document, meaning)}"


def _key(path: str, document: Mapping[str, Any], meaning: Meaning) -> str:
    """The key of the dialect that fills a place of a record."""
    dotted = path.removeprefix("$.")
    for field, keys in meaning.fields.items():
        if dotted == field or dotted.startswith((f"{field}.", f"{field}[")):
            return f"fields.{field} ({' or '.join(map(repr, keys))})"
    entry = _ENTRY.match(path)
    if entry:
        of = document[entry[1]][entry[2]][int(entry[3])]
        name = "/".join(of.get("pairs", ()))
        what = " ".join(filter(None, (str(of["parameter"]), name, of.get("end"))))
        return f"{_KEYS[entry[2]]} ('{what}')"
    return "fields and figures"
