"""What an export explains itself: its words for pairs, its units, its two ends, its clock.

A layout hands over rows of texts that stand side by side, and remarks such as "f=kHz, IL=0.01 dB".
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from types import MappingProxyType
from typing import NamedTuple

from sweepbook.draft.legend_ends import Ends, ends_told
from sweepbook.draft.legend_order import Order, order_told, roles_told
from sweepbook.draft.legend_pairs import explained
from sweepbook.draft.legend_units import Units, units_told
from sweepbook.draft.legend_words import words_told
from sweepbook.draft.phrases import Pairing
from sweepbook.draft.zones import is_of_clocks

_LONGEST = 300
"""Characters of a remark that may explain something."""
_PARTS = re.compile(r"[;|\n]|,(?![0-9])|(?<![0-9]),|,(?=[0-9]\s?[:=])|\s/\s")
"""What parts explanations; a comma between digits may be that of a number or of two contacts."""
_SAID = re.compile(r"\s*(?:=|:|->|\u2192|\bin\b)\s*")
_MARKS = ("=", ":", "->", "\u2192")
"""One of them at least is in a remark that explains something."""
_BOTH = 2
_MOST = 64
"""Rows of one group that are looked at."""

Row = Sequence[str]
Group = Sequence[Row]


class Legend(NamedTuple):
    """What was explained; None, or nothing, where it was not.

    Attributes:
        pairs, units, ends: how they are called.
        words: parameter by word of the export.
        clocks: lines that say in which zone its times are.
        order: which of two pairs comes first.
        roles: "disturbing" or "disturbed" by the words, in small letters, that stand for them.
    """

    pairs: Pairing | None = None
    units: Units = Units()
    ends: Ends | None = None
    words: Mapping[str, str] = MappingProxyType({})
    clocks: Sequence[str] = ()
    order: Order | None = None
    roles: Mapping[str, str] = MappingProxyType({})


NOTHING = Legend()


def legend(groups: Sequence[Group], remarks: Sequence[str]) -> Legend:
    """Find what is explained.

    Args:
        groups: rows that stand together, each with texts side by side; anything else does no harm.
        remarks: texts in which several things may be explained one after another.
    """
    remarks = [*dict.fromkeys(remarks)]
    told = (text for text in remarks if any(mark in text for mark in _MARKS))
    spoken = [row for text in told for row in statements(text)]
    every = [*groups, spoken]
    every += [turned for group in groups for turned in _turned(group)]
    pairs = next(filter(None, (explained(group) for group in every)), None)
    every = [group[:_MOST] for group in every]
    clocks = [text for text in remarks if len(text) <= _LONGEST and is_of_clocks(text)]
    return Legend(
        pairs,
        units_told(every),
        ends_told(every),
        words_told(every),
        clocks,
        order_told(remarks),
        roles_told(every),
    )


def statements(text: str) -> Iterator[Row]:
    """What a remark says of each thing: the thing, and what it is."""
    if len(text) > _LONGEST:
        return
    for part in _PARTS.split(text):
        head = _behind(_behind(part, "\t"), ":")
        said = _SAID.split(head.strip(" #!()[]"), maxsplit=1)
        if len(said) > 1 and all(said):
            yield [of.strip() for of in said]


def _behind(part: str, mark: str) -> str:
    """What stands behind a mark ahead of what is said, such as that behind a key; or the whole."""
    before, equals, _ = part.partition("=")
    return part.rpartition(mark)[2] if equals and mark in before else part


def _turned(group: Group) -> Iterator[Group]:
    """Rows out of two long ones of which the lower says of each text what it is."""
    for upper, lower in pairwise(group[:_MOST]):
        if len(upper) == len(lower) > _BOTH:
            yield list(zip(upper, lower, strict=True))
