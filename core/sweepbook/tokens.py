"""Many texts that stand in one, a line each, and are cut apart only where somebody asks for one.

A Python string for every number of a sweep costs several times what its number does.
"""

from collections.abc import Iterator, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, overload

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

_END = 10
_BLANKS = b"\t\v\f\r\x1c\x1d\x1e\x1f "
_LINES = bytes.maketrans(_BLANKS, b"\n" * len(_BLANKS))
"""What `str.split` takes for a blank, of ASCII."""


class Tokens(Sequence[str]):
    """n texts, of which none holds a line end.

    Args:
        lines: the texts as UTF-8 with a line end between two; there is at least one.
    """

    def __init__(self, lines: bytes) -> None:
        self.lines = lines

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
    def _ends(self) -> "NDArray[np.intp]":
        """Where each text ends."""
        import numpy as np

        found = np.flatnonzero(np.frombuffer(self.lines, dtype=np.uint8) == _END)
        return np.append(found, len(self.lines))

    @cached_property
    def _texts(self) -> list[str]:
        return _text(self.lines).split("\n")

    @cached_property
    def _count(self) -> int:
        """How many there are; quicker than to count line ends one by one."""
        return len(self.lines) - len(self.lines.translate(None, b"\n")) + 1

    def __len__(self) -> int:
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
            return self.lines == other.lines
        return self._texts == other if isinstance(other, list) else NotImplemented

    def odd(self, usual: bytes) -> list[int]:
        """Positions of the texts that hold any byte but these, rising."""
        import numpy as np

        others = self.lines.translate(None, usual + b"\n")
        if not others:
            return []
        raw = np.frombuffer(self.lines, dtype=np.uint8)
        found = np.zeros(raw.size, dtype=np.bool_)
        for byte in set(others):
            found |= raw == byte
        where = np.searchsorted(self._ends, np.flatnonzero(found))
        return list(dict.fromkeys(where.tolist()))

    def cut(self, positions: Sequence[int]) -> list[tuple[int, int]]:
        """Where the texts at some positions begin and end in `lines`."""
        import numpy as np

        numbers = np.array(positions, dtype=np.intp)
        begins = self._ends[numbers - 1] + 1
        begins[numbers == 0] = 0
        return list(zip(begins.tolist(), self._ends[numbers].tolist(), strict=True))

    def at(self, cuts: Sequence[tuple[int, int]]) -> list[str]:
        """The texts at some places that were cut."""
        return [_text(self.lines[begin:end]) for begin, end in cuts]

    def equal_to(self, word: str) -> list[int]:
        """Positions of the texts that are this one."""
        line = _raw(f"\n{word}\n")
        if line not in b"\n" + self.lines + b"\n":
            return []
        return [at for at, text in enumerate(self) if text == word]

    def changed(
        self, cuts: Sequence[tuple[int, int]], texts: Sequence[str | None]
    ) -> "Tokens | None":
        """The same with other texts at some places.

        Args:
            cuts: these places, rising.
            texts: one for each, None for one that is left out.

        Returns:
            None where no text is left.
        """
        pieces = []
        done = 0
        for (begin, end), new in zip(cuts, texts, strict=True):
            pieces.append(self.lines[done:begin])
            if new is None:
                done = end + 1
            else:
                pieces.append(_raw(_one_line(new)))
                done = end
        whole = b"".join([*pieces, self.lines[done:]])
        if done > len(self.lines):  # the last one is left out, and the line end before it
            return Tokens(whole[:-1]) if whole else None
        return Tokens(whole)


def _one_line(text: str) -> str:
    """A text without line ends: no number has a NUL, so it is still none."""
    return text.replace("\n", "\0")


def split(text: str, separator: str | None) -> Sequence[str]:
    """The pieces of a list; one separator at the very end begins no piece of its own.

    Args:
        text: the list.
        separator: what stands between two pieces; None or a blank for blanks of any kind.

    Returns:
        Pieces without blanks around them; none of a text without any.
    """
    if text.isascii() and (quick := _quickly(text.encode(), separator)):
        return quick
    if separator is None or not separator.strip():
        return text.split()
    pieces = [piece.strip() for piece in text.split(separator)]
    return pieces[:-1] if not pieces[-1] else pieces


def _quickly(text: bytes, separator: str | None) -> Tokens | None:
    """The pieces, where no more than marks between them and blanks beside these must go."""
    text = text.strip(_BLANKS + b"\n").translate(_LINES)
    if separator is None or not separator.strip():
        while b"\n\n" in text:
            text = text.replace(b"\n\n", b"\n")
        return Tokens(text) if text else None
    mark = _raw(separator)
    if len(mark) != 1:
        return None
    text = text.replace(mark + b"\n", mark).removesuffix(mark)
    if not text or b"\n" in text:
        return None
    return Tokens(text.replace(mark, b"\n"))


def _text(raw: bytes) -> str:
    return raw.decode("utf-8", "surrogatepass")


def _raw(text: str) -> bytes:
    return text.encode("utf-8", "surrogatepass")
