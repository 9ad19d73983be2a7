"""Where sources came from: paths as they were typed, held against each other from the root on."""

import os
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path, PurePath

from sweepbook.book import journal
from sweepbook.book.contents import Contents
from sweepbook.book.events import GIVEN
from sweepbook.book.layout import PROGRAM, Book

_MOST_IN_LINE = 1000
"""A line of the journal may not grow without end; paths may be long."""


@dataclass(frozen=True, slots=True)
class Given:
    """A source that the book has, given under a path that the book did not know.

    Attributes:
        sha256: its digest.
        name: its name.
        place: the path, as it was typed.
    """

    sha256: str
    name: str
    place: str


def whole(path: str | Path) -> PurePath:
    """A path from the root on, as it is written: what it led to may be gone."""
    return PurePath(os.path.normpath(Path.cwd() / path))


def lie_below(places: Iterable[str], folder: PurePath) -> set[str]:
    """Those among paths that are a path from the root on, or lie below it."""
    return {place for place in places if folder in ((path := whole(place)), *path.parents)}


def is_new(place: str, known: Collection[str], book: Book) -> bool:
    """Whether a source came from a path from which it never came before.

    What lies in the book itself came from nowhere else.
    """
    if place in known:
        return False
    path = whole(place)
    return path not in map(whole, known) and whole(book.root) not in path.parents


def note(book: Book, contents: Contents, given: Sequence[Given]) -> None:
    """Write into the journal under which other paths sources were given; with the book locked.

    Raises:
        SweepbookError: the journal cannot be written.
    """
    for start in range(0, len(given), _MOST_IN_LINE):
        some = given[start : start + _MOST_IN_LINE]
        sources = [{"sha256": one.sha256, "name": one.name, "from": one.place} for one in some]
        body = {"program": PROGRAM, "sources": sources}
        contents.add(journal.append(book.journal, contents.last, GIVEN, body))
