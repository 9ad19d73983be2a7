"""Two documents held against each other whole: every member of one, in the other's place."""

import json
import math
from collections.abc import Callable, Collection, Iterator, Mapping
from typing import Any

from sweepbook.bag.differences import Difference, Kind, same
from sweepbook.text import printable

Json = Mapping[str, Any]
_WORDS = ("reason", "message", "remarks", "near_misses", "decision_rule")
"""Members that are words for people: another version may have others for the same."""
_EMPTY: tuple[object, ...] = (None, "", [], {})
"""What a new member may say where an older document has none."""
_MOST_NAMED = 3
_LONGEST = 120


def of_members(
    old: Json, new: Json, kind_of: Callable[[str], Kind], *, lacking: bool = True
) -> Iterator[Difference]:
    """The differences between members of two documents, one a member.

    Args:
        old: as it lies in the bag.
        new: as it is made now, of plain values or such that become them.
        kind_of: what a difference at a place is of, where it is not of words.
        lacking: whether a member that only the new one has is a difference.
    """
    for place, was, is_ in _apart(old, plain(new), "", lacking):
        name = place.partition("[")[0]
        kind: Kind = "words" if _is_words(place) else kind_of(name)
        yield Difference(kind, "", "", f"{place} was {_told(was)} and is {_told(is_)}.")


def of_rest(old: Json, new: Json, told: Collection[str] = ()) -> Iterator[Difference]:
    """The differences between two entries of one record in members that nobody told of yet.

    Args:
        old: as the audit document has it.
        new: as it is now.
        told: names of members that are looked at elsewhere.
    """
    if old == new:
        return
    found = [
        (place, was, is_)
        for place, was, is_ in _apart(old, plain(new), "", True)
        if place not in told
    ]
    about = str(new.get("record_id")), str(new.get("label"))
    for kind, words in (("part", False), ("words", True)):
        rows = [row for row in found if _is_words(row[0]) is words]
        if rows:
            said = "; ".join(
                f"{place} was {_told(was)} and is {_told(is_)}"
                for place, was, is_ in rows[:_MOST_NAMED]
            )
            more = f"; and {len(rows) - _MOST_NAMED} more" if len(rows) > _MOST_NAMED else ""
            yield Difference(kind, *about, f"{said}{more}.")  # type: ignore[arg-type]


def plain(value: Json) -> dict[str, Any]:
    """A document as it is read back from its text."""
    found: dict[str, Any] = json.loads(json.dumps(value))
    return found


class _Nothing:
    def __repr__(self) -> str:
        return "not there"


_NOTHING = _Nothing()
_Apart = tuple[str, object, object]


def _apart(old: object, new: object, place: str, lacking: bool) -> Iterator[_Apart]:
    """Each place at which two values differ, with what stands there."""
    if isinstance(old, dict) and isinstance(new, dict):
        added = [name for name in new if lacking and name not in old and new[name] not in _EMPTY]
        names = [*old, *added]
        for name in names:
            below = f"{place}.{name}" if place else str(name)
            pair = old.get(name, _NOTHING), new.get(name, _NOTHING)
            yield from _apart(*pair, below, lacking)
    elif isinstance(old, list) and isinstance(new, list) and len(old) == len(new):
        for number, pair in enumerate(zip(old, new, strict=True), 1):
            yield from _apart(*pair, f"{place}[{number}]", lacking)
    elif (type(old) is not type(new) and not _numbers(old, new)) or not same(old, new):
        yield place, old, new


def _numbers(one: object, other: object) -> bool:
    """Whether both are numbers that can be held against each other."""
    return all(
        isinstance(each, int | float) and not isinstance(each, bool) and math.isfinite(each)
        for each in (one, other)
    )


def _is_words(place: str) -> bool:
    return place.rpartition(".")[2].partition("[")[0] in _WORDS


def _told(value: object) -> str:
    """A value in a few words: a list or a group of members as it is written where that is short."""
    text = repr(value) if isinstance(value, _Nothing) else json.dumps(value, ensure_ascii=False)
    if isinstance(value, list | dict) and not value:
        return "empty"
    if isinstance(value, list | dict) and len(text) > _LONGEST:
        return f"{len(value)} {'entry' if len(value) == 1 else 'entries'}"
    return printable(text if len(text) <= _LONGEST else f"{text[:_LONGEST]}…")
