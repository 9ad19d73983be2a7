"""Whether the day or the month comes first, where dates leave it open by themselves."""

import re
from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

_MONTHS = 12


class Shown(NamedTuple):
    """A date that shows which comes first.

    Attributes:
        text: the date.
        day_first: whether the day does.
    """

    text: str
    day_first: bool


def shown_by(others: Sequence[re.Match[str]], mark: str) -> Shown | None:
    """What further dates between the same marks show; None where none does, or they disagree.

    Args:
        others: the dates, with the groups `a`, `b` and `c` of their parts and `s` of the mark.
        mark: between the parts.
    """
    found = []
    for one in others:
        numbers = [int(one[of]) for of in "ab" if one["s"] == mark and one[of].isdigit()]
        if len(numbers) == len("ab") and len(one["a"]) <= 2 and max(numbers) > _MONTHS:
            found.append(Shown(one[0], numbers[0] > _MONTHS))
    return found[0] if len({of.day_first for of in found}) == 1 else None


def spans(dates: Sequence[re.Match[str]]) -> tuple[int | None, int | None]:
    """How many days lie between the first and the last of dates.

    Args:
        dates: with the groups `a`, `b` and `c` of their parts: numbers up to 12, and a year last.

    Returns:
        with the day first, and with the month first; None where some are no dates.
    """
    parts = [(int(of["a"]), int(of["b"]), int(of["c"])) for of in dates]
    return (
        _span([(year, month, day) for day, month, year in parts]),
        _span([(year, month, day) for month, day, year in parts]),
    )


def _span(some: Sequence[tuple[int, int, int]]) -> int | None:
    try:
        days = [date(year or 4, month, day).toordinal() for year, month, day in some]
    except ValueError:
        return None
    return max(days) - min(days)
