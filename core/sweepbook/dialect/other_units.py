"""Units that an export names somewhere in a test, and that are not the declared one."""

import re
from collections.abc import Iterator, Mapping
from typing import NamedTuple

from sweepbook.dialect.model import Dialect
from sweepbook.dialect.units import UNITS, unit_of

_PARTS = re.compile(r"0[.,](0{0,3}1)\s?dB")
"""A tenth, a hundredth and so on: any other number of dB is a value rather than a unit."""
_FREQUENCY, _LOSS = "frequencies", "losses"
_NOTE = re.compile(rf".+ says .+ where (?:{_FREQUENCY}|{_LOSS}) are read in .+", re.DOTALL)
_FREQUENCIES = {
    spelling: name for name, unit in UNITS["frequency"].items() for spelling in unit.spellings
}
"""Units of frequency by spelling."""


class OtherUnit(NamedTuple):
    """A unit that stands in a test and is not the one that its numbers were read in.

    Attributes:
        key: what the source calls the text.
        says: the text.
        what: frequencies or losses.
        read_as: the unit that the dialect declares.
    """

    key: str
    says: str
    what: str
    read_as: str

    @property
    def note(self) -> str:
        """What a record says of it; `is_note` knows it again."""
        return f"{self.key!r} says {self.says!r} where {self.what} are read in {self.read_as}"

    @property
    def message(self) -> str:
        """What it may mean, and what to do."""
        if self.what == _FREQUENCY:
            return (
                f"{self.note}; if that is their unit in every test, change units.frequency; if in "
                "some, take it into the names of what stands beside it as {unit}, or choose by it "
                f"in the path of XML ([@unit={self.read_as}])"
            )
        return (
            f"{self.note}; if that is the unit of curves or figures, change units.loss, or take it "
            "into their names as {unit}, so that none in another unit is read"
        )


def is_note(text: str) -> bool:
    """Whether a note of a record says of a unit that numbers were not read in it."""
    return _NOTE.fullmatch(text) is not None


def other_units(dialect: Dialect, extra: Mapping[str, str]) -> Iterator[OtherUnit]:
    """Yield each text in `extra` that is another unit than declared.

    Args:
        dialect: its units are what is expected.
        extra: texts by key that nothing took; several of one key are parted by line ends.
    """
    yield from _other_parts(dialect, extra)
    yield from _other_frequencies(dialect, extra)


def _other_frequencies(dialect: Dialect, extra: Mapping[str, str]) -> Iterator[OtherUnit]:
    """Units of frequency: one that stands there is that of an axis, as a rule."""
    meaning = dialect.meaning
    declared = meaning.numbers.units["frequency"]
    expected = {declared, meaning.figure_units.get("frequency", declared)}
    for key, text in extra.items():
        for unit in dict.fromkeys(line.strip() for line in text.splitlines()):
            if unit in _FREQUENCIES and _FREQUENCIES[unit] not in expected:
                yield OtherUnit(key, unit, _FREQUENCY, declared)


def _other_parts(dialect: Dialect, extra: Mapping[str, str]) -> Iterator[OtherUnit]:
    """Parts of a dB.

    Numbers that count in 0.1 dB and in 0.01 dB look alike, and physics tells them apart only where
    the loss is high.
    """
    declared = dialect.meaning.numbers.units["loss"]
    size = unit_of("loss", declared).times
    for key, text in extra.items():
        for line in dict.fromkeys(line.strip() for line in text.splitlines()):
            named = _PARTS.fullmatch(line)
            if named and unit_of("loss", f"0.{named[1]} dB").times != size:
                yield OtherUnit(key, line, _LOSS, declared)
