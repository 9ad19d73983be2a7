"""A row of many cells kept as bytes, such as a whole curve: few are asked for one by one."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, overload

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from sweepbook.bulk_cells import Buffer


class WideRow(Sequence[str]):
    """The cells of a line, or some of them side by side; there is at least one.

    Attributes:
        delimiter: what stands between two.
    """

    def __init__(
        self,
        buffer: "Buffer",
        delimiter: str,
        bounds: "tuple[NDArray[np.intp], NDArray[np.intp]]",
        *,
        strips: bool = False,
    ) -> None:
        """Take the cells.

        Args:
            buffer: the bytes of the block.
            delimiter: what stands between two cells.
            bounds: intp[n] each, where the cells begin and end.
            strips: whether they are given without blanks around them.
        """
        self.delimiter = delimiter
        self._buffer = buffer
        self._starts, self._ends = bounds
        self._strips = strips

    def __len__(self) -> int:
        return len(self._starts)

    @overload
    def __getitem__(self, at: int) -> str: ...

    @overload
    def __getitem__(self, at: slice) -> Sequence[str]: ...

    def __getitem__(self, at: int | slice) -> str | Sequence[str]:
        """A cell as text, or some side by side that are kept as bytes still."""
        if isinstance(at, int):
            text = self._buffer.text(int(self._starts[at]), int(self._ends[at]))
            return text.strip() if self._strips else text
        start, stop, step = at.indices(len(self))
        if step != 1 or stop <= start:
            return [*self][at]
        bounds = self._starts[start:stop], self._ends[start:stop]
        return WideRow(self._buffer, self.delimiter, bounds, strips=self._strips)

    def __iter__(self) -> Iterator[str]:
        start, end = int(self._starts[0]), int(self._ends[-1])
        texts = self._buffer.text(start, end).split(self.delimiter)
        return map(str.strip, texts) if self._strips else iter(texts)

    @property
    def raw(self) -> bytes:
        """The cells in UTF-8 as they stand there, with the delimiter between two."""
        return self._buffer.raw[self._starts[0] : self._ends[-1]]

    @property
    def any_empty(self) -> bool:
        """Whether there is nothing in one of them."""
        return bool((self._starts == self._ends).any())

    def stripped(self) -> Sequence[str]:
        """The cells without blanks around them."""
        return WideRow(self._buffer, self.delimiter, (self._starts, self._ends), strips=True)
