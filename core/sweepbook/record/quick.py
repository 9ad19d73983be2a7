"""A record's text to values in a fraction of the time: the long arrays of numbers in bulk.

Every long stretch of plain numbers between brackets is cut out and read at once, straight into
doubles; in its place a word is left that JSON has not. What remains is read by the decoder of
`strict`, with all that it refuses. The reading counts where every word was met as a value, and each
where a record has an array of numbers: then nothing was cut out of a text or of anything else.
Otherwise there is no answer here, and `strict` reads the whole and says what is wrong.
"""

from collections import deque
from collections.abc import Sequence
from typing import Any

import numpy as np

from sweepbook.record import arrays, strict
from sweepbook.record.arrays import F64
from sweepbook.record.numbers import LARGEST_INTEGER

LONG = 64
"""Bytes of an array that is worth the way; a shorter one is read with the rest."""

MOST_BRACKETS = 50_000
"""Arrays of a text that is read here; one of brackets alone would fill the memory."""

_PLAIN = b"0123456789.,-"
_WORD = "Infinity"


def parsed(data: bytes) -> dict[str, Any] | None:
    """The value of a record's text, its long arrays as read-only float64[n]; None for no answer.

    An answer says what `strict.parsed` and `arrays.with_arrays` make of the same text.

    Args:
        data: UTF-8 text of one JSON object.
    """
    if data.count(b"[") > MOST_BRACKETS:
        return None
    rest, rows = _cut(data)
    values = _numbers(rows)
    if values is None:
        return None
    waiting = deque(values)

    def next_row(word: str) -> F64:
        if word != _WORD or not waiting:
            raise ValueError(f"{word} is no number of JSON")
        return waiting.popleft()

    try:
        value = strict.decoder(next_row).decode(rest.decode("utf-8-sig"))
    except (ValueError, RecursionError, strict.NotARecord):
        return None
    if waiting or not isinstance(value, dict):
        return None
    _, found = arrays.set_aside(value)
    return value if len(found) == len(values) else None


def _cut(data: bytes) -> tuple[bytes, list[bytes]]:
    """The text with a word in the place of every long array of plain numbers, and the numbers."""
    first, *others = data.split(b"[")
    kept, rows = [first], []
    for part in others:
        row, bracket, after = part.partition(b"]")
        if bracket and len(row) >= LONG and not row.translate(None, _PLAIN):
            rows.append(row)
            kept[-1] += _WORD.encode() + after
        else:
            kept.append(part)
    return b"[".join(kept), rows


def _numbers(rows: Sequence[bytes]) -> list[F64] | None:
    """The numbers of each row; None without any, or where one is no list of numbers of JSON.

    An integer that not every program reads alike is not plain.
    """
    import simdjson

    if not rows:
        return None
    try:
        array = simdjson.Parser().parse(b"[" + b",".join(rows) + b"]")
        if not isinstance(array, simdjson.Array):
            return None
        every = np.frombuffer(array.as_buffer(of_type="d"), dtype=np.float64) + 0.0
    except (ValueError, RuntimeError):  # the second for an integer beyond 64 bits
        return None
    ends = np.cumsum([row.count(b",") + 1 for row in rows])
    if every.size != ends[-1] or not (np.abs(every) <= LARGEST_INTEGER).all():
        return None
    every.setflags(write=False)
    return np.split(every, ends[:-1])
