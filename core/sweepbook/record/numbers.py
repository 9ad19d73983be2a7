"""Numbers as text: the shortest that reads back as the same double, as RFC 8785 writes it."""

import math
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from sweepbook.record.arrays import F64

LARGEST_INTEGER = 2**53 - 1
"""The largest integer of which every program that uses doubles has the same idea (RFC 8259, 6)."""

LEAST = 1e-3
"""From here up to 2^53 RFC 8785, orjson and everybody else write no exponent."""

_LONGEST = 15
_LOW, _HIGH = -2_000, 10_000
"""Hundredths whose texts are kept: those of losses, of which each is written thousands of times."""

_COMMA, _MINUS, _POINT, _NOUGHT, _NINE = b",-.09"


def text(value: float) -> str:
    """One number, e.g. `1`, `0.15`, `1e+21`.

    Raises:
        ValueError: NaN, infinity or an integer that no double holds.
    """
    import rfc8785

    return rfc8785.dumps(value).decode("ascii")


def on_disk(value: float) -> str:
    """One number as a file has it: as `text`, but no double is written like a huge integer.

    A reader that keeps integers apart from doubles would have to guess which of the two is meant.

    Raises:
        ValueError: NaN, infinity or an integer that no double holds.
    """
    if isinstance(value, float) and abs(value) > LARGEST_INTEGER and math.isfinite(value):
        return repr(value)
    return text(value)


def joined_on_disk(values: "F64") -> str:
    """The numbers of float64[n] as a file has them, with commas between.

    Raises:
        ValueError: a value is NaN or infinite.
    """
    if (np.abs(values) > LARGEST_INTEGER).any():
        return ",".join(on_disk(value) for value in values.tolist())
    return joined(values)


def joined_bytes(values: "F64") -> bytes:
    """The numbers of float64[n] with commas between them, in ASCII.

    orjson writes the same digits as RFC 8785 (both the shortest that round-trip, of these the
    nearest), in the same form unless there is an exponent, save for the `.0` of whole numbers;
    of numbers with an exponent the library of the RFC is asked.

    Raises:
        ValueError: a value is NaN or infinite.
    """
    import orjson

    if (known := _of_hundredths(values)) is not None:
        return known
    if not np.isfinite(values).all():
        raise ValueError("NaN or infinity is no number of JSON")
    written = orjson.dumps(values + 0.0, option=orjson.OPT_SERIALIZE_NUMPY)[1:-1]
    plain = (written + b",").replace(b".0,", b",")[:-1]
    if b"e" not in plain:
        return plain
    each = zip(plain.split(b","), values.tolist(), strict=True)
    return b",".join(text(value).encode() if b"e" in part else part for part, value in each)


def joined(values: "F64") -> str:
    """The same as `joined_bytes` as text."""
    return joined_bytes(values).decode("ascii")


def _of_hundredths(values: "F64") -> bytes | None:
    """The same of numbers that are all whole hundredths and not large; None for others."""
    if not values.size:
        return None
    with np.errstate(over="ignore", invalid="ignore"):
        whole = np.rint(values * 100.0)
    if not (np.minimum.reduce(whole) >= _LOW and np.maximum.reduce(whole) < _HIGH):
        return None
    if not (whole / 100.0 == values).all():
        return None
    texts = _hundredths()[whole.astype(np.intp) - _LOW]
    return texts.tobytes().translate(None, b"\0")[:-1]


@lru_cache(maxsize=1)
def _hundredths() -> "NDArray[np.bytes_]":
    """Each with a comma behind it, in slots of eight bytes.

    A decimal of so few digits is the shortest that reads back as its double.
    """
    return np.array([f"{whole / 100.0:.15g}," for whole in range(_LOW, _HIGH)], dtype="S8")


def is_joined(text: bytes, values: "F64") -> bool:
    """Whether a text is certainly what `joined` makes of the numbers in it.

    A decimal of at most 15 digits is the only one so short that reads back as its double, unless
    noughts follow its last digit. So a text has the shortest form where each number is so short,
    has no nought at the end of a fraction, no point without one, and no sign without need. JSON
    itself lets no nought stand before another digit.

    Args:
        text: numbers of JSON with commas between.
        values: float64[n], as the text says.
    """
    marks = np.frombuffer(text, dtype=np.uint8)
    if not (marks.min() >= _COMMA and marks.max() <= _NINE):
        return False  # a blank or an exponent
    ends = np.append(np.flatnonzero(marks == _COMMA), marks.size)
    fraction = values != np.floor(values)
    return bool(
        ends.size == values.size
        and np.diff(ends, prepend=-1).max() <= _LONGEST + 1
        and np.count_nonzero(marks == _POINT) == np.count_nonzero(fraction)
        and np.count_nonzero(marks == _MINUS) == np.count_nonzero(values < 0.0)
        and not (fraction & (marks[ends - 1] == _NOUGHT)).any()
        and not (fraction & (np.abs(values) < LEAST)).any()
    )
