"""Changes of several tests put together: the same one is told once."""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

_UP = re.compile(r"(?:\.\./)+")
"""Before a text that stands in an element further up: it is the same one."""
_NUMBER = re.compile(r"[0-9]+(?:[.,:/-][0-9]+)*")


class Edit(NamedTuple):
    """One change.

    Attributes:
        where: the line of the dialect, or the key that is to be added.
        what: what to do, and by what in the export it is known.
        told: whether the reader said so, who names what it met.
        weight: what is heavier is told first.
        alike: what it has in common with the same change by another text of the export, if those
            are told as one.
    """

    where: str
    what: str
    told: bool = False
    weight: int = 0
    alike: str = ""

    @property
    def shape(self) -> str:
        """What is the same of all tests with a fault: all but the numbers in it."""
        return self.alike or (_NUMBER.sub("#", self.same) if self.told else self.what)

    @property
    def same(self) -> str:
        """What it is about: one text of the export, from whichever element it is looked at."""
        return _UP.sub("", self.what) if self.told else self.what


@dataclass
class _Once:
    """A change, where it is to be made, and which test it is of."""

    edit: Edit
    test: int
    places: list[str] = field(default_factory=list)
    like_it: set[int] = field(default_factory=set)

    def edited(self) -> Edit:
        """The change with how often it comes again."""
        more = len(set(self.places)) - 1
        some = f" and {more} more place{'' if more == 1 else 's'}" if more else ""
        tests = len(self.like_it)
        same = f" (the same in {tests} more test{'' if tests == 1 else 's'})" if tests else ""
        what = self.edit.what.rstrip(".") if same else self.edit.what
        where = f"{self.edit.where}{some}"
        return self.edit._replace(where=where, what=f"{what}{same}")


def together(tests: Iterable[Sequence[Edit]]) -> Iterator[Edit]:
    """Changes of which each is told once, with the first of its places, the heaviest first.

    What the reader told of one test, it told of another one where only the numbers differ.

    Args:
        tests: the changes by the test that they are of.
    """
    exact: dict[str, _Once] = {}
    alike: dict[str, _Once] = {}
    for test, edits in enumerate(tests):
        for edit in edits:
            if once := exact.get(edit.same):
                once.places.append(edit.where)
            elif (once := alike.get(edit.shape)) and once.test != test:
                once.like_it.update([test] if edit.told else [])
            else:
                exact[edit.same] = _Once(edit, test, [edit.where])
                alike.setdefault(edit.shape, exact[edit.same])
    told = (once.edited() for once in exact.values())
    yield from sorted(told, key=lambda edit: -edit.weight)
