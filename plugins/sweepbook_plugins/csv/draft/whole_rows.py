"""Marked rows that hold a whole curve, or the frequencies of such, below titles in remarks."""

import re
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from sweepbook.draft.numbers import is_numeric
from sweepbook_plugins.csv.draft.text import Cells, Text
from sweepbook_plugins.csv.draft.wide import LEAST, rising

_GOES_ON = re.compile(r".*(?:\.\.|\u2026).*")
_COUNTED = re.compile(r"([^\W\d]*)[_ ]?\d+")
_LOOKED_AT = 200


class Whole(NamedTuple):
    """Rows of one mark that go on from one of their titles.

    Attributes:
        titles: of their columns up to the first number, which is behind the last of them.
        told: the line that holds them.
        first: title of the first number.
        are_frequencies: whether the numbers are those of frequencies.
    """

    titles: tuple[str, ...]
    told: str
    first: str
    are_frequencies: bool


def find(text: Text, mark: str, places: Sequence[int], remarks: Mapping[int, str]) -> Whole | None:
    """What the rows of a mark go on with; None where no remark says where, or they do not.

    The remark has fewer cells than the rows: nobody writes a title for each point.
    """
    rows = [text.rows[at] for at in places[:_LOOKED_AT]]
    for at, remark in remarks.items():
        plain = text.lines[at].removeprefix(remark)
        told = [cell.strip() for cell in plain.removeprefix(text.delimiter).split(text.delimiter)]
        longer = all(len(row) > len(told) for row in rows)
        if told[0] != mark or not all(told) or not longer or len(told) < 2:
            continue
        start = _start(told)
        titles = tuple(told[1:start])
        distinct = len({*titles}) == len(titles) and not any(map(is_numeric, titles))
        if distinct and start > 1 and all(_goes_on(row, start) for row in rows):
            alone = all(rising(_filled(row[start:])) for row in rows)
            return Whole(titles, text.lines[at], told[start], alone)
    return None


def _start(told: Sequence[str]) -> int:
    """Position of the title of the first number: of v1..vn, or of v1 in v1, v2, ..., vn."""
    start = len(told) - 1
    if not _GOES_ON.fullmatch(told[start]):
        counted = [_COUNTED.fullmatch(of) for of in told]
        stems = {match[1] for match in counted if match}
        while start > 1 and (
            _GOES_ON.fullmatch(told[start - 1])
            or ((match := counted[start - 1]) and match[1] in stems)
        ):
            start -= 1
    return start


def _goes_on(row: Cells, start: int) -> bool:
    """Whether a row has from there on numbers alone, but for a few words for none."""
    filled = _filled(row[start:])
    return len(filled) >= LEAST and sum(map(is_numeric, filled)) * 2 > len(filled)


def _filled(cells: Cells) -> Cells:
    return [cell for cell in cells if cell]
