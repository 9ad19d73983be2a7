"""Sources that count no more: which are meant, and the line of the journal that says so.

The files, and the records that were made of them, stay where they are. One line of the journal
withdraws all that is meant at once, or takes it back in, so that nobody ever finds half of it.
"""

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fnmatch import fnmatchcase

from sweepbook.book import corrections, index, journal, lock, places, store
from sweepbook.book.contents import Contents
from sweepbook.book.events import RETURNED, WITHDRAWN, Listed, Withdrawal
from sweepbook.book.layout import PROGRAM, Book
from sweepbook.errors import SweepbookError
from sweepbook.text import natural_key

_DIGEST = re.compile("[0-9a-f]{6,64}")
_PATTERN = re.compile(r"[*?\[]")
MOST_NAMED = 5
_FAILS = ("fail", "fail*")
"""Stated verdicts that are a fail."""


class NotMeant(SweepbookError):
    """No source of a book, or more than one, goes by what was asked for."""


@dataclass(frozen=True, slots=True)
class Known:
    """A source of a book.

    Attributes:
        sha256: its digest.
        name: its name.
        came_from: the paths under which it was given, sorted.
        records: ids of the records of its current readings.
        withdrawal: why it counts no more; None where it counts.
    """

    sha256: str
    name: str
    came_from: tuple[str, ...]
    records: frozenset[str]
    withdrawal: Withdrawal | None = None


@dataclass(frozen=True, slots=True)
class Done:
    """What became of withdrawing sources, or of taking some back in.

    Attributes:
        changed: those that counted till now and do not any more, or the other way round.
        as_before: those for which nothing was to be done.
        records: how many records count no more, or count again.
        elsewhere: how many records of what was withdrawn count all the same, since they are in
            another source too.
        stay: those that count all the same, since they came from other places than were asked
            for too; each with these.
        left: how many records of the book count now.
        stating_fail: labels of the records that count no more, or count again, and state a fail.
    """

    changed: tuple[Known, ...]
    as_before: tuple[Known, ...]
    records: int
    elsewhere: int
    stay: tuple[tuple[Known, tuple[str, ...]], ...]
    left: int
    stating_fail: tuple[str, ...]


def known(contents: Contents) -> list[Known]:
    """The sources of a book, by name in natural order, then by digest."""
    names = {sha256: reading.name for (sha256, _), (_, reading) in contents.latest.items()}
    records: dict[str, set[str]] = {sha256: set() for sha256 in names}
    for (sha256, joined), reading in contents.current.items():
        for part in (sha256, *joined):
            records.get(part, set()).update(listed.record_id for listed in reading.records)
    found = [
        Known(
            sha256,
            names[sha256],
            tuple(sorted(contents.came_from[sha256])),
            frozenset(its),
            contents.withdrawn.get(sha256),
        )
        for sha256, its in records.items()
    ]
    return sorted(found, key=lambda one: (natural_key(one.name), one.name, one.sha256))


def digests(book: Book) -> frozenset[str]:
    """Digests of the sources of a book that are withdrawn.

    Raises:
        SweepbookError: the journal is damaged.
    """
    if not journal.mentions(book.journal, WITHDRAWN):
        return frozenset()
    return frozenset(store.contents_of(book).withdrawn)


def listed(names: Sequence[str], most: int = MOST_NAMED) -> str:
    """Names, of many the first ones and how many more."""
    more = len(names) - most
    return ", ".join(names[:most]) + (f" and {more} more" if more > 0 else "")


def in_words(book: Book) -> str:
    """What of a book is withdrawn, when and why, for whoever sees the rest; "" for nothing.

    Who withdrew it stands in the journal alone.

    Raises:
        SweepbookError: the journal is damaged.
    """
    if not journal.mentions(book.journal, WITHDRAWN):
        return ""
    by_line: dict[Withdrawal, list[str]] = {}
    for one in known(store.contents_of(book)):
        if one.withdrawal is not None:
            by_line.setdefault(one.withdrawal, []).append(one.name)
    return "; ".join(
        f"{listed(names)} on {withdrawal.when[:10]}: {withdrawal.why}"
        for withdrawal, names in sorted(by_line.items(), key=lambda item: item[0].line)
    )


def withdraw(
    book: Book,
    asked: Sequence[str],
    who: str,
    why: str,
    *,
    back: bool = False,
    on_wait: Callable[[], None] = lambda: None,
) -> Done:
    """Let sources count no more, or take them back in; a second call does nothing more.

    A source that is asked for by a place, and came from another place too, counts on: the same
    file lies in a folder that nobody called wrong. Any of its places takes it back in.

    Args:
        book: the book, which is locked meanwhile.
        asked: for each, its name, the beginning of its digest (six digits or more), its path or
            that of a folder or an archive, as it was given when it was gathered; name and path may
            have the signs * and ?.
        who: the person who says so, for the journal.
        why: the reason, likewise.
        back: take them back in.
        on_wait: called once when somebody else is writing to the book.

    Raises:
        NotMeant: nothing goes by what was asked for, or it may mean several.
        SweepbookError: the book is damaged or cannot be written to.
    """
    with lock.held(book.lock, on_wait=on_wait):
        contents = store.contents_of(book)
        corrections.finish(book, contents)
        every = known(contents)
        of = _places_meant(asked, every)
        meant = {one.sha256: one for one in every if one.sha256 in of}
        stay = [] if back else list(_others(book, meant.values(), of))
        for one, _ in stay:
            del meant[one.sha256]
        changed = [one for one in meant.values() if (one.withdrawal is None) is not back]
        before = _current(contents)
        if changed:
            body = {
                "program": PROGRAM,
                "sources": [{"sha256": one.sha256, "name": one.name} for one in changed],
                "who": who,
                "why": why,
            }
            event = RETURNED if back else WITHDRAWN
            contents.add(journal.append(book.journal, contents.last, event, body))
        index.write(book, contents)
    after = _current(contents)
    of_changed = {record_id for one in changed for record_id in one.records}
    differ = before.keys() ^ after.keys()
    failing = (one for record_id, one in {**before, **after}.items() if record_id in differ)
    return Done(
        tuple(changed),
        tuple(one for one in meant.values() if (one.withdrawal is None) is back),
        len(differ),
        0 if back else len(of_changed & after.keys()),
        tuple(stay),
        len(after),
        tuple(one.label for one in failing if one.stated in _FAILS),
    )


def _current(contents: Contents) -> dict[str, Listed]:
    return {entry.listed.record_id: entry.listed for entry in contents.entries()}


def _places_meant(asked: Sequence[str], every: Sequence[Known]) -> dict[str, set[str]]:
    """What is meant by all that was asked for, as `_meant`."""
    of: dict[str, set[str]] = {}
    for text in asked:
        for sha256, its in _meant(text, every).items():
            of.setdefault(sha256, set()).update(its)
    return of


def _others(
    book: Book, meant: Iterable[Known], of: Mapping[str, set[str]]
) -> Iterator[tuple[Known, tuple[str, ...]]]:
    """The sources that count and have other places than are meant, outside the book; with them."""
    root = places.whole(book.root)
    for one in meant:
        rest = set(one.came_from) - of[one.sha256]
        rest -= places.lie_below(rest, root)
        if rest and one.withdrawal is None:
            yield one, tuple(sorted(rest))


def _meant(text: str, every: Sequence[Known]) -> dict[str, set[str]]:
    """What somebody means by a name, a path, a pattern or the beginning of a digest.

    Returns:
        Digests of sources, each with those of its places that are meant: by a name or a digest all.

    Raises:
        NotMeant: there is none, or one is meant and there are several.
    """
    named = [one for one in every if text == one.name]
    if not named and _DIGEST.fullmatch(text):
        named = [one for one in every if one.sha256.startswith(text)]
    if len(named) > 1:
        told = "; ".join(_told(one) for one in named[:MOST_NAMED])
        more = f"; and {len(named) - MOST_NAMED} more" if len(named) > MOST_NAMED else ""
        raise NotMeant(
            f"{len(named)} sources of the book go by {text!r}: {told}{more}.",
            "Give the path of the one that is meant, or the beginning of its digest.",
        )
    found = {one.sha256: set(one.came_from) for one in named} or {
        one.sha256: its for one in every if (its := _places(text, one))
    }
    if not found:
        raise NotMeant(
            f"No source of the book goes by {text!r}.",
            "Give a name, a path or a folder as it was gathered, or the beginning of a digest; "
            "without any, `sweepbook withdraw` on the book lists where its sources came from.",
        )
    return found


def _places(text: str, one: Known) -> set[str]:
    """The places of a source that are a path, are below it or fit a pattern; its name has all."""
    if not _PATTERN.search(text):
        return places.lie_below(one.came_from, places.whole(text))
    if fnmatchcase(one.name, text):
        return set(one.came_from)
    return {place for place in one.came_from if fnmatchcase(place, text)}


def _told(one: Known) -> str:
    return f"{one.sha256[:12]} from {' and '.join(one.came_from)}"
