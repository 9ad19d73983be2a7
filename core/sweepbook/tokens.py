"""Many texts that stand in one, a line each, and are cut apart only where somebody asks for one.

A Python string for every number of a sweep costs several times what its number does.
"""

from collections.abc import Iterable, Iterator, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, overload

if TYPE_CHECKING:
    from sweepbook.bulk_numbers import Read

_BLANKS = b"\t\v\f\r\x1c\x1d\x1e\x1f "
"""What `str.split` takes for a blank, of ASCII, beside a line end."""
_BETWEEN = _BLANKS + b"\n"
_LINES = bytes.maketrans(_BLANKS, b"\n" * len(_BLANKS))

MOST_TOGETHER = 1 << 16
"""Characters of lists that are read together: what is made of more no cache holds."""


class Tokens(Sequence[str]):
    """n texts, of which none holds a line end.

    Args:
        raw: the texts as UTF-8; there is at least one.
        between: what stands between two: one byte, or several of which any may, one or more. None
            of them is in a text.
        count: how many texts there are, where that is known.
    """

    def __init__(self, raw: bytes, between: bytes = b"\n", count: int = 0) -> None:
        self._raw = raw
        self._between = between
        self._read: tuple[str, Read] | None = None
        self._count = count

    @classmethod
    def of(cls, texts: Sequence[str]) -> "Tokens":
        """Texts as they are, at least one; a line end in one becomes a NUL, which no number has."""
        if isinstance(texts, cls):
            return texts
        lines = "\n".join(texts)
        if lines.count("\n") != len(texts) - 1:
            lines = "\n".join(map(_one_line, texts))
        return cls(_raw(lines))

    @cached_property
    def lines(self) -> bytes:
        """The texts as UTF-8 with a line end between two."""
        if self._between == b"\n":
            return self._raw
        lines = self._raw.translate(bytes.maketrans(self._between, b"\n" * len(self._between)))
        if len(self._between) == 1:
            return lines
        while b"\n\n" in lines:
            lines = lines.replace(b"\n\n", b"\n")
        return lines

    @cached_property
    def _texts(self) -> list[str]:
        return self.lines.decode("utf-8", "surrogatepass").split("\n")

    @property
    def are_empty(self) -> bool:
        """Whether each of the texts is empty; none of them is cut out for that."""
        return not self._raw.strip(self._between)

    def __len__(self) -> int:
        if not self._count:  # quicker than to count line ends one by one
            self._count = len(self.lines) - len(self.lines.translate(None, b"\n")) + 1
        return self._count

    def __bool__(self) -> bool:
        return True

    def __iter__(self) -> Iterator[str]:
        return iter(self._texts)

    @overload
    def __getitem__(self, at: int) -> str: ...
    @overload
    def __getitem__(self, at: slice) -> list[str]: ...
    def __getitem__(self, at: int | slice) -> str | list[str]:
        return self._texts[at]

    def __eq__(self, other: object) -> bool:
        if isinstance(other, Tokens):
            alike = self._between == other._between and self._raw == other._raw
            return alike or self.lines == other.lines
        return self._texts == other if isinstance(other, list) else NotImplemented

    __hash__ = None  # type: ignore[assignment]

    def read(self, decimal: str) -> "Read":
        """The texts as numbers with a decimal mark, "." or ","; the numbers are not kept."""
        known, self._read = self._read, None
        return known[1] if known and known[0] == decimal else self._numbers(decimal)

    def _numbers(self, decimal: str) -> "Read":
        from sweepbook import bulk_cells, bulk_numbers

        quick = bulk_numbers.read([self._raw], decimal, self._between)
        if quick is None and self._raw != self.lines:
            quick = bulk_numbers.read([self.lines], decimal, b"\n")
        return quick[0] if quick else bulk_cells.read(self.lines, decimal)

    def take(self, decimal: str, read: "Read") -> None:
        """Take the texts as numbers with a decimal mark, to be asked for once."""
        self._read, self._count = (decimal, read), read.values.size


def all_empty(texts: Sequence[str]) -> bool:
    """Whether each of some texts is empty."""
    return texts.are_empty if isinstance(texts, Tokens) else not any(texts)


def read_ahead(lists: Iterable[Sequence[str]], decimal: str) -> None:
    """Read those of some lists that can be as numbers, some together each time.

    Args:
        lists: such as `split` gives; between the texts of all stands the same.
        decimal: the decimal mark, "." or ",".
    """
    some: list[Tokens] = []
    size = 0
    for tokens in lists:
        if isinstance(tokens, Tokens) and tokens._between != b"\n":
            some.append(tokens)
            size += len(tokens._raw)
            if size > MOST_TOGETHER:
                _read_ahead(some, decimal)
                some, size = [], 0
    _read_ahead(some, decimal)


def _read_ahead(some: Sequence[Tokens], decimal: str) -> None:
    from sweepbook import bulk_numbers

    raw, between = [tokens._raw for tokens in some], some[0]._between if some else b"\n"
    read = bulk_numbers.read(raw, decimal, between) if some else []
    for at, tokens in enumerate(some):
        tokens.take(decimal, read[at] if read is not None else tokens.read(decimal))


def _one_line(text: str) -> str:
    """A text without line ends: no number has a NUL, so it is still none."""
    return text.replace("\n", "\0")


def split(text: str, separator: str | None) -> Sequence[str]:
    """The pieces of a list; one separator at the very end begins no piece of its own.

    Args:
        text: the list.
        separator: what stands between two pieces; None or a blank for blanks of any kind. A line
            end stands for it where there is none on either side.

    Returns:
        Pieces without blanks around them; none of a text without any.
    """
    if text.isascii() and (quick := _quickly(text.encode(), separator)):
        return quick
    if separator is None or not separator.strip():
        return text.split()
    if "\n" in text and "\n" not in separator:
        return split(_in_one_line(text, separator), separator)
    pieces = [piece.strip() for piece in text.split(separator)]
    return pieces[:-1] if not pieces[-1] else pieces


def _in_one_line(text: str, separator: str) -> str:
    """A list with a separator that prints in the place of line ends that have none beside them."""
    mark = separator.strip()
    lines = "\n".join(filter(None, map(str.strip, text.split("\n"))))
    lines += "\n" * lines.endswith(mark)
    lines = lines.replace(f"{mark}\n", f"{mark} ").replace(f"\n{mark}", f" {mark}")
    return lines.replace("\n", separator)


def _quickly(text: bytes, separator: str | None) -> Tokens | None:
    """The pieces, where no more than marks between them and blanks beside these must go."""
    text = text.strip(_BETWEEN)
    if separator is None or not separator.strip():
        return Tokens(text, _BETWEEN) if text else None
    text = text.translate(_LINES)
    mark = _raw(separator)
    if len(mark) != 1:
        return None
    text = text.replace(mark + b"\n", mark).removesuffix(mark)
    if not text or b"\n" in text:
        return None
    return Tokens(text.replace(mark, b"\n"))


def _raw(text: str) -> bytes:
    return text.encode("utf-8", "surrogatepass")
