"""The texts of one column of a table: some as texts, some still as the bytes of the file."""

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from itertools import chain
from typing import TYPE_CHECKING, Protocol, overload

from sweepbook.numerals import Notation, first_fault
from sweepbook.tokens import Tokens

if TYPE_CHECKING:
    from sweepbook.bulk_cells import Plain
    from sweepbook.bulk_numbers import Read


class Kept(Protocol):
    """Texts of one column that are kept as bytes."""

    def __len__(self) -> int: ...

    def __getitem__(self, at: int, /) -> str: ...

    def __iter__(self) -> Iterator[str]: ...

    def some(self, at: Sequence[int]) -> list[str]:
        """The texts at some positions."""

    def plain(self, decimal: str) -> "Plain":
        """The texts as numbers with a decimal mark, each array of one dimension."""

    def read(self, decimal: str, plain: "Plain") -> "Read":
        """The same as one reading; its values are not to be written into.

        Args:
            decimal: the decimal mark.
            plain: what `plain` gives for it.
        """


Part = list[str] | Kept


class Column(Sequence[str]):
    """Texts one below the other, in parts that came one after another."""

    def __init__(self, parts: Iterable[Part] = ()) -> None:
        self._parts: list[Part] = []
        self._ends: list[int] = []
        self._tail: list[str] | None = None
        self._plain: tuple[str, Plain] | None = None
        self._sure: bool | None = None
        for part in parts:
            self.extend(part)

    def append(self, text: str) -> None:
        """Add one text."""
        if self._tail is None:
            self._tail = []
            self._add(self._tail)
        self._tail.append(text)
        self._ends[-1] += 1
        self._plain = None

    def extend(self, part: Part) -> None:
        """Add some; those in a list are copied."""
        if isinstance(part, list):
            part = self._tail = [*part]
        else:
            self._tail = None
        self._add(part)

    def _add(self, part: Part) -> None:
        self._parts.append(part)
        self._ends.append(len(self) + len(part))
        self._plain = None

    def __len__(self) -> int:
        return self._ends[-1] if self._ends else 0

    @overload
    def __getitem__(self, at: int) -> str: ...

    @overload
    def __getitem__(self, at: slice) -> list[str]: ...

    def __getitem__(self, at: int | slice) -> str | list[str]:
        """One text, or a list of some."""
        if isinstance(at, slice):
            return [*self][at]
        at = range(len(self))[at]
        index = bisect_right(self._ends, at)
        return self._parts[index][at - (self._ends[index - 1] if index else 0)]

    def some(self, at: Sequence[int]) -> list[str]:
        """The texts at some positions."""
        if len(self._parts) == 1 and not isinstance(self._parts[0], list):
            return self._parts[0].some(at)
        return [self[one] for one in at]

    def __iter__(self) -> Iterator[str]:
        return chain.from_iterable(self._parts)

    def __eq__(self, other: object) -> bool:
        if self is other:
            return True
        if isinstance(other, Column):
            return len(self) == len(other) and self._same(other)
        return isinstance(other, list) and len(self) == len(other) and [*self] == other

    __hash__ = None  # type: ignore[assignment]

    def _same(self, other: "Column") -> bool:
        """Whether two columns of one length hold the same texts."""
        known = self._plain or other._plain
        if known is None:
            return all(map(str.__eq__, self, other))
        one, two = self.plain(known[0]), other.plain(known[0])
        if self._sure is None:
            self._sure = _is_sure(one)
        if not self._sure or two.odd.any():
            return all(map(str.__eq__, self, other))
        return bool(((one.values == two.values) & (one.digits == two.digits)).all())

    def read(self, decimal: str) -> "Read":
        """The texts as numbers with a decimal mark."""
        from sweepbook.bulk_numbers import Read, runs

        if len(self._parts) == 1 and len(self) and not isinstance(self._parts[0], list):
            return self._parts[0].read(decimal, self.plain(decimal))
        if len(self) and all(isinstance(part, list) for part in self._parts):
            return Tokens.of([*self]).read(decimal)
        plain = self.plain(decimal)
        at = plain.odd.nonzero()[0].tolist()
        values = plain.values[:]
        values.setflags(write=False)
        return Read(values, int(plain.digits.max(initial=0)), runs(at, self.some(at)))

    def plain(self, decimal: str) -> "Plain":
        """The texts as numbers; those that are texts already are odd, whatever they hold."""
        if self._plain is None or self._plain[0] != decimal:
            self._sure = None
            self._plain = decimal, _joined([_plain_of(part, decimal) for part in self._parts])
        return self._plain[1]


def _plain_of(part: Part, decimal: str) -> "Plain":
    if not isinstance(part, list):
        return part.plain(decimal)
    import numpy as np

    from sweepbook.bulk_cells import Plain

    count = len(part)
    return Plain(np.zeros(count), np.zeros(count, np.int8), np.ones(count, np.bool_))


def _joined(parts: "Sequence[Plain]") -> "Plain":
    if len(parts) == 1:
        return parts[0]
    import numpy as np

    from sweepbook.bulk_cells import Plain

    parts = parts or [_plain_of([], ".")]
    return Plain(
        np.concatenate([of.values for of in parts]),
        np.concatenate([of.digits for of in parts]),
        np.concatenate([of.odd for of in parts]),
    )


def _is_sure(plain: "Plain") -> bool:
    """Whether value and digits tell each text from every other: of 15 digits at most, and not 0."""
    import numpy as np

    from sweepbook.bulk_numbers import MOST_DIGITS

    sizes = np.abs(plain.values)
    most = 10.0 ** (MOST_DIGITS - int(plain.digits.max(initial=0)))
    return bool((sizes > 0.0).all() and (sizes < most).all())  # an odd one is 0


def holds_any(texts: Part, words: frozenset[str], decimal: str) -> bool:
    """Whether one of the texts, without blanks around it, is one of some words."""
    if isinstance(texts, list) or _any_number(words, decimal):
        return not words.isdisjoint(map(str.strip, texts))
    odd = texts.plain(decimal).odd.nonzero()[0]
    return bool(odd.size) and not words.isdisjoint(map(str.strip, texts.some(odd.tolist())))


@lru_cache
def _any_number(words: frozenset[str], decimal: str) -> bool:
    """Whether one of some words would pass for a number."""
    notation = Notation(decimal)
    return any(first_fault([word], notation) for word in words)
