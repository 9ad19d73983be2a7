"""Columns of frequencies in an export nobody has described yet: one, or one for each curve."""

import re
from collections.abc import Sequence

from sweepbook.draft.document import PARAMETER, one_of
from sweepbook.draft.naming import Naming
from sweepbook.draft.numbers import is_frequency, rises
from sweepbook_plugins.csv.draft.text import Cells

_NUMBERED = re.compile(r"(\D*)\d+(\D*)")
_LEAST = 2


def positions(titles: Sequence[str], rows: Sequence[Cells], first: int) -> list[int]:
    """Positions of the columns of frequencies; the first alone where it counts for all curves.

    Args:
        titles: of the columns.
        rows: the rows that are points.
        first: position of the first such column.
    """
    kind = _NUMBERED.sub(r"\1#\2", titles[first]) if titles else ""
    found = [
        at
        for at in range(first + 1, len(titles))
        if (is_frequency(titles[at]) or _NUMBERED.sub(r"\1#\2", titles[at]) == kind)
        and _rise([row[at] for row in rows if row[at]])
    ]
    ends = [*found[1:], len(titles)]
    if found and all(b - a > 1 for a, b in zip([first, *found], [found[0], *ends], strict=True)):
        return [first, *found]
    return [first]


def beside(axes: Sequence[int], at: int) -> int:
    """The column of frequencies of a curve: the nearest to the left, else the first."""
    return max((axis for axis in axes if axis < at), default=axes[0])


def frequency(titles: Sequence[str], axes: Sequence[int], naming: Naming) -> object:
    """What a dialect says of the titles of these columns."""
    held = list(dict.fromkeys(titles[at] for at in axes))
    if len(held) == 1:
        return held[0]
    parts = [naming.parse(title) for title in held]
    if all(PARAMETER in part.template and part.pairs for part in parts):
        return one_of(list(dict.fromkeys(part.template for part in parts)))
    frames = {of.groups() if (of := _NUMBERED.fullmatch(title)) else None for title in held}
    frame = frames.pop() if len(frames) == 1 else None
    return f"{frame[0]}{{number}}{frame[1]}" if frame else held


def _rise(texts: Sequence[str]) -> bool:
    """Whether texts are several numbers, and each is larger than the one before."""
    return len(texts) >= _LEAST and rises(texts)
