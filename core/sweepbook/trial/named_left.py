"""Cells in `extra` that the cell before them names, as the second key of a line does."""

import re
from collections.abc import Mapping

from sweepbook.draft.numbers import is_numeric

_FURTHER = re.compile(r"(.+)/([0-9]+)")
_LEAST = 3
"""The first cell behind the second of a line, which may be the value of the key as well."""


def called(single: Mapping[str, str]) -> dict[str, str]:
    """Keys by what they may be called: Room/4 as "Room/NVP" where Room/3 holds "NVP".

    A key that no other cell names is called as it is; one whose text is a name is left out.

    Args:
        single: texts by key, one each.
    """
    made: dict[str, str] = {}
    names: set[str] = set()
    taken: set[str] = set()
    for key in single:
        match = _FURTHER.fullmatch(key)
        before = f"{match[1]}/{int(match[2]) - 1}" if match and int(match[2]) >= _LEAST else ""
        name = single.get(before, "").strip()
        if match and before not in taken and _may_name(name):
            made[f"{match[1]}/{name}"] = key
            names.add(before)
            taken.add(key)
    named = {*names, *made.values()}
    return {**{key: key for key in single if key not in named}, **made}


def _may_name(text: str) -> bool:
    return any(map(str.isalpha, text)) and not is_numeric(text)
