"""Lines of data to the texts of one frequency after another, and every line that does not fit.

One frequency begins a line; pairs of numbers follow, on this line and on further ones. So a line
that begins a frequency has an odd number of numbers and every other line an even one, by which the
number of ports, a line that is missing and the noise data of version 1 are told.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import NamedTuple

from sweepbook import numerals
from sweepbook.dialect.raw import Fault
from sweepbook_plugins.touchstone.heading import MOST_PORTS, Heading, keyword
from sweepbook_plugins.touchstone.lines import Line, Lines

NO_DATA = "no data stand behind the option line; see whether the file was cut off"
_NOISE_NUMBERS = 5
_MARKS = {ord(mark): None for mark in "0123456789.+-eE \t"}


class Point(NamedTuple):
    """One frequency.

    Attributes:
        words: the frequency and all pairs, still as texts.
        lines: numbers of its lines, each with how many of the texts stand before it.
    """

    words: list[str]
    lines: list[tuple[int, int]]

    @property
    def start(self) -> int:
        """The line that it begins."""
        return self.lines[0][0]

    def line_of(self, position: int) -> int:
        """The line of one of its texts."""
        return max(number for number, before in self.lines if before <= position)


@dataclass
class Points:
    """The frequencies of a file.

    Attributes:
        lines: where they come from.
        heading: what the file says of them.
        ports: number of ports.
        left_out: what is in the file and not read, in words.
    """

    lines: Lines
    heading: Heading
    ports: int
    left_out: list[str] = field(default_factory=list)
    _any: bool = field(default=False, init=False)

    @property
    def need(self) -> int:
        """Numbers of one frequency, itself included."""
        half = self.heading.matrix != "full"
        return 1 + 2 * (self.ports * (self.ports + 1) // 2 if half else self.ports**2)

    def __iter__(self) -> Iterator[Point]:
        """Yield each frequency.

        Raises:
            Fault: a line does not fit.
        """
        point, need = Point([], []), self.need
        for line in self.lines:
            if not line.plain and line.text.startswith(("[", "#")):
                self._stop(line, point)
                if self.heading.version == 2:
                    return
                continue
            more = words(line)
            found = len(point.words)
            if not found and self._is_noise(more):
                self._skip_noise(line)
                return
            if len(more) % 2 == bool(found) or found + len(more) > need:
                raise self._misfit(line, point, len(more))
            point.lines.append((line.number, found))
            point.words.extend(more)
            if found + len(more) == need:
                self._any = True
                yield point
                point = Point([], [])
        if point.words:
            raise Fault(f"line {self.lines.last}", self._cut(point, "the file ends"))
        if self.heading.version == 2:
            self.left_out.append("the file has no [End]")

    def _misfit(self, line: Line, point: Point, more: int) -> Fault:
        """Why a line of so many numbers does not belong where it stands."""
        found = len(point.words)
        if found and more % 2:
            return Fault(line.place, self._cut(point, "here begins another one"))
        start = point.start if point.lines else line.number
        number = "file's name" if self.heading.version == 1 else "file"
        return Fault(
            line.place,
            f"the frequency on line {start} has {found + more - 1} numbers up to here, and "
            f"{self.ports} ports have {self.need - 1}; mend the line, or the number of ports "
            f"that the {number} says",
        )

    def _stop(self, line: Line, point: Point) -> None:
        """Take a line among the data that is no number.

        Raises:
            Fault: it does not belong there.
        """
        if point.words:
            raise Fault(line.place, self._cut(point, "here the data end"))
        if line.text.startswith("#") and self.heading.version == 1:
            return  # only the first option line counts
        name = (keyword(line) or ("", ""))[0]
        if self.heading.version == 2 and name == "noise data":
            self.left_out.append(f"noise data, from line {line.number}")
        elif self.heading.version == 1 or name != "end":
            raise Fault(line.place, f"read was {line.text[:40]!r}, expected are numbers or [End]")

    def _is_noise(self, more: list[str]) -> bool:
        one = self.heading.version == 1 and self.ports == 2 and self._any
        return one and len(more) == _NOISE_NUMBERS

    def _skip_noise(self, line: Line) -> None:
        for _ in self.lines:
            pass
        self.left_out.append(f"noise data, lines {line.number}-{self.lines.last}")

    def _cut(self, point: Point, here: str) -> str:
        return (
            f"{here}, and the frequency on line {point.start} has {len(point.words) - 1} of "
            f"{self.need - 1} numbers; a line is cut or missing: export the file again"
        )


def points(lines: Lines, heading: Heading, named: int | None) -> Points:
    """The frequencies of a file, and of version 1 the number of its ports.

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
    return Points(lines, heading, ports)


def _counted(lines: Lines) -> int:
    """Number of ports by the numbers of the first frequency."""
    seen: list[Line] = []
    count = 0
    for line in lines:
        if line.text.startswith(("[", "#")) or (seen and len(words(line)) % 2):
            lines.put_back(line)
            break
        seen.append(line)
        count += len(words(line))
        if count > 1 + 2 * MOST_PORTS**2:
            break
    for line in reversed(seen):
        lines.put_back(line)
    if not seen:
        raise Fault("", NO_DATA)
    ports = math.isqrt(count // 2)
    if count != 1 + 2 * ports**2 or not 1 <= ports <= MOST_PORTS:
        raise Fault(
            seen[0].place,
            f"the first frequency has {count - 1} numbers behind it, which is no matrix: n ports "
            "have 2 x n x n; a line is missing or too much",
        )
    return ports


def words(line: Line) -> list[str]:
    """The numbers of a line, still as texts.

    Raises:
        Fault: something there is no number.
    """
    found = line.text.split()
    if not line.plain and line.text.translate(_MARKS):
        position = numerals.first_fault(found)
        wrong = found[position] if position < len(found) else line.text
        wrong = wrong.encode("latin-1").decode("utf-8", "replace")
        raise Fault(
            line.place,
            f"{wrong[:40]!r} was read where a finite decimal number is expected; the format has "
            "no word for a missing value: export the file again, or take these frequencies out",
        )
    return found
