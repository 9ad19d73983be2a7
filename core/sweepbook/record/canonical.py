"""The canonical text of a JSON value: RFC 8785, with arrays of numbers written in bulk."""

from functools import lru_cache
from typing import Any

import numpy as np

from sweepbook.errors import SweepbookError
from sweepbook.record import numbers

_ATOMS = frozenset((str, int, float, bool, type(None)))
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
    try:
        return _text(value)
    except (ValueError, RecursionError) as error:
        reason = "it is nested too deep" if isinstance(error, RecursionError) else str(error)
        raise NoCanonicalText(
            f"The record has no canonical text: {reason}.",
            "Every value must be one of JSON: finite numbers, integers up to 2^53-1, proper text.",
        ) from error


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
