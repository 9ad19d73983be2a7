"""Numbers as text: the shortest that reads back as the same double, as RFC 8785 writes it."""

import math
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from sweepbook.record.arrays import F64

LARGEST_INTEGER = 2**53 - 1
"""The largest integer of which every program that uses doubles has the same idea (RFC 8259, 6)."""


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


def joined(values: "F64") -> str:
    """The numbers of float64[n] with commas between them.

    orjson writes the same digits as RFC 8785 (both the shortest that round-trip, of these the
    nearest), in the same form unless there is an exponent, save for the `.0` of whole numbers;
    where one number has an exponent the library of the RFC is asked for all.

    Raises:
        ValueError: a value is NaN or infinite.
    """
    import orjson

    if not np.isfinite(values).all():
        raise ValueError("NaN or infinity is no number of JSON")
    written = orjson.dumps(values + 0.0, option=orjson.OPT_SERIALIZE_NUMPY)[1:-1]
    if b"e" in written:
        return ",".join(text(value) for value in values.tolist())
    return (written + b",").replace(b".0,", b",")[:-1].decode("ascii")
