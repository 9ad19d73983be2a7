"""The canonical text of a JSON value: RFC 8785, with arrays of numbers written in bulk."""

from functools import lru_cache
from typing import Any

import numpy as np

from sweepbook.errors import SweepbookError
from sweepbook.record import numbers
from sweepbook.record.numbers import LARGEST_INTEGER, LEAST

_ATOMS = frozenset((str, int, float, bool, type(None)))
_OTHERS = frozenset((bool, type(None), np.ndarray))
_DEEPEST = 64
_SHORT = 200
"""Characters of a text that is kept written; a longer one is hardly met twice."""


class NoCanonicalText(SweepbookError):
    """A value has no place in JSON, so nothing can be said about its identity."""


def text(value: Any) -> bytes:  # noqa: ANN401 - any JSON value
    """The text of RFC 8785: members by name, no blanks, numbers in their shortest form.

    Args:
        value: a JSON value; float64[n] stands for an array of numbers.

    Raises:
        NoCanonicalText: NaN, infinity, a lone surrogate, an integer beyond 2^53-1, an object
            that is not of JSON, or nesting without end.
    """
    quick = quick_text(value)
    if quick is not None:
        return quick
    try:
        return _text(value)
    except (ValueError, RecursionError) as error:
        reason = "it is nested too deep" if isinstance(error, RecursionError) else str(error)
        raise NoCanonicalText(
            f"The record has no canonical text: {reason}.",
            "Every value must be one of JSON: finite numbers, integers up to 2^53-1, proper text.",
        ) from error


def quick_text(value: Any) -> bytes | None:  # noqa: ANN401 - any JSON value
    """The same text by orjson; None where it might write it otherwise, or there is none.

    It escapes as the RFC has it, and sorts and writes alike what `_plain` lets through.

    Args:
        value: as of `text`; `orjson.Fragment` stands for an array's canonical text.
    """
    import orjson

    try:
        return orjson.dumps(_plain(value, _DEEPEST), default=_array, option=orjson.OPT_SORT_KEYS)
    except (TypeError, ValueError):  # a lone surrogate; a number that is not finite; `_plain`
        return None


def _plain(value: Any, deep: int) -> Any:  # noqa: ANN401 - any JSON value
    """The same value with whole numbers as integers.

    An ASCII name sorts by bytes as by UTF-16 code units. A double that is no whole number and not
    very small is written by both with the same shortest digits and without an exponent.

    Raises:
        ValueError: a name is not ASCII, a number may have another form, it is nested too deep, or
            holds something that is not of JSON.
    """
    kind = type(value)
    if kind is str:
        return value
    if kind is dict:
        if deep and all(type(name) is str and name.isascii() for name in value):
            return {
                name: item if type(item) is str else _plain(item, deep - 1)
                for name, item in value.items()
            }
    elif kind is list or kind is tuple:
        if deep:
            return [item if type(item) is str else _plain(item, deep - 1) for item in value]
    elif kind is float or kind is int:
        return _plain_number(value)
    elif kind in _OTHERS or kind.__name__ == "Fragment":
        return value
    raise ValueError("it takes the long way")


def _plain_number(value: float) -> float:
    """The number, as an integer if it is whole.

    Raises:
        ValueError: it may have another form in the one text and in the other.
    """
    size = abs(value)
    if size <= LARGEST_INTEGER:
        if isinstance(value, int) or value.is_integer():
            return int(value)
        if size >= LEAST:
            return value
    raise ValueError("it takes the long way")


def _array(value: Any) -> Any:  # noqa: ANN401 - what orjson does not know
    """An array of numbers as its text.

    Raises:
        TypeError: it is none.
        ValueError: a number is not finite.
    """
    import orjson

    if not isinstance(value, np.ndarray):
        raise TypeError(f"{type(value).__name__} is not of JSON")
    return orjson.Fragment(b"[%b]" % numbers.joined_bytes(value))


def _text(value: Any) -> bytes:  # noqa: ANN401 - any JSON value
    """The recursion of `text`: objects and arrays here, the rest by the library (3.2.2, 3.2.3)."""
    kind = type(value)
    if kind in _ATOMS and (kind is not str or len(value) <= _SHORT):
        return _atom(value)
    if isinstance(value, np.ndarray):
        return f"[{numbers.joined(value)}]".encode("ascii")
    if isinstance(value, dict):
        members = sorted(map(_member, value))
        return b"{" + b",".join([text + _text(value[name]) for _, text, name in members]) + b"}"
    if isinstance(value, list | tuple):
        return b"[" + b",".join(map(_text, value)) + b"]"
    return _written(value)


@lru_cache(maxsize=4096, typed=True)
def _atom(value: object) -> bytes:
    """A short text, a number, true, false or null: a record has few and repeats them often."""
    return _written(value)


def _written(value: Any) -> bytes:  # noqa: ANN401 - the library refuses what is not of JSON
    import rfc8785

    return rfc8785.dumps(value)


@lru_cache(maxsize=4096)
def _member(name: object) -> tuple[bytes, bytes, str]:
    """Of a member: its name in UTF-16 code units to sort by (3.2.3), as written, and as it is."""
    if not isinstance(name, str):
        raise ValueError(f"{name!r} is no name of a member")
    return name.encode("utf-16-be"), _written(name) + b":", name
