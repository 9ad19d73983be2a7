"""Units that an export names somewhere in a test, and that are not the declared one."""

import re
from collections.abc import Iterator, Mapping

from sweepbook.dialect.model import Dialect
from sweepbook.dialect.units import UNITS, unit_of

_PARTS = re.compile(r"0[.,](0{0,3}1)\s?dB")
"""A tenth, a hundredth and so on: any other number of dB is a value rather than a unit."""
_FREQUENCIES = {
    spelling: name for name, unit in UNITS["frequency"].items() for spelling in unit.spellings
}
"""Units of frequency by spelling."""


def other_units(dialect: Dialect, extra: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """Yield the key and a sentence for each text in `extra` that is another unit than declared.

    Args:
        dialect: its units are what is expected.
        extra: texts by key that nothing took; several of one key are parted by line ends.
    """
    yield from _other_parts(dialect, extra)
    yield from _other_frequencies(dialect, extra)


def _other_frequencies(dialect: Dialect, extra: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """Units of frequency: one that stands there is that of an axis, as a rule."""
    meaning = dialect.meaning
    declared = meaning.numbers.units["frequency"]
    expected = {declared, meaning.figure_units.get("frequency", declared)}
    for key, text in extra.items():
        for unit in dict.fromkeys(line.strip() for line in text.splitlines()):
            if unit in _FREQUENCIES and _FREQUENCIES[unit] not in expected:
                yield (
                    key,
                    f"{key!r} says {unit!r} where frequencies are read in {declared}; if that is "
                    "their unit in every test, change units.frequency; if in some, take it into "
                    f"the names of what stands beside it as {{unit}}, or choose by it in the path "
                    f"of XML ([@unit={declared}])",
                )


def _other_parts(dialect: Dialect, extra: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """Parts of a dB.

    Numbers that count in 0.1 dB and in 0.01 dB look alike, and physics tells them apart only where
    the loss is high.
    """
    declared = dialect.meaning.numbers.units["loss"]
    size = unit_of("loss", declared).times
    for key, text in extra.items():
        for line in dict.fromkeys(text.splitlines()):
            named = _PARTS.fullmatch(line.strip())
            if named and unit_of("loss", f"0.{named[1]} dB").times != size:
                yield (
                    key,
                    f"{key!r} says {line.strip()!r} where losses are read in {declared}; if that "
                    "is the unit of curves or figures, change units.loss, or take it into their "
                    "names as {unit}, so that none in another unit is read",
                )
