"""Keys that differ from test to test by a number alone, as in "Test 1 of 5"."""

import re
from bisect import bisect_right
from collections.abc import Mapping, Sequence
from itertools import pairwise

from sweepbook_plugins.csv.line_marks import NUMBER

_WHOLE_NUMBER = re.compile(r"(?<![\w.,-])[0-9]+(?![\w.,-])")
_WORD = re.compile(r"[^\W\d_]{2}")


def counted(key: str) -> str:
    """A key with {number} where whole numbers stand in it as words; the key where none does."""
    named = _WORD.search(key) and "{" not in key
    return _WHOLE_NUMBER.sub(NUMBER, key) if named else key


def counting(
    keys: Mapping[int, str], behind: Mapping[int, str], tables: Sequence[int]
) -> dict[int, str]:
    """Positions of keys that count with {number} in them, with tables between those of a form.

    A lone number, with nothing behind that differs from test to test, may be what tells them apart.

    Args:
        keys: by position, rising.
        behind: what stands behind each of them.
        tables: positions of the tables, rising.
    """
    forms: dict[str, list[int]] = {}
    for at, key in keys.items():
        if (form := counted(key)) != key:
            forms.setdefault(form, []).append(at)
    return {
        at: form
        for form, same in forms.items()
        if _count([keys[at] for at in same]) and _are_apart(same, tables)
        if form.count(NUMBER) > 1 or len({behind[at] for at in same}) == len(same)
        for at in same
    }


def one_each(forms: Mapping[int, str], starts: Sequence[int]) -> set[int]:
    """Positions of keys that count of which each test has one.

    Args:
        forms: keys with {number} by position.
        starts: positions where tests begin.
    """
    every = [*range(1, len(starts) + 1)]
    places: dict[str, list[int]] = {}
    for at, form in forms.items():
        places.setdefault(form, []).append(at)
    told = ([bisect_right(starts, at) for at in same] for same in places.values())
    return {at for same, parts in zip(places.values(), told, strict=True) if parts == every
            for at in same}  # fmt: skip


def _count(keys: Sequence[str]) -> bool:
    """Whether one number rises from key to key, and the others stay."""
    columns = zip(*([int(of) for of in _WHOLE_NUMBER.findall(key)] for key in keys), strict=True)
    changing = [of for of in columns if len(set(of)) > 1]
    return len(changing) == 1 and all(a < b for a, b in pairwise(changing[0]))


def _are_apart(same: Sequence[int], tables: Sequence[int]) -> bool:
    """Whether a table stands between most positions and the next; some tests may have none."""
    return 2 * len({bisect_right(tables, at) for at in same}) > len(same)
