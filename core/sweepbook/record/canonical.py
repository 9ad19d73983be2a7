"""The canonical text of a JSON value: RFC 8785, with arrays of numbers written in bulk."""

from typing import Any

import numpy as np

from sweepbook.errors import SweepbookError
from sweepbook.record import numbers


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
    import rfc8785

    if isinstance(value, np.ndarray):
        return f"[{numbers.joined(value)}]".encode("ascii")
    if isinstance(value, dict):
        members = sorted((_utf16(name), name) for name in value)
        return (
            b"{"
            + b",".join(rfc8785.dumps(name) + b":" + _text(value[name]) for _, name in members)
            + b"}"
        )
    if isinstance(value, list | tuple):
        return b"[" + b",".join(_text(item) for item in value) + b"]"
    return rfc8785.dumps(value)


def _utf16(name: object) -> bytes:
    """The sort key of a member: its name in UTF-16 code units (RFC 8785, 3.2.3)."""
    if not isinstance(name, str):
        raise ValueError(f"{name!r} is no name of a member")
    return name.encode("utf-16-be")
