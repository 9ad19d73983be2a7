"""Tests of one file that have the same key, so that what belongs to which cannot be told.

The first of them is as doubtful as the second: a block saved under the key of another test comes
before that one as often as behind it. So a file with several tests is looked through for its keys
before the first is given.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import chain, islice

from sweepbook.dialect.join import MEND, Other
from sweepbook.dialect.raw import Fault, RawTest

_SHOWN = 3
"""Places of tests with one key that are named."""

Items = Iterable[RawTest | Fault]


def joined(read: Callable[[], Items], others: Sequence[Other]) -> Iterator[RawTest | Fault]:
    """The tests of a file with what others hold of them; with a fault where a key comes again.

    Args:
        read: begins with the file anew each time; a file with one test is read once.
        others: the other files, in the order in which they are joined.
    """
    keys = tuple(dict.fromkeys(of.join.key for of in others if of.join.key and not of.join.shared))
    items = iter(read())
    begun = [*islice(items, 2)]
    again = _again(read(), keys) if keys and len(begun) > 1 else {}
    for item in chain(begun, items):
        if isinstance(item, Fault):
            yield item
            continue
        told = [key for key in _keys_of(item, keys) if key in again]
        if told:
            for other in others:
                other.unmet.update(text for key, text in told if key == other.join.key)
            faults = [_fault(key, again[key]) for key in told]
            yield replace(item, faults=[*item.faults, *faults])
            continue
        for other in others:
            item = other.join_to(item)
        yield item


def _again(items: Items, keys: Sequence[str]) -> dict[tuple[str, str], list[str]]:
    """Where tests stand that have a key in common, by key and text."""
    places: defaultdict[tuple[str, str], list[str]] = defaultdict(list)
    for item in items:
        if isinstance(item, RawTest):
            for key in _keys_of(item, keys):
                places[key].append(item.locator)
    return {key: some for key, some in places.items() if len(some) > 1}


def _keys_of(test: RawTest, keys: Sequence[str]) -> Iterator[tuple[str, str]]:
    for key in keys:
        cell = test.properties.get(key)
        if cell is not None and cell.text.strip():
            yield key, cell.text.strip()


def _fault(key: tuple[str, str], places: Sequence[str]) -> Fault:
    listed = " and ".join(places[:_SHOWN])
    more = f" and {len(places) - _SHOWN} more" if len(places) > _SHOWN else ""
    return Fault(
        "",
        f"the key {key[1]!r} stands twice under {key[0]!r}, in {listed}{more}, so neither is read; "
        f"{MEND}, or pieces_by where these are pieces of one test",
    )
