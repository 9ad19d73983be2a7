"""Values out of a record of which nothing is taken for granted, and keys of rows."""

import hashlib
import math
from collections.abc import Mapping, Sequence
from datetime import UTC, datetime
from functools import lru_cache
from types import MappingProxyType
from typing import Any, NamedTuple

_NOTHING: Mapping[str, Any] = MappingProxyType({})
UNKNOWN_OFFSET = "-00:00"  # RFC 3339, section 4.3
ID_BITS = 53  # whole numbers up to 2^53 are exact in programs that hold numbers as doubles

Value = str | int | float | None


class Named(NamedTuple):
    """A row's number, and the natural key that it is made from."""

    id: int
    natural_key: str


class Moments(NamedTuple):
    """A time as text: as RFC 3339, by the clock on the wall, in UTC; each None where unknown."""

    rfc3339: str | None = None
    local: str | None = None
    utc: str | None = None


def named(*parts: str | int | None) -> Named:
    """The natural key of some parts and the number that follows from it, 0 to 2^53 - 1."""
    import orjson

    natural_key = orjson.dumps(parts)
    digest = hashlib.sha256(natural_key).digest()
    return Named(int.from_bytes(digest[:8], "big") >> (64 - ID_BITS), natural_key.decode())


def clean(text: str) -> str:
    r"""Text that every database takes: NUL becomes `\x00`, a lone surrogate `\udc80`."""
    if "\0" in text:
        text = text.replace("\0", "\\x00")
    if text.isascii():
        return text
    return text.encode("utf-8", "backslashreplace").decode("utf-8")


def part(document: object, *path: str) -> Mapping[str, Any]:
    """The object at a place in a document; empty where there is none."""
    for name in path:
        if not isinstance(document, dict):
            return _NOTHING
        document = document.get(name)
    return document if isinstance(document, dict) else _NOTHING


def items(document: object, *path: str) -> list[Mapping[str, Any]]:
    """The objects in the list at a place in a document."""
    holder = part(document, *path[:-1]).get(path[-1])
    if not isinstance(holder, list | tuple):
        return []
    return [entry for entry in holder if isinstance(entry, dict)]


def text(holder: Mapping[str, Any], name: str) -> str | None:
    """The text of this name, or None."""
    value = holder.get(name)
    return clean(value) if isinstance(value, str) else None


def word(holder: Mapping[str, Any], name: str, known: Sequence[str]) -> str | None:
    """The text of this name if it is one of the known words."""
    value = holder.get(name)
    return value if isinstance(value, str) and value in known else None


def number(holder: Mapping[str, Any], name: str) -> float | None:
    """The finite number of this name, or None."""
    value = holder.get(name)
    usable = isinstance(value, int | float) and not isinstance(value, bool)
    return finite(value) if usable else None


def whole(holder: Mapping[str, Any], name: str) -> int | None:
    """The whole number of this name as far as 32 bits hold it, or None."""
    value = holder.get(name)
    usable = isinstance(value, int) and not isinstance(value, bool) and abs(value) < 1 << 31
    return value if usable else None


def flag(holder: Mapping[str, Any], name: str) -> int | None:
    """1 for true, 0 for false, None for anything else."""
    value = holder.get(name)
    return int(value) if isinstance(value, bool) else None


def finite(value: float | None) -> float | None:
    """The value as a plain float; None for NaN, infinity and what is too large."""
    try:
        return float(value) if value is not None and math.isfinite(value) else None
    except OverflowError:
        return None


def moments(time: Mapping[str, Any]) -> Moments:
    """A time of a record: {"rfc3339": "2026-03-04T09:12:40+01:00", ...}."""
    stated = text(time, "rfc3339")
    return _moments(stated) if stated else Moments()


@lru_cache(maxsize=1024)
def _moments(stated: str) -> Moments:
    try:
        parsed = datetime.fromisoformat(stated)
    except ValueError:
        return Moments()
    if parsed.tzinfo is None:
        return Moments()
    local = parsed.replace(tzinfo=None).isoformat()
    if stated.endswith(UNKNOWN_OFFSET):
        return Moments(stated, local)
    try:
        return Moments(stated, local, parsed.astimezone(UTC).replace(tzinfo=None).isoformat())
    except OverflowError:
        return Moments(stated, local)
