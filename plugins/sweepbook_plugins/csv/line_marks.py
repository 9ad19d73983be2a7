"""Lines that a dialect knows by how they begin, and numbers in them that say nothing."""

import re
from dataclasses import dataclass
from typing import NamedTuple

NUMBER = "{number}"
"""Stands for a whole number that says nothing: a running one in titles of columns of frequencies,
a count in headings."""

ANY_NUMBER = "\2"
"""Stands for such a number of a line; no line of a file holds it."""


class Mark(NamedTuple):
    """A line by how it begins, and, if a value stands within it, how it ends.

    Attributes:
        key: what its value is called; "" for no such line.
        start: text that the line begins with, up to a number if it has one.
        end: text that it ends with, behind the value.
        counted: the whole line, where numbers in it say nothing, else None.
    """

    key: str = ""
    start: str = ""
    end: str = ""
    counted: re.Pattern[str] | None = None

    def found(self, *texts: str) -> str:
        """The first of some spellings of a line that is one; "" where none is."""
        return next(filter(self._fits, texts), "") if self.key else ""

    def _fits(self, text: str) -> bool:
        around = text.startswith(self.start) and text.endswith(self.end)
        return around and (self.counted is None or self.counted.fullmatch(text) is not None)

    def value(self, text: str) -> str:
        """What stands within a stripped line that is one."""
        if self.counted is not None:
            line = self.counted.fullmatch(text)
            return line[1].strip() if line else ""
        return text[len(self.start) : len(text) - len(self.end)].strip()


NO_MARK = Mark()


def mark_of(text: str) -> Mark:
    """The mark that a dialect writes as "Record", "== Record {} ==" or "Record {number} of"."""
    start, _, end = text.partition("{}")
    whole = bool(end) or start.endswith("\t")
    start = start if whole else start.strip()
    if NUMBER not in start:
        return Mark(text.strip(), start, end)
    counted = re.compile(f"{with_numbers(start)}(.*){re.escape(end)}", re.DOTALL)
    return Mark(text.strip(), start.partition(NUMBER)[0], end, counted)


def with_numbers(text: str) -> str:
    """The expression for a text in which any whole number stands for each {number}."""
    return "[0-9]+".join(map(re.escape, text.split(NUMBER)))


@dataclass(frozen=True)
class TestMarks:
    """How one test is told from the next where they stand one after another.

    Attributes:
        first: what the first line of a test begins with.
        last: what the last line of a test begins with.
        blank_lines: so many blank lines stand between two tests; 0 for none.
    """

    first: Mark = NO_MARK
    last: Mark = NO_MARK
    blank_lines: int = 0

    @property
    def any(self) -> bool:
        """Whether there may be several tests in a file."""
        return bool(self.first.key or self.last.key or self.blank_lines)
