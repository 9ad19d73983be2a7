"""Many cells of a text kept as bytes: compared, and read as numbers at once.

No cell becomes a Python object. Plain numbers are those of JSON without an exponent; a parser of
JSON makes of each the nearest double. Every other cell is odd, and for whoever asks to read word by
word. For a comparison cells stand in slots of one width, as 64-bit words.
"""

from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from sweepbook.bulk_numbers import Read, doubles, runs

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Bools = NDArray[np.bool_]
    Bytes = NDArray[np.uint8]
    Places = NDArray[np.intp]

WIDEST = 256
"""Bytes of the widest slot; longer cells are for Python to compare."""

_MOST_DIGITS = 18
_MOST_DECIMALS = 99
_END, _BLANK, _COMMA, _MINUS, _POINT, _NOUGHT, _NINE = b"\n ,-.09"


class Plain(NamedTuple):
    """What cells are as numbers, as they stand there: no unit is applied.

    Attributes:
        values: float64[...], never minus zero; 0 where a cell is odd.
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

    def gathered(self, starts: "Places", ends: "Places") -> bytes:
        """Some pieces of the text, none with a zero byte, one behind the other.

        Args:
            starts: intp[n], where they begin.
            ends: intp[n], where they end.
        """
        lengths = ends - starts
        longest = int(lengths.max())
        if longest > WIDEST:
            pieces = zip(starts.tolist(), ends.tolist(), strict=True)
            return b"".join([self.raw[start:end] for start, end in pieces])
        slots = self.slots(starts, lengths, -(-longest // 8) * 8)
        return slots.tobytes().translate(None, b"\0")

    def differ(self, starts: "Places", ends: "Places") -> "Bools":
        """Whether each cell differs from the one before it: bool[n - 1]."""
        lengths = ends - starts
        longest = int(lengths.max())
        if longest > WIDEST:
            texts = list(map(self.text, starts.tolist(), ends.tolist()))
            return np.array([one != two for one, two in zip(texts[1:], texts, strict=False)])
        if not longest:
            return np.zeros(lengths.size - 1, np.bool_)
        words = self.slots(starts, lengths, -(-longest // 8) * 8)
        found: Bools = words[1:, 0] != words[:-1, 0]
        for at in range(1, words.shape[1]):
            found |= words[1:, at] != words[:-1, at]
        return found


def numbers(cells: bytes, ends: "Places", decimal: str) -> Plain:
    """Cells one behind the other as numbers.

    Args:
        cells: the cells, one byte behind each.
        ends: intp[n], where each cell ends.
        decimal: the decimal mark, "." or ",".
    """
    return columns(cells, ends, decimal, 1).column(0, slice(None))


def read(lines: bytes, decimal: str) -> Read:
    """Cells with a line end between two as numbers."""
    cells = lines + b"\n"
    found = numbers(cells, np.flatnonzero(np.frombuffer(cells, np.uint8) == _END), decimal)
    texts = lines.decode("utf-8", "surrogatepass").split("\n") if found.odd.any() else []
    at = found.odd.nonzero()[0].tolist()
    return Read(found.values, int(found.digits.max()), runs(at, [texts[one] for one in at]))


def columns(cells: bytes, ends: "Places", decimal: str, width: int) -> Plain:
    """The same of rows of so many cells: arrays of [width, n], a column one behind the other."""
    known = bytearray(cells.translate(_known(decimal)))
    text = np.frombuffer(known, np.uint8)
    text[ends] = _COMMA
    starts = np.empty_like(ends)
    starts[:1] = 0
    np.add(ends[:-1], 1, out=starts[1:])
    odd = starts == ends
    if _BLANK in known:
        odd[np.searchsorted(ends, np.flatnonzero(text == _BLANK))] = True
    digits = _digits(text, starts, ends)
    odd |= digits > _MOST_DECIMALS
    values = _parsed(text, starts, ends, odd)
    if values is None:
        odd |= ~_are_of_json(text, starts, ends)
        values = _parsed(text, starts, ends, odd)
    if values is None:
        odd[:] = True
        values = np.zeros(odd.size)
    digits[odd] = 0
    by_column = [np.ascontiguousarray(of.reshape(-1, width).T) for of in (digits, odd)]
    return Plain(np.add(values.reshape(-1, width).T, 0.0, order="C"), *by_column)


@lru_cache
def _known(decimal: str) -> bytes:
    """By byte what numbers are made of, with a decimal point; a blank for any other."""
    table = bytearray(_BLANK for _ in range(256))
    for byte in b"-0123456789":
        table[byte] = byte
    table[ord(decimal)] = _POINT
    return bytes(table)


def _digits(text: "Bytes", starts: "Places", ends: "Places") -> "NDArray[np.int8]":
    """How many bytes stand behind the point of each cell, the last one; 100 for more than that.

    As many as behind the first point stand behind most others: these are found by one look.
    """
    point = text == _POINT
    first = int(point.argmax())
    if not point[first]:
        return np.zeros(ends.size, np.int8)
    usual = int(ends[np.searchsorted(ends, first)]) - first - 1
    there = ends - (usual + 1)
    as_usual = there >= starts
    as_usual &= point[there]
    digits = as_usual * np.int8(min(usual, _MOST_DECIMALS + 1))
    if np.count_nonzero(as_usual) == np.count_nonzero(point):
        return digits
    point[there[as_usual]] = False
    others = np.flatnonzero(point)
    at = np.searchsorted(ends, others)
    digits[at] = np.minimum(ends[at] - others - 1, _MOST_DECIMALS + 1)
    return digits


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
    values = doubles(_without(text, starts, ends, odd))
    return values if values is not None and values.size == odd.size else None


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
    """Which cells are numbers of JSON, of those that hold digits, points and minus signs."""
    digit = np.append((text >= _NOUGHT) & (text <= _NINE), (False, False))
    negative = text[starts] == _MINUS
    first = starts + negative
    fine: Bools = digit[first]
    fine &= ~(digit[first + 1] & (np.append(text, 0)[first] == _NOUGHT))
    minus = text == _MINUS
    minus[starts] = False
    fine[np.searchsorted(ends, np.flatnonzero(minus))] = False
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
