"""Points of a curve that are no plain numbers: gaps and clipped stretches."""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

OTHER_BOUND = {"at_least": "at_most", "at_most": "at_least"}


class Mark(NamedTuple):
    """Points of a curve that are no plain numbers: a gap, or a clipped stretch.

    Attributes:
        first, last: positions in the curve counted from 0, last included.
        kind: gap, at_least or at_most.
        as_stated: the text of the export.
    """

    first: int
    last: int
    kind: str
    as_stated: str


class Other(NamedTuple):
    """What a text means that may be no plain number.

    Attributes:
        plain: the number in it, None in a gap.
        kind: as of a mark, None for none.
        word: the text.
    """

    plain: str | None
    kind: str | None
    word: str


def turned(marks: Sequence[Mark]) -> list[Mark]:
    """Marks of a curve whose sign is turned: at least becomes at most."""
    other = OTHER_BOUND
    return [Mark(of.first, of.last, other.get(of.kind, of.kind), of.as_stated) for of in marks]


def outside_gaps(marks: Sequence[Mark], at: Sequence[int]) -> list[int]:
    """Those of some positions of a curve that lie in no gap."""
    if not any(mark.kind == "gap" for mark in marks):
        return list(at)
    gaps = {of for mark in marks if mark.kind == "gap" for of in range(mark.first, mark.last + 1)}
    return [position for position in at if position not in gaps]


def marked(stretches: Iterable[tuple[int, int]], others: Iterable[Other]) -> list[Mark]:
    """The marks, those side by side with the same text as one.

    Args:
        stretches: first and last position of each, rising.
        others: what stands there.
    """
    marks: list[Mark] = []
    first = last = -1
    before: Other | None = None
    for (start, end), other in zip(stretches, others, strict=True):
        if before and (start != last + 1 or (other is not before and other != before)):
            marks.append(Mark(first, last, before.kind or "", before.word))
            before = None
        if not before and other.kind:
            first, before = start, other
        last = end
    if before:
        marks.append(Mark(first, last, before.kind or "", before.word))
    return marks
