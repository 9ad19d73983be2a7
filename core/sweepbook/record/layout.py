"""A record on disk, so laid out that it reads from top to bottom like a test sheet.

Members stand in the schema's order. An array of numbers has a line of its own; an object or array
without one stands on one line if that is short.
"""

import json
from collections.abc import Iterator
from typing import Any

import numpy as np

from sweepbook.record import numbers
from sweepbook.record.schema import ANY, Order

SHORT = 130
"""Longest line, in characters, that an object or array is put on whole."""


def laid_out(value: Any, order: Order, indent: int = 0) -> str:  # noqa: ANN401 - any JSON value
    """The text of a JSON value, without a newline at its end.

    Args:
        value: a JSON value; arrays of numbers as float64[n].
        order: of the members of objects.
        indent: blanks before what stands inside.

    Raises:
        ValueError: a number is not finite, or an integer that no double holds.
        TypeError: something is not of JSON.
    """
    if isinstance(value, np.ndarray):
        return f"[{numbers.joined_on_disk(value)}]"
    if not isinstance(value, dict | list | tuple):
        return _atom(value)
    if not value or not _holds_array(value):
        line = _line(value, order)
        plain = not isinstance(value, dict) and not any(map(_is_deep, value))
        if plain or len(line) <= SHORT - indent:
            return line
    inside = " " * (indent + 1)
    if isinstance(value, dict):
        parts = [
            f"{_atom(name)}: {laid_out(value[name], below, indent + 1)}"
            for name, below in _members(value, order)
        ]
        opening, closing = "{", "}"
    else:
        below = order.items or ANY
        parts = [laid_out(item, below, indent + 1) for item in value]
        opening, closing = "[", "]"
    body = ",\n".join(inside + part for part in parts)
    return f"{opening}\n{body}\n{' ' * indent}{closing}"


def _line(value: Any, order: Order) -> str:  # noqa: ANN401 - any JSON value
    """The whole value on one line."""
    if isinstance(value, dict):
        members = _members(value, order)
        return (
            "{" + ", ".join(f"{_atom(name)}: {_line(value[name], o)}" for name, o in members) + "}"
        )
    if isinstance(value, list | tuple):
        below = order.items or ANY
        return "[" + ", ".join(_line(item, below) for item in value) + "]"
    return _atom(value)


def _members(value: dict[str, Any], order: Order) -> Iterator[tuple[str, Order]]:
    """Names in the schema's order with the order below each, then the others by name."""
    known = [name for name in order.names if name in value]
    for name in known:
        yield name, order.members.get(name, ANY)
    for name in sorted(value.keys() - set(known)):
        yield name, ANY


def _atom(value: object) -> str:
    if isinstance(value, str) or value is None or isinstance(value, bool):
        return json.dumps(value, ensure_ascii=False)
    if isinstance(value, int | float):
        return numbers.on_disk(value)
    raise TypeError(f"{type(value).__name__} is not of JSON")


def _holds_array(value: Any) -> bool:  # noqa: ANN401 - any JSON value
    if isinstance(value, dict):
        return any(map(_holds_array, value.values()))
    if isinstance(value, list | tuple):
        return any(map(_holds_array, value))
    return isinstance(value, np.ndarray)


def _is_deep(value: object) -> bool:
    return isinstance(value, dict | list | tuple)
