"""Tests of one file that have the same key, so that what belongs to which cannot be told.

The first of them is as doubtful as the second: a block saved under the key of another test comes
before that one as often as behind it. So nothing of a file is given before its last key is known.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from sweepbook.dialect.join import MEND, Other
from sweepbook.dialect.raw import Fault, RawTest

_SHOWN = 3
"""Places of tests with one key that are named."""

Items = Iterable[RawTest | Fault]
Key = tuple[str, str]
"""What a key is called, and its text."""
Again = Mapping[Key, Sequence[str]]
"""Where tests stand that have a key in common, by key."""


class Keys:
    """The keys of the tests of a file, as these pass.

    Attributes:
        names: what the keys are called that only one test may have.
        again: where the tests stand that have a key in common.
        whole: whether all tests have passed.
    """

    def __init__(self, others: Iterable[Other]) -> None:
        """Begin with none, for the other files of a join."""
        once = (of.join.key for of in others if of.join.key and not of.join.shared)
        self.names = tuple(dict.fromkeys(once))
        self.again: dict[Key, list[str]] = {}
        self.whole = False
        self._first: dict[Key, str] = {}

    def passing(self, items: Items) -> Iterator[RawTest | Fault]:
        """Give the tests and notes of a file one by one, and note where the tests stand."""
        for item in items:
            if isinstance(item, RawTest):
                for key in _keys_of(item, self.names):
                    if key in self._first:
                        self.again.setdefault(key, [self._first[key]]).append(item.locator)
                    else:
                        self._first[key] = item.locator
            yield item
        self.whole = True


def joined(items: Items, others: Sequence[Other], again: Again) -> Iterator[RawTest | Fault]:
    """The tests of a file with what others hold of them; with a fault where a key comes again.

    Args:
        items: the tests, and notes about the file as a whole.
        others: the other files, in the order in which they are joined.
        again: where tests stand that have a key in common.
    """
    names = Keys(others).names
    for item in items:
        if isinstance(item, Fault):
            yield item
            continue
        told = [key for key in _keys_of(item, names) if key in again]
        if told:
            for other in others:
                keys = [text for key, text in told if key == other.join.key]
                other.unmet.update(keys)
                other.twice |= dict.fromkeys(keys)
            faults = [_fault(key, again[key]) for key in told]
            yield replace(item, faults=[*item.faults, *faults])
            continue
        for other in others:
            item = other.join_to(item)
        yield item


def _keys_of(test: RawTest, names: Sequence[str]) -> Iterator[Key]:
    for name in names:
        cell = test.properties.get(name)
        if cell is not None and cell.text.strip():
            yield name, cell.text.strip()


def _fault(key: Key, places: Sequence[str]) -> Fault:
    listed = " and ".join(places[:_SHOWN])
    more = f" and {len(places) - _SHOWN} more" if len(places) > _SHOWN else ""
    return Fault(
        "",
        f"the key {key[1]!r} stands twice under {key[0]!r}, in {listed}{more}, so neither is read; "
        f"{MEND}, or pieces_by where these are pieces of one test",
    )
