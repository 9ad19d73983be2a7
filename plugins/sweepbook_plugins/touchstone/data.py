"""The frequencies of a file as numbers, a block at a time."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from sweepbook import numerals
from sweepbook.dialect.raw import Fault
from sweepbook_plugins.touchstone.digits import Digits, digits_of
from sweepbook_plugins.touchstone.heading import MOST_POINTS, Heading
from sweepbook_plugins.touchstone.points import NO_DATA, Point, Points

_BLOCK_NUMBERS = 65_536


class Block(NamedTuple):
    """Some frequencies one after another.

    Attributes:
        frequency_mhz: float64[b].
        first, second: float64[b, cells], the first and the second number of each pair.
        lines: b numbers of the lines that the frequencies begin.
    """

    frequency_mhz: NDArray[np.float64]
    first: NDArray[np.float64]
    second: NDArray[np.float64]
    lines: list[int]


@dataclass
class Data:
    """The network data of a file.

    Attributes:
        points: the frequencies.
        digits: of the first and the second number of the pairs, by the first block.
    """

    points: Points
    digits: tuple[Digits, Digits] = (Digits(1, 0), Digits(1, 0))

    @property
    def heading(self) -> Heading:
        """What the file says of its data."""
        return self.points.heading

    @property
    def ports(self) -> int:
        """Number of ports."""
        return self.points.ports

    def blocks(self) -> Iterator[Block]:
        """Yield the frequencies in the order of the file.

        Raises:
            Fault: a line does not fit, or the frequencies are not as many as the file says.
        """
        most = max(1, _BLOCK_NUMBERS // self.points.need)
        claimed = self.heading.points
        count = 0
        some: list[Point] = []
        for point in self.points:
            some.append(point)
            count += 1
            if count > (claimed or MOST_POINTS):
                raise Fault(f"line {point.start}", _too_many(claimed))
            if len(some) == most:
                yield self._block(some, first=count == len(some))
                some = []
        if some:
            yield self._block(some, first=count == len(some))
        if not count:
            raise Fault("", NO_DATA)
        if claimed is not None and count < claimed:
            raise Fault(
                f"line {self.points.lines.last}",
                f"[Number of Frequencies] is {claimed}, and the data end after {count}; the file "
                "was cut off, or the number is not right",
            )

    def _block(self, some: list[Point], *, first: bool) -> Block:
        """Numbers of some frequencies.

        Raises:
            Fault: a text is no finite number.
        """
        need = self.points.need
        tokens = [word for point in some for word in point.words]
        values = _finite(tokens)
        try:
            frequency, _ = numerals.parse_column(tokens[::need], shift=self.heading.options.shift)
        except numerals.NotANumber:
            values = None
        if values is None:
            position = min(numerals.first_fault(tokens), len(tokens) - 1)
            line = some[position // need].line_of(position % need)
            raise Fault(
                f"line {line}",
                f"{tokens[position][:40]!r} is no finite number; export the file again",
            )
        values = values.reshape(-1, need)
        if first:
            pairs = [word for point in some for word in point.words[1:]]
            self.digits = digits_of(pairs[::2]), digits_of(pairs[1::2])
        return Block(frequency, values[:, 1::2], values[:, 2::2], [point.start for point in some])


def _too_many(claimed: int | None) -> str:
    if claimed:
        return f"[Number of Frequencies] is {claimed}, and here is one more; mend the number"
    return f"this is frequency {MOST_POINTS + 1:,}; at most {MOST_POINTS:,} are read"


def _finite(tokens: list[str]) -> NDArray[np.float64] | None:
    """The values of tokens of digits, signs, points and exponents; None where one is no number."""
    try:
        values = np.array(list(map(float, tokens)), dtype=np.float64)
    except ValueError:
        return None
    return values if np.isfinite(values).all() else None
