"""A record's text to values in a fraction of the time: the long arrays of numbers in bulk.

Every long stretch between brackets that looks like numbers is cut out and read at once, straight
into doubles; in its place stands an array of one integer whose digits the text has nowhere, and
JSON spells an integer in one way only. The reading counts where each of them was met as a value,
and just where a record has an array of numbers: then nothing was cut out of a text or of anything
else. What the strict reading refuses, or might read in another way (a name twice, a large integer),
gets no answer here; `strict` reads the whole then and says what is wrong.
"""

import re
from collections.abc import Sequence
from functools import lru_cache
from itertools import accumulate, pairwise
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from sweepbook.record import arrays, identity, numbers, strict
from sweepbook.record.arrays import F64
from sweepbook.record.numbers import LARGEST_INTEGER

if TYPE_CHECKING:
    from simdjson import Parser

LONG = 64
"""Bytes of an array that is worth the way; a shorter one is read with the rest."""

MOST_BRACKETS = 50_000
"""Fewer arrays has a text that is read here; one of brackets alone would fill the memory."""

KEPT = 4_000_000
"""Bytes of numbers for which the memory of the parser is kept; more of them give it back."""

_STAND_IN = 2**52 + 1
_DIGITS = str(_STAND_IN).encode()
_SHORT = b"[" + _DIGITS + b"]"
_BEGINS = frozenset(b"-0123456789")
_BLANKS = b" \t\n\r"
_TEXT = re.compile(rb'"(?:[^"\\]|\\.)*+"', re.DOTALL)


class Parsed(NamedTuple):
    """What a text says.

    Attributes:
        document: as of a record, number arrays as read-only float64[n].
        record_id: the identity that follows from the text; "" where it was not worked out or asked
            for.
        skeleton: the same with a short list in the place of each array; None where a number needs
            a closer look: a whole one with a decimal mark, or a negative one in an array that may
            have none. Of other numbers nothing is left to be asked but what a schema can say.
    """

    document: dict[str, Any]
    record_id: str
    skeleton: dict[str, Any] | None


class _Doubtful(Exception):
    """The strict reading has to look."""


def parsed(data: bytes, *, identify: bool = True) -> Parsed | None:
    """What a record's text says; None for no answer.

    An answer is what `strict.parsed` and `arrays.with_arrays` make of the same text, and holds
    nothing that `strict.check` refuses.

    Args:
        data: UTF-8 text of one JSON object.
        identify: whether the identity is asked for.
    """
    import orjson

    data = data.removeprefix(b"\xef\xbb\xbf")
    if strict.over_bounds(data):
        return None
    rest, rows = _cut(data)
    if not rows or rest.count(_DIGITS) != len(rows):
        return None
    read = _numbers(rows)
    if read is None:
        return None
    every, lengths = read
    try:
        value = orjson.loads(rest)
        if not isinstance(value, dict):
            return None
        seen = _Seen()
        seen.look(value, strict.DEEPEST)
    except (ValueError, _Doubtful):
        return None
    if seen.stand_ins != len(rows) or seen.members != _names(rest):
        return None
    ends = [0, *accumulate(lengths)]
    filled = _filled(value, [every[a:b] for a, b in pairwise(ends)])
    if filled is None:
        return None
    document, rightly_signed = filled
    shortest = identify and numbers.is_joined(b",".join(rows), every)
    return Parsed(
        document,
        _identity(value, rows) if shortest else "",
        value if rightly_signed and not seen.wholes else None,
    )


def _cut(data: bytes) -> tuple[bytes, list[bytes]]:
    """The text with a stand-in for every long array of plain numbers, and the numbers.

    No numbers where it has more arrays than are read here.
    """
    first, *others = data.split(b"[", MOST_BRACKETS)
    if len(others) == MOST_BRACKETS:
        return data, []
    kept, rows = [first], []
    for part in others:
        row, bracket, after = b"", b"", b""
        if len(part) >= LONG and part[0] in _BEGINS:
            row, bracket, after = part.partition(b"]")
        if bracket and len(row) >= LONG and b"e" not in row and b"E" not in row:
            rows.append(row)
            kept += (_SHORT, after)
        else:
            kept += (b"[", part)
    return b"".join(kept), rows


def _numbers(rows: Sequence[bytes]) -> tuple[F64, list[int]] | None:
    """The numbers of rows with commas between, one after another, and how many each row has.

    None where one is no number of JSON. An integer that not every program reads alike is no such
    number.
    """
    import simdjson

    text = b"[[" + b"],[".join(rows) + b"]]"
    parser = _parser() if len(text) <= KEPT else simdjson.Parser()
    try:
        array = parser.parse(text)
        if not isinstance(array, simdjson.Array):
            return None
        every = np.frombuffer(array.as_buffer(of_type="d"), dtype=np.float64) + 0.0
        lengths = [len(row) for row in array if isinstance(row, simdjson.Array)]
    except (ValueError, TypeError, RuntimeError):  # the last for an integer beyond 64 bits
        return None
    if len(lengths) != len(rows) or every.size != sum(lengths):
        return None
    if not (every.min() >= -LARGEST_INTEGER and every.max() <= LARGEST_INTEGER):
        return None
    every.setflags(write=False)
    return every, lengths


@lru_cache(maxsize=1)
def _parser() -> "Parser":
    """Kept with its memory, which takes longer to get than a record's numbers to read.

    It raises RuntimeError where another thread is at it.
    """
    import simdjson

    return simdjson.Parser()


class _Seen:
    """What stands in a value.

    Attributes:
        members: of all its objects.
        stand_ins: for arrays.
        wholes: whole numbers with a decimal mark.
    """

    def __init__(self) -> None:
        self.members = self.stand_ins = self.wholes = 0

    def look(self, value: dict[str, Any] | list[Any], deep: int) -> None:
        """Count what stands in a value that may be nested so deep.

        Raises:
            _Doubtful: it is nested deeper, or a number is beyond 2^53-1.
        """
        if not deep:
            raise _Doubtful
        items: Any = value
        if type(value) is dict:
            self.members += len(value)
            items = value.values()
        for item in items:
            kind = type(item)
            if kind is str:
                continue
            if kind is dict or kind is list:
                self.look(item, deep - 1)
            elif kind is int and item == _STAND_IN:
                self.stand_ins += 1
            elif item is not None and not -LARGEST_INTEGER <= item <= LARGEST_INTEGER:
                raise _Doubtful
            elif kind is float and item.is_integer():
                self.wholes += 1


def _stands_in(item: object) -> bool:
    return type(item) is list and len(item) == 1 and item[0] == _STAND_IN


def _names(text: bytes) -> int:
    """Names in the objects of a text, a name that stands twice counted twice; never too few."""
    count = text.count(b'":')  # a text that begins with a colon is one too many
    if b"\\" in text or text.translate(None, _BLANKS).count(b'":') != count:
        return _colons(text)
    return count


def _colons(text: bytes) -> int:
    """Colons outside the texts of JSON: as many as its objects have members, named twice or not."""
    if b"\\" in text:
        return _TEXT.sub(b"", text).count(b":")
    return b"".join(text.split(b'"')[::2]).count(b":")


def _filled(value: dict[str, Any], found: Sequence[F64]) -> tuple[dict[str, Any], bool] | None:
    """The value with its arrays in their places, and whether each may have the signs it has.

    None where an array has no place of one.
    """
    rows, right = iter(found), True

    def fill(item: Any, path: str) -> Any:  # noqa: ANN401 - any JSON value
        nonlocal right
        made = next(rows) if _stands_in(item) else arrays.as_array(item, path)
        right = right and (arrays.is_signed(path) or _is_never_negative(made))
        return made

    made: dict[str, Any] = arrays.replaced(value, arrays.places(value), fill)
    return None if next(rows, None) is not None else (made, right)


def _is_never_negative(found: object) -> bool:
    return isinstance(found, np.ndarray) and bool((found >= 0.0).all())


def _identity(value: dict[str, Any], rows: Sequence[bytes]) -> str:
    """The identity, by arrays whose text is the canonical one; "" where other text is in doubt."""
    import orjson

    texts = (orjson.Fragment(b"[" + row + b"]") for row in rows)
    inside = {name: part for name, part in value.items() if name not in identity.OUTSIDE}

    def fill(item: Any, _path: str) -> Any:  # noqa: ANN401 - any JSON value
        return next(texts) if _stands_in(item) else item

    return identity.quickly(arrays.replaced(inside, arrays.places(value), fill)) or ""
