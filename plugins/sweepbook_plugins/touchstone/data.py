"""Lines of data to numbers, a block of frequencies at a time, and every line that is not right.

One frequency begins a line; pairs of numbers follow, on this line and on further ones. So a line
that begins a frequency has an odd number of numbers and every other line an even one, by which the
number of ports, a line that is missing and the noise data of version 1 are told.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from sweepbook import numerals
from sweepbook.dialect.raw import Fault
from sweepbook_plugins.touchstone.digits import Digits, digits_of
from sweepbook_plugins.touchstone.heading import MOST_POINTS, MOST_PORTS, Heading, keyword
from sweepbook_plugins.touchstone.lines import Line, Lines

_BLOCK_NUMBERS = 65_536
_NOISE_NUMBERS = 5
_MARKS = {ord(mark): None for mark in "0123456789.+-eE \t"}


class Block(NamedTuple):
    """Some frequencies one after another.

    Attributes:
        frequency_mhz: float64[b].
        first, second: float64[b, cells], the first and the second number of each pair.
        lines: b numbers of the lines that the frequencies stand on.
    """

    frequency_mhz: NDArray[np.float64]
    first: NDArray[np.float64]
    second: NDArray[np.float64]
    lines: list[int]


@dataclass
class Data:
    """The network data of a file.

    Attributes:
        lines: where they come from.
        heading: what the file says of them.
        ports: number of ports.
        digits: of the first and the second number of the pairs, by the first block.
        begins: the line of the first frequency.
        left_out: what is in the file and not read, in words.
    """

    lines: Lines
    heading: Heading
    ports: int
    digits: tuple[Digits, Digits] = (Digits(1, 0), Digits(1, 0))
    begins: int = 0
    left_out: list[str] = field(default_factory=list)

    @property
    def cells(self) -> int:
        """Pairs of numbers a frequency."""
        half = self.heading.matrix != "full"
        return self.ports * (self.ports + 1) // 2 if half else self.ports**2

    def blocks(self) -> Iterator[Block]:
        """Yield the frequencies in the order of the file.

        Raises:
            Fault: a line does not fit, or the frequencies are not as many as the file says.
        """
        need = 1 + 2 * self.cells
        most = max(1, _BLOCK_NUMBERS // need)
        points = 0
        tokens: list[str] = []
        starts: list[int] = []
        for start, words in self._points(need):
            self.begins = self.begins or start
            tokens += words
            starts.append(start)
            points += 1
            if points > (self.heading.points or MOST_POINTS):
                raise Fault(f"line {start}", self._too_many())
            if len(starts) == most:
                yield self._block(tokens, starts, need)
                tokens, starts = [], []
        if starts:
            yield self._block(tokens, starts, need)
        if not points:
            raise Fault("", "no data stand behind the option line; was the file cut off?")
        if self.heading.points is not None and points < self.heading.points:
            raise Fault(
                f"line {self.lines.last}",
                f"[Number of Frequencies] is {self.heading.points}, and the data end after "
                f"{points}; the file was cut off, or the number is not right",
            )

    def _too_many(self) -> str:
        if self.heading.points:
            return (
                f"[Number of Frequencies] is {self.heading.points}, and here is one more; "
                "mend the number"
            )
        return f"this is frequency {MOST_POINTS + 1:,}; at most {MOST_POINTS:,} are read"

    def _points(self, need: int) -> Iterator[tuple[int, list[str]]]:
        """Yield the first line and the numbers of each frequency."""
        words: list[str] = []
        start = 0
        for line in self.lines:
            if line.text.startswith(("[", "#")):
                self._stop(line, start if words else 0, len(words), need)
                if self.heading.version == 2:
                    return
                continue
            more = _words(line)
            if not words and self._is_noise(more):
                self._skip_noise(line)
                return
            start = start if words else line.number
            self._hold(line, start, len(words), len(more), need)
            words += more
            if len(words) == need:
                yield start, words
                words = []
        if words:
            raise Fault(f"line {self.lines.last}", _cut(start, len(words), need, "the file ends"))
        if self.heading.version == 2:
            self.left_out.append("the file has no [End]")

    def _hold(self, line: Line, start: int, found: int, more: int, need: int) -> None:
        """Hold a line of so many numbers against the frequency that it belongs to.

        Raises:
            Fault: it begins another frequency too early, or there are too many numbers.
        """
        if found and more % 2:
            raise Fault(line.place, _cut(start, found, need))
        if found + more > need or not (found + more) % 2:
            raise Fault(line.place, self._misfit(start, found + more, need))

    def _misfit(self, start: int, found: int, need: int) -> str:
        what = f"the frequency on line {start} has {found - 1} numbers up to here, and"
        return (
            f"{what} {self.ports} ports have {need - 1}; mend the line, or the number of ports "
            f"that {'the name ends in' if self.heading.version == 1 else 'the file says'}"
        )

    def _stop(self, line: Line, start: int, found: int, need: int) -> None:
        """Take a line in the data that is no number."""
        if start:
            raise Fault(line.place, _cut(start, found, need))
        if line.text.startswith("#") and self.heading.version == 1:
            return  # only the first option line counts
        name = (keyword(line) or ("", ""))[0]
        if self.heading.version == 2 and name == "noise data":
            self.left_out.append(f"noise data, from line {line.number}")
        elif self.heading.version == 1 or name != "end":
            raise Fault(line.place, f"read was {line.text[:40]!r}, expected are numbers or [End]")

    def _is_noise(self, words: list[str]) -> bool:
        one = self.heading.version == 1 and self.ports == 2 and self.begins > 0
        return one and len(words) == _NOISE_NUMBERS

    def _skip_noise(self, line: Line) -> None:
        for _ in self.lines:
            pass
        self.left_out.append(f"noise data, lines {line.number}-{self.lines.last}")

    def _block(self, tokens: list[str], starts: list[int], need: int) -> Block:
        """Numbers of some frequencies."""
        values = _finite(tokens)
        try:
            frequency, _ = numerals.parse_column(tokens[::need], shift=self.heading.options.shift)
        except numerals.NotANumber:
            values = None
        if values is None:
            position = min(numerals.first_fault(tokens), len(tokens) - 1)
            raise Fault(
                f"line {starts[position // need]} or a line below it",
                f"{tokens[position][:40]!r} is no finite number; export the file again",
            )
        values = values.reshape(-1, need)
        if starts[0] == self.begins:
            pairs = [token for at, token in enumerate(tokens) if at % need]
            self.digits = digits_of(pairs[::2]), digits_of(pairs[1::2])
        return Block(frequency, values[:, 1::2], values[:, 2::2], starts)


def data(lines: Lines, heading: Heading, named: int | None) -> Data:
    """The data of a file, and of version 1 the number of its ports.

    Args:
        lines: from the first line of data on.
        heading: what stood before.
        named: number of ports that the file's name ends in; None where it says none.

    Raises:
        Fault: no number of ports fits the first frequency, or the name says another one.
    """
    ports = heading.ports if heading.ports is not None else _counted(lines)
    if named is not None and named != ports:
        says = "its first frequency has" if heading.ports is None else "[Number of Ports] says"
        raise Fault(
            "",
            f"the file's name says {named} ports, {says} {ports}; see that it is whole, and name "
            f"it .s{ports}p if it is",
        )
    return Data(lines, heading, ports)


def _counted(lines: Lines) -> int:
    """Number of ports by the numbers of the first frequency."""
    seen: list[Line] = []
    count = 0
    for line in lines:
        if line.text.startswith(("[", "#")) or (seen and len(_words(line)) % 2):
            lines.put_back(line)
            break
        seen.append(line)
        count += len(_words(line))
        if count > 1 + 2 * MOST_PORTS**2:
            break
    for line in reversed(seen):
        lines.put_back(line)
    if not seen:
        raise Fault("", "no data stand behind the option line; was the file cut off?")
    ports = math.isqrt(count // 2)
    if count != 1 + 2 * ports**2 or not 1 <= ports <= MOST_PORTS:
        raise Fault(
            seen[0].place,
            f"the first frequency has {count - 1} numbers behind it, which is no matrix: n ports "
            "have 2 x n x n; a line is missing or too much",
        )
    return ports


def _words(line: Line) -> list[str]:
    """The numbers of a line, still as texts.

    Raises:
        Fault: something there is no number.
    """
    words = line.text.split()
    if line.text.translate(_MARKS):
        position = numerals.first_fault(words)
        wrong = words[position] if position < len(words) else line.text
        raise Fault(
            line.place,
            f"{wrong[:40]!r} was read where a finite decimal number is expected; the format has "
            "no word for a missing value: export the file again, or take these frequencies out",
        )
    return words


def _finite(tokens: list[str]) -> NDArray[np.float64] | None:
    """The values of tokens of digits, signs, points and exponents; None where one is no number."""
    try:
        values = np.array(list(map(float, tokens)), dtype=np.float64)
    except ValueError:
        return None
    return values if np.isfinite(values).all() else None


def _cut(start: int, found: int, need: int, here: str = "here begins another line") -> str:
    return (
        f"{here}, and the frequency on line {start} has {found - 1} of {need - 1} numbers; a line "
        "is cut or missing: export the file again"
    )
