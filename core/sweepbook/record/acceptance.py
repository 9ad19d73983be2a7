"""A quick yes to a record that follows its schema: never a no, which the slow way has to explain.

The validator in `skeleton` is the authority, and its words are what people see. It takes tens of
milliseconds for a record; the one here, compiled, a fraction of one. It only ever accepts, and a
test holds the two to the same answer.

The sweeps of a job's tests are alike but for their numbers, which are set aside here: what is left
of a sweep that was accepted once is known again.
"""

import marshal
from collections.abc import Iterator
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from sweepbook.record.schema import schema

if TYPE_CHECKING:
    from jsonschema_rs import Draft202012Validator

MOST_KNOWN = 4096
"""Sweeps that are kept in mind; a few hundred bytes each."""

_BOUND = {"from", "to", "bound"}
_LAST = 999_999  # position in a grid, by the schema

_PLAIN = 2  # the newest version of marshal that writes the same for the same, however it is shared
_known: set[bytes] = set()


def accepts(skeleton: dict[str, Any], *, plain: bool = False) -> bool:
    """Whether a record certainly follows the schema; False where that is not certain.

    Args:
        skeleton: a document with every number array replaced by a short list.
        plain: whether it certainly holds values of JSON alone, and no whole number with a decimal
            mark.
    """
    try:
        rest, new = _without_known(skeleton)
        doubtful = not plain and _doubtful(rest, _integers())
        if doubtful or not _validator().is_valid(rest):
            return False
    except (ValueError, TypeError, OverflowError, RecursionError):
        return False  # a value that JSON has not: the slow way says which
    if len(_known) + len(new) > MOST_KNOWN:
        _known.clear()
    _known.update(new)
    return True


def _without_known(skeleton: dict[str, Any]) -> tuple[dict[str, Any], set[bytes]]:
    """The skeleton with those sweeps alone that were not accepted before, and what these are.

    One sweep stays in any case, since a list of them may not be empty. The text that tells one
    from another differs where types do: 1 from 1.0, a list from a tuple.

    Raises:
        ValueError: a sweep holds a value that JSON has not.
    """
    results = skeleton.get("results")
    if skeleton.get("kind") != "balanced-link" or not isinstance(results, dict):
        return skeleton, set()
    sweeps = results.get("sweeps")
    if type(sweeps) is not list:
        return skeleton, set()
    alike = [_without_places(sweep) for sweep in sweeps]
    texts = [marshal.dumps(sweep, _PLAIN) for sweep in alike]
    new = {text: sweep for text, sweep in zip(texts, alike, strict=True) if text not in _known}
    left = list(new.values()) or alike[:1]
    return {**skeleton, "results": {**results, "sweeps": left}}, set(new)


def _without_places(sweep: Any) -> Any:  # noqa: ANN401 - any JSON value
    """The sweep, right for the schema or not as before, whatever the places of its clipped points.

    The schema asks of each entry of `bounds` the same, and of its positions that they are small.
    """
    bounds = sweep.get("bounds") if isinstance(sweep, dict) else None
    if type(bounds) is not list:
        return sweep
    words = set()
    for bound in bounds:
        if type(bound) is not dict or bound.keys() != _BOUND:
            return sweep
        first, last, word = bound["from"], bound["to"], bound["bound"]
        small = type(first) is type(last) is int and 0 <= first <= _LAST and 0 <= last <= _LAST
        if type(word) is not str or not small:
            return sweep
        words.add(word)
    return {**sweep, "bounds": [{"from": 0, "to": 0, "bound": word} for word in sorted(words)]}


@lru_cache(maxsize=1)
def _validator() -> "Draft202012Validator":
    from jsonschema_rs import Draft202012Validator

    return Draft202012Validator(schema())


def _doubtful(value: Any, whole: frozenset[str]) -> bool:  # noqa: ANN401 - any JSON value
    """Whether a number with a decimal mark may stand where an integer belongs.

    JSON Schema takes 1.0 for an integer and record-1 does not. The names of all members that are
    integers are known; a float under any of them is left to the slow way.
    """
    if type(value) is not dict and type(value) is not list:
        return True
    named = value.items() if type(value) is dict else (("", item) for item in value)
    for name, item in named:
        kind: type = type(item)
        if kind is str or kind is int:
            continue
        if kind is dict or kind is list:
            if _doubtful(item, whole):
                return True
        elif not (item is None or kind is bool or (kind is float and name not in whole)):
            return True  # no value of JSON, or none of its plain ones
    return False


@lru_cache(maxsize=1)
def _integers() -> frozenset[str]:
    """Names of members that are integers somewhere in the schema.

    Raises:
        ValueError: an integer stands in the schema where no member has it.
    """
    whole = schema()
    defined = {f"#/$defs/{name}" for name, part in whole["$defs"].items() if _is_integer(part)}
    named = {name for name, part in _members(whole) if _is_integer(part, defined)}
    every = sum(1 for part in _parts(whole) if _is_integer(part, defined))
    under_names = sum(1 for _, part in _members(whole) if _is_integer(part, defined))
    if every != under_names + len(defined):
        raise ValueError("an integer of record-1 is no member of an object")
    return frozenset(named)


def _is_integer(part: object, defined: "set[str] | None" = None) -> bool:
    if not isinstance(part, dict):
        return False
    return part.get("type") == "integer" or part.get("$ref") in (defined or ())


def _members(part: object) -> Iterator[tuple[str, Any]]:
    """Every member that `properties` describe, however deep, by name."""
    for below in _parts(part):
        properties = below.get("properties")
        if isinstance(properties, dict):
            yield from properties.items()


def _parts(part: object) -> Iterator[dict[str, Any]]:
    """Every object of the schema, itself included."""
    if isinstance(part, dict):
        yield part
        for below in part.values():
            yield from _parts(below)
    elif isinstance(part, list):
        for below in part:
            yield from _parts(below)
