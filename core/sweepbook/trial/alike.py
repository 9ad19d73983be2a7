"""Tests that a dialect reads alike, so that one of them shows what it makes of all."""

from collections.abc import Hashable, Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from sweepbook.rules.times import UNKNOWN
from sweepbook.text import text_at
from sweepbook.trial.looking import Look

_FEW = 3
"""So many keys that end alike are shown one by one."""


class Group(NamedTuple):
    """Tests that are read alike.

    Attributes:
        number: place of the first among the tests looked at, from 1.
        first: the one to show.
        others: the rest.
    """

    number: int
    first: Look
    others: Sequence[Look]


def groups(looks: Iterable[Look], *, each: bool) -> list[Group]:
    """Tests by how they are read, in the order of the first of each kind.

    Args:
        looks: the tests.
        each: whether every test is to be shown, a group of its own each.
    """
    found: dict[Hashable, tuple[int, list[Look]]] = {}
    for number, one in enumerate(looks, 1):
        found.setdefault(number if each else _kind(one), (number, []))[1].append(one)
    return [Group(number, some[0], some[1:]) for number, some in found.values()]


def _kind(one: Look) -> Hashable:
    """What a test has in common with those that are read alike: all but its texts and values."""
    started = text_at(one.document, "test", "started", "rfc3339")
    return (
        text_at(one.document, "test", "limit", "as_stated"),
        one.limit,
        bool(text_at(one.document, "link", "label")),
        (bool(started), started.endswith(UNKNOWN)),
        bool(text_at(one.document, "stated", "overall", "verdict")),
        tuple(row._replace(values="") for row in one.rows),
        tuple(one.document.get("resolved", {}).get("notes", ())),
        tuple(one.doubts),
        one.steps,
        tuple(one.left),
        one.passed_over,
    )


def keys(left: Mapping[str, str]) -> Iterator[tuple[str, Sequence[str]]]:
    """Keys, each with further ones of the same last step where there are more than a few.

    Args:
        left: texts by key.
    """
    found: dict[str, list[str]] = {}
    for key in left:
        found.setdefault(key.rpartition("/")[2], []).append(key)
    for some in found.values():
        if len(some) > _FEW:
            yield some[0], some[1:]
        else:
            yield from ((key, ()) for key in some)
