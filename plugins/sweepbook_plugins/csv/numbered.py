"""Headings that differ by a number alone, as the first lines of tests do that are counted."""

import re
from collections.abc import Iterator
from typing import NamedTuple

from sweepbook_plugins.csv.forms import Layout

_NUMBER = re.compile("[0-9]+")
_SHOWN = 2


class Numbered(NamedTuple):
    """Such headings.

    Attributes:
        headings: in the order of the dialect.
        start: what all of them begin with, before the number.
    """

    headings: tuple[str, ...]
    start: str

    def __str__(self) -> str:
        more = len(self.headings) - _SHOWN
        shown = ", ".join(map(repr, self.headings[:_SHOWN]))
        return f"{shown} and {more} more" if more > 0 else shown

    @property
    def change(self) -> str:
        """What a person changes so that tests begin there."""
        return f"take these sections out and '{self.headings[0]}/' and the like off the keys"


def numbered(layout: Layout) -> Iterator[Numbered]:
    """Headings above key lines alone that are the same but for a number, two of them or more."""
    alike: dict[str, list[str]] = {}
    for section in layout.sections:
        for text in section.heading if section.form is None else ():
            if _NUMBER.search(text):
                alike.setdefault(_NUMBER.sub("#", text), []).append(text)
    for some in alike.values():
        counted = zip(*map(_NUMBER.findall, some), strict=True)
        apart = next((at for at, of in enumerate(counted) if len(set(of)) > 1), None)
        if apart is not None and (start := _before(some[0], apart)):
            yield Numbered(tuple(some), start)


def _before(text: str, number: int) -> str:
    """What stands before a number of a text, counted from 0."""
    return text[: [*_NUMBER.finditer(text)][number].start()].rstrip()
