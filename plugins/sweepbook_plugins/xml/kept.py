"""The lists of numbers of one test, all in one text: cut apart, counted and read at once.

Work on a thousand numbers costs little more than on one, so the lists of all curves are taken
together, and what is asked of one list is a piece of what was done for all.
"""

import re
from collections.abc import Iterator, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

from sweepbook import tokens
from sweepbook.columns import Column

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from sweepbook.bulk_cells import Plain

    Places = NDArray[np.intp]

MOST_TOGETHER = 1 << 16
"""Characters of lists that are taken together: what is made of more no cache holds, and the system
has to be asked for its memory anew each time."""

_BETWEEN, _BLANK = b"\0 "
"""What stands behind a list, which no XML holds, and the last of the bytes that are blanks."""
_BLANKS = re.compile(rb"[\t-\r\x1c- ]+")
"""What `str.split` takes for blanks, of ASCII."""


class Batches:
    """Lists of one test, some of them taken together each time."""

    def __init__(self) -> None:
        self._last: dict[str | None, Lists] = {}

    def take(self, text: str, separator: str | None) -> "Taken":
        """Take a list; no texts are asked for before all are taken.

        Args:
            text: the list.
            separator: as of `tokens.split`.
        """
        lists = self._last.get(separator)
        if lists is None or lists.size + len(text) > MOST_TOGETHER:
            lists = self._last[separator] = Lists(separator)
        return Taken(text, lists, lists.add(text))


class Taken(NamedTuple):
    """A list that was taken together with others.

    Attributes:
        text: the list.
        lists: those that it was taken together with.
        number: which of them it is.
    """

    text: str
    lists: "Lists"
    number: int

    def cut(self) -> Sequence[str]:
        """Its texts, as `tokens.split` cuts them."""
        return self.lists.texts(self.number)


class Lists:
    """Lists with the same text between two numbers.

    Args:
        separator: that text; None or a blank for blanks of any kind.

    Attributes:
        size: how many characters they have.
    """

    def __init__(self, separator: str | None) -> None:
        self._separator = separator
        self._mark = separator if separator and separator.strip() else ""
        self._taken: list[str] = []
        self.size = 0
        self._plain: tuple[str, Plain] | None = None

    def add(self, text: str) -> int:
        """Take a list; its number."""
        self._taken.append(text if len(self._mark) > 1 else text.strip())
        self.size += len(text)
        return len(self._taken) - 1

    def texts(self, number: int) -> Sequence[str]:
        """The texts of a list."""
        if self._cut is None or not self._taken[number]:
            return tokens.split(self._taken[number], self._separator)
        return Column([Kept(self, *self._spans[number])])

    @cached_property
    def _cut(self) -> "tuple[bytes, Places] | None":
        """All texts, with one byte behind each, and where they end.

        None where more than marks between texts and blanks beside these must go.
        """
        import numpy as np

        mark = self._mark
        lists = [text.removesuffix(mark) for text in self._taken] if mark else self._taken
        joined = "\0".join([*lists, ""])
        if len(mark) > 1 or not joined.isascii():
            return None
        texts = joined.encode()
        if mark:
            texts = _BLANKS.sub(b" ", texts).replace(f"{mark} ".encode(), mark.encode())
            if b" " in texts:
                return None
            texts = texts.replace(mark.encode(), b" ")
        ends = _ends(texts)
        if not mark and not (np.diff(ends) > 1).all():
            texts = _BLANKS.sub(b" ", texts)
            ends = _ends(texts)
        return texts, ends

    @property
    def _whole(self) -> "tuple[bytes, Places]":
        assert self._cut is not None
        return self._cut

    @cached_property
    def _spans(self) -> list[tuple[int, int]]:
        """Position of the first text of each list, and of the one behind its last."""
        import numpy as np

        texts, ends = self._whole
        marks = np.frombuffer(texts, dtype=np.uint8)[ends] == _BETWEEN
        behind = (np.flatnonzero(marks) + 1).tolist()
        return list(zip([0, *behind[:-1]], behind, strict=True))

    def plain(self, decimal: str) -> "Plain":
        """All texts as numbers."""
        from sweepbook import bulk_cells

        if self._plain is None or self._plain[0] != decimal:
            self._plain = decimal, bulk_cells.numbers(*self._whole, decimal)
        return self._plain[1]

    def some(self, at: Sequence[int]) -> list[str]:
        """The texts at some positions."""
        texts, ends = self._whole
        spans = [(int(ends[one - 1]) + 1 if one else 0, int(ends[one])) for one in at]
        return [texts[start:end].decode() for start, end in spans]

    def piece(self, first: int, end: int) -> list[str]:
        """The texts from one position to another one."""
        texts, ends = self._whole
        start = int(ends[first - 1]) + 1 if first else 0
        return texts[start : ends[end - 1]].decode().split(" " if self._mark else None)


def _ends(texts: bytes) -> "Places":
    import numpy as np

    return np.flatnonzero(np.frombuffer(texts, dtype=np.uint8) <= _BLANK)


class Kept:
    """One of some lists.

    Args:
        lists: all of them.
        first, end: positions in these of its first text, and of the one behind its last.
    """

    def __init__(self, lists: Lists, first: int, end: int) -> None:
        self._lists = lists
        self._first = first
        self._end = end

    def __len__(self) -> int:
        return self._end - self._first

    def __getitem__(self, at: int) -> str:
        return self._lists.some([self._first + range(len(self))[at]])[0]

    def __iter__(self) -> Iterator[str]:
        return iter(self._lists.piece(self._first, self._end))

    def some(self, at: Sequence[int]) -> list[str]:
        """The texts at some positions."""
        return self._lists.some([self._first + one for one in at])

    def plain(self, decimal: str) -> "Plain":
        """The texts as numbers."""
        found = self._lists.plain(decimal)
        span = slice(self._first, self._end)
        return type(found)(found.values[span], found.digits[span], found.odd[span])
