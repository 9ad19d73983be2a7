"""Many plain decimals at once: by a parser of JSON, straight into doubles, each the nearest one.

JSON's numbers are the plain ones but for a plus sign, noughts before the first digit, and a point
without a digit on both sides. For a shift of the decimal mark the digits are taken as a whole
number again: below 10^15 that is exact, and so is a power of ten up to 10^22; one division of
doubles is rounded to the nearest (IEEE 754-2019, 5.4.1).
"""

from functools import lru_cache
from itertools import accumulate
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    import simdjson
    from numpy.typing import NDArray

MOST_DIGITS = 15
LARGEST_POWER = 22
_COMMA, _POINT, _NOUGHT = b",", b".", b"0"
_ODD = b"?"
"""Stands for a byte that no plain number has."""
_ENDS = (_COMMA, b"")
"""What stands behind a cell: the list may end there."""
_UTF8 = "utf-8", "surrogatepass"
_MOST_DECIMALS = 24
"""Decimals that are counted digit by digit in all numbers at once; doubles have 17 at most."""


class Odd(NamedTuple):
    """Texts side by side that are the same and no plain number.

    Attributes:
        first, last: positions of the first and the last.
        text: each of them.
    """

    first: int
    last: int
    text: str

    @property
    def size(self) -> int:
        """How many they are."""
        return self.last - self.first + 1


class Read(NamedTuple):
    """Texts as numbers, as they stand there: no unit is applied.

    Attributes:
        values: float64[n], never minus zero; 0 where a text is odd. Whoever asked may write into
            them where that can be done.
        digits: the most digits behind the decimal mark.
        odd: texts that are no plain numbers, in order; of two runs side by side the texts differ.
        span: the least and the greatest value; None where that is not known, or a text is odd.
    """

    values: "NDArray[np.float64]"
    digits: int
    odd: "Sequence[Odd]"
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
    known, plain, others = _known(decimal, between), [], []
    for texts in lists:
        cells = texts.translate(known)
        odd = [*_odd(cells, texts)] if _ODD in cells else []
        plain.append(_without(cells, odd))
        others.append([of.odd for of in odd])
    whole = b"".join((b"[[", b"],[".join(plain), b"]]"))
    parsed = _lists_of_doubles(whole)
    if parsed is None:
        return None
    values, counts = parsed
    if b"-" in whole:
        values += 0.0
    ends = [*accumulate(counts)]
    firsts = [0, *ends[:-1]]
    least, greatest = (of.reduceat(values, firsts).tolist() for of in (np.minimum, np.maximum))
    digits = _digits(plain, whole)
    return [
        Read(values[first:end], most, odd, None if odd else (low, high))
        for first, end, most, odd, low, high in zip(
            firsts, ends, digits, others, least, greatest, strict=True
        )
    ]


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


class _Run(NamedTuple):
    """Odd cells side by side that are the same.

    Attributes:
        odd: the cells.
        start: where the first begins.
        size: bytes of each.
    """

    odd: Odd
    start: int
    size: int


def _odd(cells: bytes, texts: bytes) -> "Iterator[_Run]":
    """The cells of a list that hold an odd byte.

    Args:
        cells: the list.
        texts: the same as it stands there.
    """
    at, end, whole = 0, -1, len(cells)
    while (mark := cells.find(_ODD, end + 1)) >= 0:
        start = cells.rfind(_COMMA, end + 1, mark) + 1 or end + 1
        at += cells.count(_COMMA, end + 1, start)
        end = cells.find(_COMMA, mark)
        end = whole if end < 0 else end
        first, size, cell = at, end - start, texts[start:end]
        while texts.startswith(cell, end + 1) and cells[end + 1 + size : end + 2 + size] in _ENDS:
            end += 1 + size
            at += 1
        yield _Run(Odd(first, at, cell.decode(*_UTF8)), start, size)
        at += 1


def _without(cells: bytes, odd: "Sequence[_Run]") -> bytes | bytearray:
    """The cells with a 0 for odd ones, and blanks behind it."""
    if not odd:
        return cells
    plain = bytearray(cells)
    for (first, last, _), start, size in odd:
        nought, count = b"0".ljust(size), last - first + 1
        plain[start : start + count * (size + 1) - 1] = _COMMA.join([nought] * count)
    return plain


def runs(at: "Sequence[int]", texts: "Sequence[str]") -> list[Odd]:
    """Texts at some rising positions as runs of the same ones side by side."""
    found: list[Odd] = []
    first = last = -2  # not side by side with any
    known = ""
    for position, text in zip(at, texts, strict=True):
        if position != last + 1 or text != known:
            if last >= 0:
                found.append(Odd(first, last, known))
            first, known = position, text
        last = position
    return [*found, Odd(first, last, known)] if last >= 0 else found


def _digits(lists: "Sequence[bytes | bytearray]", whole: bytes) -> "Iterator[int]":
    """The most digits that follow a point, of each list.

    Most lists begin with a number that has as many as any has.

    Args:
        lists: the lists.
        whole: all of them in one array of JSON.
    """
    most = _most_decimals(whole)
    for cells in lists:
        point = cells.find(_POINT)
        comma = cells.find(_COMMA, point) if point >= 0 else -1
        as_most = point >= 0 and (len(cells) if comma < 0 else comma) - point - 1 == most
        yield most if as_most else _most_decimals(cells)


def _lists_of_doubles(lists: bytes) -> "tuple[NDArray[np.float64], list[int]] | None":
    """The numbers of a JSON array of lists one behind the other, and how many are of each.

    None as `doubles`, and where a list is empty.
    """
    import simdjson

    try:
        array = _parser().parse(lists)
        assert isinstance(array, simdjson.Array)
        counts = [len(one) for one in array if isinstance(one, simdjson.Array)]
        values = np.frombuffer(array.as_buffer(of_type="d"), dtype=np.float64)
    except (ValueError, RuntimeError):  # the second for an integer beyond 64 bits
        return None
    return (values, counts) if all(counts) and values.size == sum(counts) else None


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
        cells: numbers of JSON without an exponent, with commas, brackets and blanks between.
    """
    first = cells.find(_POINT)
    if first < 0:
        return 0
    marks = np.frombuffer(cells, dtype=np.uint8)
    points, digits = marks == ord(_POINT), marks - ord(_NOUGHT) < 10  # what is less wraps round
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
