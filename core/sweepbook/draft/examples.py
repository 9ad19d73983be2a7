"""Which files of an archive a draft is made from: some of each kind, told by their names."""

import re
from collections.abc import Sequence

_DIGITS = re.compile(r"[0-9]+")
_LETTERS = re.compile(r"[^\W\d_]+")


def chosen(names: Sequence[str], most: int) -> list[int]:
    """Positions of the files to look at, rising: the first of each kind, then the first of all.

    Names are of one kind that differ in numbers alone, or that hold numbers and differ in the words
    beside these: `C1-R31.csv` and `C2-G5.csv`, but neither `tests.csv` nor `pairs.csv`.

    Args:
        names: with their folders.
        most: so many are chosen at most.
    """
    first: dict[str, int] = {}
    for at, name in enumerate(names):
        first.setdefault("/".join(map(_kind, name.split("/"))), at)
    order = dict.fromkeys([*first.values(), *range(len(names))])
    return sorted([*order][:most])


def _kind(part: str) -> str:
    """A part of a path with what may tell one test from another left out."""
    stem, dot, ending = part.rpartition(".")
    if not _DIGITS.search(stem or part):
        return part
    return _DIGITS.sub("0", _LETTERS.sub("a", stem or ending)) + (f"{dot}{ending}" if stem else "")
