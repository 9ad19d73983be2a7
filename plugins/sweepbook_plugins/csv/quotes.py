"""Quotes around whole cells taken off a block at once; what else quotes do is told line by line."""

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

_LINE_END = ord("\n")


class Unquoted(NamedTuple):
    """A block without its quotes.

    Attributes:
        raw: the lines without any quote, each with its end.
        others: positions of the lines in which a quote does more than to stand around a whole cell
            without a delimiter in it, rising.
    """

    raw: bytes
    others: list[int]


def taken_off(raw: bytes, quote: str, delimiter: str) -> Unquoted:
    """Take all quotes off.

    Quotes stand around a whole cell where each opens behind a delimiter, or at the beginning of a
    line, and the next one closes before a delimiter, or at the end, without any of them between.
    A line of nothing but quotes is one of the others too: without them it would be blank.

    Args:
        raw: lines of UTF-8, each with its end.
        quote: one character of ASCII.
        delimiter: another one.
    """
    cells = np.frombuffer(raw, np.uint8)
    quotes, lines = (np.flatnonzero(cells == byte) for byte in (ord(quote), _LINE_END))
    is_mark = (cells == ord(delimiter)) | (cells == _LINE_END)
    line_of = np.searchsorted(lines, quotes)
    closes = ((np.arange(quotes.size) - np.searchsorted(line_of, line_of)) & 1).astype(np.bool_)
    fits = np.where(closes, is_mark[quotes + 1], is_mark[quotes - 1])  # before the first: the last
    cell_of = np.searchsorted(np.flatnonzero(is_mark), quotes)
    fits[:-1] &= closes[:-1] | (closes[1:] & (cell_of[1:] == cell_of[:-1]))
    fits[-1:] &= closes[-1:]
    widths = np.diff(lines, prepend=-1) - 1
    bare = np.bincount(line_of, minlength=lines.size) == widths
    others: NDArray[np.intp] = np.union1d(line_of[~fits], np.flatnonzero(bare & (widths > 0)))
    return Unquoted(raw.translate(None, quote.encode()), others.tolist())
