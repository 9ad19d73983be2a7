"""JSON text to values, strictly: what two programs might read in two ways is refused."""

import json
import math
import re
from collections import Counter
from collections.abc import Callable
from typing import Any, NoReturn

import numpy as np

from sweepbook.errors import SweepbookError
from sweepbook.record.numbers import LARGEST_INTEGER

DEEPEST = 64
"""Objects and arrays inside each other; a record needs nine."""

_MOST = ((b",", 5_000_000), (b":", 1_000_000), (b"{", 500_000), (b"[", 500_000))
"""Marks of a text whose values, one by one, still fit into the memory."""

_LONGEST_INTEGER = 16
_SURROGATE = re.compile(r"[\ud800-\udfff]")


class NotARecord(SweepbookError):
    """Bytes cannot be read as a record."""


def decoder(constant: Callable[[str], Any] | None = None) -> json.JSONDecoder:
    """A decoder that refuses what `parsed` does.

    It raises NotARecord as `parsed` does, json.JSONDecodeError where the text is no JSON, and
    RecursionError where it is nested without end.

    Args:
        constant: what to make of NaN, Infinity and -Infinity; None to refuse them.
    """
    return json.JSONDecoder(
        object_pairs_hook=_object, parse_constant=constant or _constant, parse_int=_integer
    )


def over_bounds(data: bytes) -> str:
    """Why a text has more values than fit into the memory one by one, in words; "" where not."""
    for mark, most in _MOST:
        if len(data) > most and data.count(mark) > most:
            return f"it has more than {most:,} of the mark {mark.decode()!r}; give it in parts"
    return ""


def parsed(data: bytes) -> Any:  # noqa: ANN401 - any JSON value
    """The JSON value of UTF-8 text.

    Raises:
        NotARecord: it is not UTF-8, not JSON, or has NaN, infinity, a number that is too large,
            a name twice in one object, or more values than fit into the memory. Depth and lone
            surrogates are `check`'s.
    """
    if too_much := over_bounds(data):
        raise _refused(too_much)
    try:
        return decoder().decode(data.decode("utf-8-sig"))
    except UnicodeDecodeError as error:
        raise _refused(f"byte {error.start} is not UTF-8") from error
    except json.JSONDecodeError as error:
        raise _refused(f"line {error.lineno}, column {error.colno}: {error.msg}") from error
    except RecursionError as error:
        raise _refused(f"it is nested deeper than {DEEPEST}") from error


def check(value: Any) -> None:  # noqa: ANN401 - any JSON value
    """Refuse what the parser lets through.

    Args:
        value: a JSON value; arrays of numbers as float64[n].

    Raises:
        NotARecord: nesting deeper than `DEEPEST`, a lone surrogate, a number beyond all doubles.
    """
    if not _sound(value, DEEPEST):
        _check(value, "$", 1)


def _sound(value: Any, deep: int) -> bool:  # noqa: ANN401 - any JSON value
    """Whether nothing is to be refused in a value that may be nested so deep."""
    kind = type(value)
    if kind is str:
        return value.isascii() or not _SURROGATE.search(value)
    if kind is dict or kind is list:
        if not deep:
            return False
        for item in value.values() if kind is dict else value:
            if not _sound(item, deep - 1):
                return False
        return kind is list or all(map(str.isascii, value)) or all(_sound(n, 0) for n in value)
    if kind is np.ndarray:
        return bool(np.isfinite(value).all())
    return kind is not float or math.isfinite(value)


def _check(value: Any, path: str, depth: int) -> None:  # noqa: ANN401 - any JSON value
    """Name the first thing to refuse; `depth` says how many objects and arrays it lies in."""
    if not isinstance(value, dict | list):
        _check_one(value, path)
        return
    if depth > DEEPEST:
        raise _refused(f"it is nested deeper than {DEEPEST}")
    if isinstance(value, dict):
        for name, item in value.items():
            _check_one(name, f"a name in {path}")
            _check(item, f"{path}.{name}", depth + 1)
        return
    for position, item in enumerate(value):
        _check(item, f"{path}[{position}]", depth + 1)


def _check_one(value: Any, path: str) -> None:  # noqa: ANN401 - any JSON value
    """Refuse a lone surrogate and a number beyond all doubles."""
    if isinstance(value, str):
        if _SURROGATE.search(value):
            raise _refused(f"{path} holds half of a surrogate pair, which is no character")
    elif isinstance(value, np.ndarray):
        finite = np.isfinite(value)
        if not finite.all():
            raise _refused(f"{path}[{int(np.argmin(finite))}] is a number too large for a double")
    elif isinstance(value, float) and not math.isfinite(value):
        raise _refused(f"{path} is a number too large for a double")


def _object(members: list[tuple[str, Any]]) -> dict[str, Any]:
    made = dict(members)
    if len(made) < len(members):
        twice = Counter(name for name, _ in members).most_common(1)[0][0]
        raise _refused(f"the name {twice[:80]!r} stands twice in one object")
    return made


def _constant(word: str) -> NoReturn:
    raise _refused(f"{word} is no number of JSON")


def _integer(digits: str) -> int:
    if len(digits) <= _LONGEST_INTEGER + digits.startswith("-"):
        number = int(digits)
        if abs(number) <= LARGEST_INTEGER:
            return number
    shown = digits if len(digits) <= 24 else f"{digits[:20]}... ({len(digits)} digits)"
    raise _refused(f"the integer {shown} is beyond 2^53-1, so programs differ on its value")


def _refused(what: str) -> NotARecord:
    return NotARecord(
        f"This is no record that can be read: {what}.",
        "Take it again from where it came from; `record-1.md` describes what a record looks like.",
    )
