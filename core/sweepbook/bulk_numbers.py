"""Many plain decimals at once: by a parser of JSON, straight into doubles, each the nearest one.

JSON's numbers are the plain ones but for a plus sign, noughts before the first digit, and a point
without a digit on both sides. For a shift of the decimal mark the digits are taken as a whole
number again: below 10^15 that is exact, and so is a power of ten up to 10^22; one division of
doubles is rounded to the nearest (IEEE 754-2019, 5.4.1).
"""

from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    import simdjson
    from numpy.typing import NDArray

MOST_DIGITS = 15
LARGEST_POWER = 22
_COMMA, _POINT, _NOUGHT = b",.0"
_ODD = b"?"
"""Stands for a byte that no plain number has."""
_MOST_DECIMALS = 24
"""Decimals that are counted digit by digit in all numbers at once; doubles have 17 at most."""


class Read(NamedTuple):
    """Texts as numbers, as they stand there: no unit is applied.

    Attributes:
        values: float64[n], never minus zero; 0 where a text is odd. Whoever asked may write into
            them where that can be done.
        digits: the most digits behind the decimal mark.
        odd: texts that are no plain numbers, by position, rising.
    """

    values: "NDArray[np.float64]"
    digits: int
    odd: "Mapping[int, str]"


def read(texts: bytes, decimal: str, between: bytes) -> Read | None:
    """Read many texts, most of which are plain numbers.

    Args:
        texts: one text behind the other; at least one.
        decimal: the decimal mark, "." or ",".
        between: the bytes that stand for the one mark between two texts.

    Returns:
        None where a text is empty, or is made like a number and is none of JSON.
    """
    cells = texts.translate(_known(decimal, between))
    odd: dict[int, str] = {}
    if _ODD in cells:
        spans = list(_odd(cells))
        odd = {at: texts[start:end].decode("utf-8", "surrogatepass") for at, start, end in spans}
        cells = _without(cells, spans)
    values = doubles(cells)
    if values is None or not values.size:
        return None
    if b"-" in cells:
        values += 0.0
    return Read(values, _most_decimals(cells), odd)


@lru_cache
def _known(decimal: str, between: bytes) -> bytes:
    """By byte what numbers are made of, with a decimal point; commas between, and the odd ones."""
    table = bytearray(_ODD * 256)
    for byte in b"-0123456789":
        table[byte] = byte
    for byte in between:
        table[byte] = _COMMA
    table[ord(decimal)] = _POINT
    return bytes(table)


def _odd(cells: bytes) -> "Iterator[tuple[int, int, int]]":
    """The cells that hold an odd byte: position, where each begins, where it ends."""
    at, end = 0, -1
    while (mark := cells.find(_ODD, end + 1)) >= 0:
        start = cells.rfind(b",", end + 1, mark) + 1 or end + 1
        at += cells.count(b",", end + 1, start)
        end = cells.find(b",", mark)
        end = len(cells) if end < 0 else end
        yield at, start, end
        at += 1


def _without(cells: bytes, spans: list[tuple[int, int, int]]) -> bytes:
    """The cells with a 0 for each of some."""
    kept, done = [], 0
    for _, start, end in spans:
        kept.append(cells[done:start])
        done = end
    return b"0".join([*kept, cells[done:]])


def doubles(text: bytes) -> "NDArray[np.float64] | None":
    """Numbers of JSON with commas between.

    Args:
        text: the numbers, without an exponent.

    Returns:
        float64[n]; None where one is no number of JSON, or a whole one beyond 64 bits.
    """
    import simdjson

    try:
        array = _parser().parse(b"[%b]" % text)
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


def _most_decimals(cells: bytes) -> int:
    """The most digits that follow a point; 0 without any point.

    As many as follow the first one follow most others. Else all points are followed at once, digit
    by digit, for as long as one of them has more.

    Args:
        cells: numbers of JSON with commas between, without an exponent.
    """
    first = cells.find(b".")
    if first < 0:
        return 0
    end = cells.find(b",", first)
    usual = (end if end >= 0 else len(cells)) - first - 1
    marks = np.frombuffer(cells, dtype=np.uint8)
    points, digits = marks == _POINT, marks >= _NOUGHT
    if not np.count_nonzero(points[: -usual - 1] & digits[usual + 1 :]):
        return usual
    alive = points
    for count in range(_MOST_DECIMALS):
        alive = alive[:-1] & digits[count + 1 :]
        if not np.count_nonzero(alive):
            return count
    ends = np.append(np.flatnonzero(marks == _COMMA), marks.size)
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
