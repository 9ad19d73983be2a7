"""Many cells of a text kept as bytes: compared, and read as numbers at once.

No cell becomes a Python object. Plain numbers are those of JSON without an exponent; a parser of
JSON makes of each the nearest double. Every other cell is odd, and for whoever asks to read word by
word. For a comparison cells stand in slots of one width, as 64-bit words.
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

_MOST_DIGITS = 18
_BLANK, _COMMA, _MINUS, _POINT, _SLASH, _NOUGHT, _NINE = b" ,-./09"
_POINT_OR_COMMA = np.uint8(0xFF - (_POINT - _COMMA))
"""The bits in which both are alike, and every other byte is not."""


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

    def column(self, position: int, span: slice) -> "Plain":
        """Some rows of one column, of arrays of [columns, n]."""
        at = position, span
        return Plain(self.values[at], self.digits[at], self.odd[at])

    def by_column(self, width: int) -> "Plain":
        """Arrays of [columns, n] of the cells of rows of one width."""
        values, digits, odd = (np.ascontiguousarray(array.reshape(-1, width).T) for array in self)
        return Plain(values, digits, odd)  # type: ignore[arg-type]


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
        found &= _kept(width)[lengths].view(np.uint64).reshape(found.shape)
        return found

    def gathered(self, starts: "Places", ends: "Places") -> "Bytes":
        """Some pieces of the text, none with a zero byte, one behind the other.

        Args:
            starts: intp[n], where they begin.
            ends: intp[n], where they end.
        """
        lengths = ends - starts
        longest = int(lengths.max())
        if longest > WIDEST:
            pieces = zip(starts.tolist(), ends.tolist(), strict=True)
            taken = b"".join([self.raw[start:end] for start, end in pieces])
        else:
            slots = self.slots(starts, lengths, -(-longest // 8) * 8)
            taken = slots.tobytes().translate(None, b"\0")
        return np.frombuffer(bytearray(taken), np.uint8)

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


def numbers(text: "Bytes", ends: "Places", decimal: str) -> Plain:
    """Cells one behind the other as numbers.

    Args:
        text: uint8, the cells, one byte behind each; it is written over.
        ends: intp[n], where each cell ends.
        decimal: the decimal mark, "." or ",".
    """
    starts = np.empty_like(ends)
    starts[:1] = 0
    np.add(ends[:-1], 1, out=starts[1:])
    odd = starts == ends
    text[ends] = _NOUGHT
    if decimal == ",":
        _mark(odd, ends, np.flatnonzero(text == _POINT))
        text += (text == _COMMA).view(np.uint8) * np.uint8(_POINT - _COMMA)
    _mark_foreign(text, starts, ends, odd)
    text[ends] = _COMMA
    values = _parsed(text, starts, ends, odd)
    if values is None:
        odd |= ~_are_of_json(text, starts, ends)
        values = _parsed(text, starts, ends, odd)
    if values is None:
        odd[:] = True
        values = np.zeros(odd.size)
    digits = np.zeros(odd.size, np.int8)
    marks = np.flatnonzero(text & _POINT_OR_COMMA == _COMMA)
    points = np.flatnonzero(text[marks] == _POINT)
    cells = points - np.arange(points.size)  # so many commas stand before
    digits[cells] = marks[points + 1] - marks[points] - 1
    digits[odd] = 0
    return Plain(values, digits, odd)


def _mark(odd: "Bools", ends: "Places", bytes_at: "Places") -> None:
    """Mark the cells in which some bytes stand."""
    if bytes_at.size:
        odd[np.searchsorted(ends, bytes_at)] = True


def _mark_foreign(text: "Bytes", starts: "Places", ends: "Places", odd: "Bools") -> None:
    """Mark cells that hold other bytes than digits, points, and a minus before all."""
    above = text - np.uint8(_MINUS)
    _mark(odd, ends, np.flatnonzero(above > _NINE - _MINUS))
    _mark(odd, ends, np.flatnonzero(above == _SLASH - _MINUS))
    minus = above == 0
    if np.count_nonzero(minus) > np.count_nonzero(minus[starts]):
        minus[starts] = False
        _mark(odd, ends, np.flatnonzero(minus))


def _parsed(
    text: "Bytes", starts: "Places", ends: "Places", odd: "Bools"
) -> "NDArray[np.float64] | None":
    """The cells as doubles, 0 for odd ones; None where another one is no number of JSON.

    Args:
        text: uint8, a comma behind each cell; odd ones are written over.
        starts: intp[n], where they begin.
        ends: intp[n], where they end.
        odd: bool[n].
    """
    import simdjson

    array = b"[%b]" % _without(text, starts, ends, odd)
    try:
        found = simdjson.Parser().parse(array)
        if not isinstance(found, simdjson.Array):
            return None
        values = np.frombuffer(found.as_buffer(of_type="d"), dtype=np.float64)
    except (ValueError, RuntimeError):  # the second for an integer beyond 64 bits
        return None
    return values if values.size == odd.size else None


def _without(text: "Bytes", starts: "Places", ends: "Places", odd: "Bools") -> bytes:
    """The cells with a 0 for odd ones, and a comma between two."""
    at = np.flatnonzero(odd)
    if not at.size:
        return text[:-1].tobytes()
    lengths = ends[at] - starts[at]
    shifts = starts[at] - np.cumsum(lengths) + lengths
    text[np.repeat(shifts, lengths) + np.arange(int(lengths.sum()))] = _BLANK
    text[starts[at[lengths > 0]]] = _NOUGHT
    plain = text[:-1].tobytes()
    if (lengths > 0).all():
        return plain
    for _ in range(2):  # of three commas one after another the first two are met first
        plain = plain.replace(b",,", b",0,")
    return b"0" * plain.startswith(b",") + plain + b"0" * plain.endswith(b",") or b"0"


def _are_of_json(text: "Bytes", starts: "Places", ends: "Places") -> "Bools":
    """Which cells are numbers of JSON, of those that hold digits, points and a minus before all."""
    digit = np.append((text >= _NOUGHT) & (text <= _NINE), (False, False))
    first = starts + (text[starts] == _MINUS)
    fine: Bools = digit[first]
    fine &= ~(digit[first + 1] & (np.append(text, 0)[first] == _NOUGHT))
    points = np.flatnonzero(text == _POINT)
    at = np.searchsorted(ends, points)
    per_cell = np.bincount(at, minlength=ends.size)
    fine &= per_cell < 2
    fine[at[~(digit[points + 1] & digit[points - 1])]] = False
    fine &= (per_cell > 0) | (ends - starts <= _MOST_DIGITS)
    return fine


@lru_cache
def _kept(width: int) -> "NDArray[np.void]":
    """By the length of a cell: ones where it stands in its slot, noughts behind it."""
    within = np.arange(width) < np.arange(width + 1)[:, None]
    table = np.where(within, 255, 0).astype(np.uint8)
    return table.view(f"V{width}").ravel()
