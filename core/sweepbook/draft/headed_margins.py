"""A column of margins that only the heading of its table calls so."""

from collections.abc import Sequence

from sweepbook.draft.figure_words import Kind, is_margin, kind_of, without_db
from sweepbook.draft.numbers import either

Cells = Sequence[str]

_HALF = 2
"""A measured value is rarely less than half of the limit beside it, and a margin mostly is."""


def margins_below(
    heading: str, titles: Sequence[str], columns: Sequence[Cells], among: Sequence[int]
) -> int | None:
    """The only column called after nothing but decibels, below a heading that says margin.

    None where a title says margin itself, or where the numbers rather are measured values, which
    stand near the limits beside them.

    Args:
        heading: the line above the table.
        titles: of its columns.
        columns: the cells of each.
        among: positions of those that name nothing.
    """
    bare = [at for at in among if _is_unit(titles[at])]
    if not is_margin(heading) or len(bare) != 1 or any(is_margin(titles[at]) for at in among):
        return None
    limits = [at for at in among if kind_of(titles[at]) == Kind("limit", at=False)]
    near = [_near(columns[bare[0]], columns[at]) for at in limits]
    return None if any(near) else bare[0]


def _is_unit(title: str) -> bool:
    """Whether a title says that its numbers are in decibels, and nothing else."""
    rest = without_db(f" {title}")
    return len(rest) <= len(title) and not any(map(str.isalnum, rest))


def _near(numbers: Cells, limits: Cells) -> bool:
    """Whether most numbers are more than half of the limits beside them."""
    both = [(either(one), either(two)) for one, two in zip(numbers, limits, strict=True)]
    known = [(abs(one), abs(two)) for one, two in both if one is not None and two is not None]
    return sum(one * _HALF > two for one, two in known) * _HALF > len(known)
