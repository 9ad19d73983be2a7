"""Many cells of a text kept as bytes: taken into slots of one width, and read as numbers at once.

No cell becomes a Python object. A slot is 8, 16 or 32 bytes, so that cells are masked and compared
as 64-bit words. Plain numbers are those of JSON without an exponent; a parser of JSON makes of each
the nearest double. Every other cell is odd, and for whoever asks to read word by word.
"""

from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Bools = NDArray[np.bool_]
    Bytes = NDArray[np.uint8]
    Places = NDArray[np.intp]

WIDEST = 256
"""Bytes of the widest slot; longer cells are for Python to compare."""

_NUMBER_WIDTHS = (8, 16, 32)
_MOST_DIGITS = 18
_BLANK, _COMMA, _MINUS, _POINT, _SLASH, _NOUGHT, _NINE = b" ,-./09"


class Plain(NamedTuple):
    """What cells are as numbers, as they stand there: no unit is applied.

    Attributes:
        values: float64[...]; 0 where a cell is odd.
        digits: int8[...], digits behind the decimal mark; 0 where a cell is odd.
        odd: bool[...], cells that are no plain numbers.
    """

    values: "NDArray[np.float64]"
    digits: "NDArray[np.int8]"
    odd: "Bools"

    def column(self, span: slice, position: int) -> "Plain":
        """Some rows of one column, of arrays of [n, columns]."""
        at = span, position
        return Plain(self.values[at], self.digits[at], self.odd[at])

    def as_rows(self, width: int) -> "Plain":
        """Arrays of [n, width]."""
        return Plain(*(array.reshape(-1, width) for array in self))  # type: ignore[arg-type]


class Buffer:
    """The bytes of a text, and words of them that begin anywhere.

    Attributes:
        raw: the text in UTF-8.
    """

    def __init__(self, raw: bytes) -> None:
        self.raw = raw
        self.bytes = np.frombuffer(raw, np.uint8)
        self._padded = raw + bytes(WIDEST)

    def text(self, start: int, end: int) -> str:
        """A piece of the text."""
        return self.raw[start:end].decode("utf-8", "surrogatepass")

    def slots(self, starts: "Places", lengths: "Places", width: int) -> "NDArray[np.uint64]":
        """Cells in slots, zero bytes behind each: uint64[n, width / 8].

        Args:
            starts: intp[n], where they begin.
            lengths: intp[n], their bytes, `width` at most.
            width: bytes of a slot, a multiple of 8.
        """
        count = len(self._padded) - width + 1
        windows = np.ndarray((count,), f"V{width}", self._padded, strides=(1,))
        found = windows[starts].view(np.uint64).reshape(-1, width // 8)
        found &= _kept(width).take(lengths, axis=0)
        return found

    def differ(self, starts: "Places", ends: "Places") -> "Bools":
        """Whether each cell differs from the one before it: bool[n - 1]."""
        lengths = ends - starts
        longest = int(lengths.max())
        if longest > WIDEST:
            texts = list(map(self.text, starts.tolist(), ends.tolist()))
            return np.array([one != two for one, two in zip(texts[1:], texts, strict=False)])
        words = self.slots(starts, lengths, max(8, -(-longest // 8) * 8))
        found: Bools = words[1:, 0] != words[:-1, 0]
        for at in range(1, words.shape[1]):
            found |= words[1:, at] != words[:-1, at]
        return found

    def numbers(self, starts: "Places", ends: "Places", decimal: str) -> Plain:
        """Cells as numbers.

        Args:
            starts: intp[n], where they begin.
            ends: intp[n], where they end.
            decimal: the decimal mark, "." or ",".
        """
        lengths = ends - starts
        longest = int(lengths.max(initial=0))
        width = next((of for of in _NUMBER_WIDTHS if longest < of), _NUMBER_WIDTHS[-1])
        odd = (lengths == 0) | (lengths >= width)
        lengths[odd] = 0
        words = self.slots(starts, lengths, width)
        cells = words.view(np.uint8).reshape(-1, width)
        _mark_foreign(cells, odd, _COMMA if decimal == "," else _POINT)
        values = _parsed(words, cells, lengths, odd)
        if values is None:
            odd |= ~_are_of_json(cells, lengths)
            values = _parsed(words, cells, lengths, odd)
        if values is None:
            odd[:] = True
            return Plain(np.zeros(odd.size), np.zeros(odd.size, np.int8), odd)
        digits = np.zeros(odd.size, np.int8)
        points = np.flatnonzero(cells == _POINT)
        at, within = points // width, points % width
        digits[at] = lengths[at] - 1 - within
        digits[odd] = 0
        return Plain(values, digits, odd)


def _mark_foreign(cells: "Bytes", odd: "Bools", mark: int) -> None:
    """Mark cells with other bytes than of a number; the decimal mark becomes a point.

    Args:
        cells: uint8[n, width], zero bytes behind each.
        odd: bool[n], the marks.
        mark: the decimal mark.
    """
    if mark != _POINT:
        foreign = cells == _POINT
        cells += (cells == mark).view(np.uint8) * np.uint8(_POINT - _COMMA)
    else:
        foreign = np.zeros_like(cells, np.bool_)
    foreign |= (cells - np.uint8(_MINUS) > _NINE - _MINUS) & (cells != 0)
    foreign |= cells == _SLASH
    foreign[:, 1:] |= cells[:, 1:] == _MINUS
    if foreign.any():
        odd |= foreign.any(axis=1)


def _parsed(
    words: "NDArray[np.uint64]", cells: "Bytes", lengths: "Places", odd: "Bools"
) -> "NDArray[np.float64] | None":
    """The cells as doubles, 0 for odd ones; None where another one is no number of JSON."""
    import simdjson

    width = cells.shape[1]
    if odd.any():
        words = words.copy()
        words[odd] = 0
        lengths = np.where(odd, 0, lengths)
    filled = words | _behind(width).take(lengths, axis=0)
    try:
        array = simdjson.Parser().parse(b"[" + filled.tobytes()[:-1] + b"]")
        if not isinstance(array, simdjson.Array):
            return None
        values = np.frombuffer(array.as_buffer(of_type="d"), dtype=np.float64)
    except (ValueError, RuntimeError):  # the second for an integer beyond 64 bits
        return None
    return values if values.size == odd.size else None


def _are_of_json(cells: "Bytes", lengths: "Places") -> "Bools":
    """Which cells are numbers of JSON, of those that hold digits, points and a minus before all."""
    count, width = cells.shape
    rows, signed = np.arange(count), cells[:, 0] == _MINUS
    first = signed.astype(np.intp)
    digit = (cells >= _NOUGHT) & (cells <= _NINE)
    fine: Bools = digit[rows, first]
    fine &= (cells[rows, first] != _NOUGHT) | ~digit[rows, first + 1]
    points = cells == _POINT
    fine &= points.sum(axis=1) < 2
    behind = np.zeros((count, width), np.bool_)
    behind[:, :-1] = digit[:, 1:]
    fine &= ~(points & ~behind).any(axis=1)
    fine &= points.any(axis=1) | (lengths <= _MOST_DIGITS)
    return fine


@lru_cache
def _kept(width: int) -> "NDArray[np.uint64]":
    """By the length of a cell: ones where it stands in its slot, noughts behind it."""
    within = np.arange(width) < np.arange(width + 1)[:, None]
    return _words(np.where(within, 255, 0))


@lru_cache
def _behind(width: int) -> "NDArray[np.uint64]":
    """By the length of a cell: what stands behind it in an array of JSON; "0" if it has none."""
    within = np.arange(width) < np.arange(width + 1)[:, None]
    filled = np.where(within, 0, _BLANK)
    filled[0, 0] = _NOUGHT
    filled[:, -1] = _COMMA
    return _words(filled)


def _words(table: "NDArray[np.int_]") -> "NDArray[np.uint64]":
    return np.ascontiguousarray(table.astype(np.uint8)).view(np.uint64)
