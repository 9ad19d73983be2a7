"""Many plain decimals at once: by a parser of JSON, straight into doubles, each the nearest one.

JSON's numbers are the plain ones but for a plus sign, noughts before the first digit, and a point
without a digit on both sides. For a shift of the decimal mark the digits are taken as a whole
number again: below 10^15 that is exact, and so is a power of ten up to 10^22; one division of
doubles is rounded to the nearest (IEEE 754-2019, 5.4.1).
"""

from functools import lru_cache
from itertools import accumulate
from types import MappingProxyType
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    import simdjson
    from numpy.typing import NDArray

MOST_DIGITS = 15
LARGEST_POWER = 22
_COMMA, _POINT, _NOUGHT = b",", b".", b"0"
_ODD = b"?"
"""Stands for a byte that no plain number has."""
_UTF8 = "utf-8", "surrogatepass"
_NONE: "Mapping[int, str]" = MappingProxyType({})
_MOST_DECIMALS = 24
"""Decimals that are counted digit by digit in all numbers at once; doubles have 17 at most."""


class Read(NamedTuple):
    """Texts as numbers, as they stand there: no unit is applied.

    Attributes:
        values: float64[n], never minus zero; 0 where a text is odd. Whoever asked may write into
            them where that can be done.
        digits: the most digits behind the decimal mark.
        odd: texts that are no plain numbers, by position, rising.
        span: the least and the greatest value; None where that is not known, or a text is odd.
    """

    values: "NDArray[np.float64]"
    digits: int
    odd: "Mapping[int, str]"
    span: tuple[float, float] | None = None


def read(lists: "Sequence[bytes]", decimal: str, between: bytes) -> "list[Read] | None":
    """Read lists of texts, most of which are plain numbers.

    Args:
        lists: of each its texts one behind the other, at least one.
        decimal: the decimal mark, "." or ",".
        between: the bytes that stand for the one mark between two texts.

    Returns:
        One for each list; None where a text is empty, or is made like a number and is none of JSON.
    """
    cells = between[-1:].join(lists).translate(_known(decimal, between))
    spans, counts, others, end = [], [], [], -1
    for texts in lists:
        start, end = end + 1, end + 1 + len(texts)
        spans.append((start, end))
        counts.append(cells.count(_COMMA, start, end) + 1)
        others.append(list(_odd(cells, start, end)) if cells.find(_ODD, start, end) >= 0 else [])
    plain = _without(cells, [one for odd in others for one in odd])
    values = doubles(plain)
    if values is None or values.size != sum(counts):
        return None
    if b"-" in plain:
        values += 0.0
    firsts = [0, *accumulate(counts)]
    least, greatest = (of.reduceat(values, firsts[:-1]) for of in (np.minimum, np.maximum))
    each = zip(_digits(plain, spans), least.tolist(), greatest.tolist(), strict=True)
    found = []
    for at, (most, low, high) in enumerate(each):
        own = values[firsts[at] : firsts[at + 1]]
        if odd := others[at]:
            texts, start = lists[at], spans[at][0]
            known = {at: texts[one - start : end - start].decode(*_UTF8) for at, one, end in odd}
            found.append(Read(own, most, known))
        else:
            found.append(Read(own, most, _NONE, (low, high)))
    return found


@lru_cache
def _known(decimal: str, between: bytes) -> bytes:
    """By byte what numbers are made of, with a decimal point; commas between, and the odd ones."""
    table = bytearray(_ODD * 256)
    for byte in b"-0123456789":
        table[byte] = byte
    for byte in between:
        table[byte] = ord(_COMMA)
    table[ord(decimal)] = ord(_POINT)
    return bytes(table)


def _odd(cells: bytes, start: int, stop: int) -> "Iterator[tuple[int, int, int]]":
    """The cells of a list that hold an odd byte: position, where each begins, where it ends."""
    at, end = 0, start - 1
    while (mark := cells.find(_ODD, end + 1, stop)) >= 0:
        begin = cells.rfind(_COMMA, end + 1, mark) + 1 or end + 1
        at += cells.count(_COMMA, end + 1, begin)
        end = cells.find(_COMMA, mark, stop)
        end = stop if end < 0 else end
        yield at, begin, end
        at += 1


def _without(cells: bytes, odd: "Sequence[tuple[int, int, int]]") -> bytes | bytearray:
    """The cells with a 0 for odd ones, and blanks behind it."""
    if not odd:
        return cells
    plain = bytearray(cells)
    for _, start, end in odd:
        plain[start:end] = b"0".ljust(end - start)
    return plain


def _digits(cells: bytes | bytearray, spans: "Sequence[tuple[int, int]]") -> "Iterator[int]":
    """The most digits that follow a point, of each list.

    Most lists begin with a number that has as many as any has.
    """
    most = _most_decimals(cells)
    for start, end in spans:
        point = cells.find(_POINT, start, end)
        comma = cells.find(_COMMA, point, end) if point >= 0 else -1
        as_most = point >= 0 and (end if comma < 0 else comma) - point - 1 == most
        yield most if as_most else _most_decimals(cells[start:end])


def doubles(text: bytes | bytearray) -> "NDArray[np.float64] | None":
    """Numbers of JSON with commas between.

    Args:
        text: the numbers, without an exponent.

    Returns:
        float64[n]; None where one is no number of JSON, or a whole one beyond 64 bits.
    """
    import simdjson

    try:
        array = _parser().parse(b"".join((b"[", text, b"]")))
        if not isinstance(array, simdjson.Array):
            return None
        return np.frombuffer(array.as_buffer(of_type="d"), dtype=np.float64)
    except (ValueError, RuntimeError):  # the second for an integer beyond 64 bits
        return None


@lru_cache(maxsize=1)
def _parser() -> "simdjson.Parser":
    """One parser for all: memory that it has used once it need not ask for again."""
    import simdjson

    return simdjson.Parser()


def _most_decimals(cells: bytes | bytearray) -> int:
    """The most digits that follow a point; 0 without any point.

    As many as follow the first one follow most others. Else all points are followed at once, digit
    by digit, for as long as one of them has more.

    Args:
        cells: numbers of JSON with commas between, and blanks, without an exponent.
    """
    first = cells.find(_POINT)
    if first < 0:
        return 0
    marks = np.frombuffer(cells, dtype=np.uint8)
    points, digits = marks == ord(_POINT), marks >= ord(_NOUGHT)
    usual = first + 1
    while usual < len(cells) and digits[usual]:
        usual += 1
    usual -= first + 1
    if not np.count_nonzero(points[: -usual - 1] & digits[usual + 1 :]):
        return usual
    alive = points
    for count in range(_MOST_DECIMALS):
        alive = alive[:-1] & digits[count + 1 :]
        if not np.count_nonzero(alive):
            return count
    ends = np.append(np.flatnonzero(~digits & ~points), marks.size)
    where = np.flatnonzero(points)
    return int((ends[np.searchsorted(ends, where)] - where).max()) - 1


def shifted(
    values: "NDArray[np.float64]", decimals: int, shift: int
) -> "NDArray[np.float64] | None":
    """The values times a power of ten, by way of the whole numbers of their last digits.

    Args:
        values: float64[n], each the nearest to a decimal.
        decimals: the most digits behind the point of these.
        shift: the power; 0 leaves all as it is.

    Returns:
        float64[n], each the nearest again; None where there are too many digits for that.
    """
    if shift == 0:
        return values
    power = decimals - shift
    if not (decimals <= MOST_DIGITS and 0 <= power <= LARGEST_POWER):
        return None
    whole = values * 10.0**decimals
    if not (np.abs(whole) < 10.0**MOST_DIGITS).all():
        return None
    moved: NDArray[np.float64] = np.rint(whole) / 10.0**power
    return moved
