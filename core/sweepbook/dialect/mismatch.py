"""Keys of a dialect that lead nowhere, and what they may have been meant for."""

import re
from collections.abc import Collection, Iterable, Iterator
from difflib import get_close_matches
from typing import TYPE_CHECKING

from sweepbook.dialect.load import BadDialect
from sweepbook.dialect.model import Dialect, Meaning

if TYPE_CHECKING:
    from sweepbook.limits.library import Library

_NEAR = 0.8
"""How much of two keys must agree, 1 for all of it, for one to be taken for the other misspelt."""
_SHORTEST = 3
"""Shorter words tell keys apart on purpose: "end A" and "end B", "unit 1" and "unit 2"."""


def hold_limits(dialect: Dialect, limits: "Library") -> None:
    """Hold the paths of a dialect's `limits` against the tables at hand.

    Raises:
        BadDialect: a path is none of theirs.
    """
    known, found = limits.paths(), []
    for path in sorted(set(dialect.meaning.limits.values()) - set(known)):
        near = get_close_matches(path, known, n=2, cutoff=0.6)
        hint = f"; near it: {', '.join(near)}" if near else ""
        found.append(
            f"limits: there is no limit table {path!r}{hint}; `sweepbook limits list` lists the "
            "tables, and --limits FILE brings one of your own"
        )
    if found:
        raise BadDialect(dialect.where, found)


def misspelt(meaning: Meaning, present: Collection[str], left: Iterable[str]) -> Iterator[str]:
    """Yield a sentence for each field whose keys are not there while one much like them is left.

    Args:
        meaning: with the declared fields.
        present: all keys of the test.
        left: keys of the test that nothing took.
    """
    spare = [key for key in left if len(key) > 1]
    for path, keys in meaning.fields.items() if spare else ():
        if any(key in present for key in keys):
            continue
        for key in keys:
            likely = [other for other in spare if _alike(key, other)]
            for near in get_close_matches(key, likely, n=1, cutoff=0.0):
                yield (
                    f"nothing stands under {key!r}, which fields.{path} names, and nothing took "
                    f"{near!r}; if this is meant, change the dialect"
                )


def _alike(one: str, other: str) -> bool:
    """Whether one may be the other misspelt, and is no sibling such as that of the other end."""
    mine, theirs = _words(one), _words(other)
    if mine == theirs or "".join(mine) == "".join(theirs):
        return True
    if len(mine) == len(theirs):
        differing = [pair for pair in zip(mine, theirs, strict=True) if pair[0] != pair[1]]
        if any(min(map(len, pair)) < _SHORTEST for pair in differing):
            return False
    return bool(get_close_matches(one.casefold(), [other.casefold()], cutoff=_NEAR))


def _words(key: str) -> list[str]:
    return re.findall(r"[^\W\d_]+|\d+", key.casefold())
