"""The corrections of a book: entered under its lock, known to its journal, applied on reading."""

import hashlib
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from operator import itemgetter

from sweepbook import files
from sweepbook.book import index, journal, store
from sweepbook.book.contents import Contents, place_of
from sweepbook.book.events import CORRECTED
from sweepbook.book.layout import MOST_TABLE, PROGRAM, Book
from sweepbook.corrections import table
from sweepbook.corrections.apply import apply
from sweepbook.corrections.model import Correction
from sweepbook.errors import ReadProblem, SweepbookError
from sweepbook.inputs import small_file
from sweepbook.record.model import Record

STOPPED = (
    "The correction that the journal tells of last is not in it: a program was stopped before it "
    "put it there, or somebody took it out. It is in use, and the next `sweepbook correct` or "
    "`gather` puts it in; to take it back, correct the field again."
)


@dataclass(frozen=True)
class Corrections:
    """The corrections of a book, by the id of the record that is current now.

    Attributes:
        by_record: in the order of the table.
        at_rest: those of records whose sources are withdrawn.
        problems: lines that cannot be used.
        sha256: of the table; "" where there is none.
    """

    by_record: dict[str, list[Correction]] = field(default_factory=dict)
    at_rest: tuple[Correction, ...] = ()
    problems: tuple[ReadProblem, ...] = ()
    sha256: str = ""

    def of(self, record: Record) -> Record:
        """The record as corrected."""
        return apply(record, self.by_record.get(record.record_id, ()))


@dataclass(frozen=True, slots=True)
class Shelved:
    """A record in its book.

    Attributes:
        record_id: its identity.
        file_sha256: digest of its file, as the journal has it.
        corrections: to be applied to it, in order.
    """

    record_id: str
    file_sha256: str
    corrections: tuple[Correction, ...] = ()


def load(book: Book, contents: Contents) -> Corrections:
    """Read the corrections of a book.

    A correction of a record that was read again since, with another dialect, holds for the record
    that came of that: the one from the same place of the same source.

    Raises:
        SweepbookError: the table is there and cannot be opened.
    """
    raw = _bytes(book)
    whole = finished(raw, contents)
    items = [] if whole is None else list(table.parse(whole))
    current = {entry.listed.record_id for entry in contents.entries()}
    by_record: dict[str, list[Correction]] = {}
    at_rest: list[Correction] = []
    problems = [] if whole == raw else [ReadProblem(table.NAME, "", STOPPED, lost_record=False)]
    problems += _removed(items, contents)
    for item in items:
        if isinstance(item, ReadProblem):
            problems.append(item)
            continue
        record_id = item.record if item.record in current else _successor(book, contents, item)
        if record_id is None:
            message = f"There is no record {item.record[:16]} in this book; nothing was corrected."
            place = f"line {item.line}"
            problems.append(ReadProblem(table.NAME, place, message, lost_record=False))
        elif record_id not in current:
            at_rest.append(replace(item, record=record_id))
        else:
            by_record.setdefault(record_id, []).append(replace(item, record=record_id))
    sha256 = "" if whole is None else _digest(whole)
    return Corrections(by_record, tuple(at_rest), tuple(problems), sha256)


def _removed(
    items: Sequence[Correction | ReadProblem], contents: Contents
) -> Iterator[ReadProblem]:
    """The problem that corrections which the journal tells of are not in the table."""
    there = [table.texts(item) for item in items if isinstance(item, Correction)]
    gone = [number for number, texts in contents.corrections if dict(texts) not in there]
    if gone:
        message = (
            f"Corrections that the journal tells of and that are not in it: {len(gone)}, the first "
            f"in line {gone[0]} of the journal; they were not applied. Restore it from a copy, or "
            "enter them again."
        )
        yield ReadProblem(table.NAME, "", message, lost_record=False)


def records(book: Book, shown: Callable[[str], str] = str) -> Iterator[Record | ReadProblem]:
    """Everything that is current, as corrected; see `store.records`, and `shelved`.

    Raises:
        SweepbookError: the journal or the table of corrections cannot be read.
    """
    for one in shelved(book, shown):
        yield one if isinstance(one, ReadProblem) else taken(book, one)


def shelved(book: Book, shown: Callable[[str], str] = str) -> Iterator[Shelved | ReadProblem]:
    """What `records` gives, where it lies: anybody may take it from there.

    They come in the natural order of their labels as people see them: as corrected, and in the one
    form of the job; those of one label by time.

    Args:
        book: the book.
        shown: brings a label to the one form of the job.

    Raises:
        SweepbookError: the journal or the table of corrections cannot be read.
    """
    contents = store.contents_of(book)
    corrections = load(book, contents)
    if said := index.cut_back(book, contents):
        yield ReadProblem(book.journal.name, "", said)
    yield from corrections.problems
    yield from contents.problems()
    found = []
    for entry in contents.entries():
        record_id, label = entry.listed.record_id, entry.listed.label
        its = tuple(corrections.by_record.get(record_id, ()))
        label = shown(next((c.new for c in reversed(its) if c.field == "link.label"), label))
        one = Shelved(record_id, contents.file_sha256[record_id], its)
        found.append((place_of(entry.listed, label), one))
    yield from (one for _, one in sorted(found, key=itemgetter(0)))


def taken(book: Book, one: Shelved) -> Record | ReadProblem:
    """A record as corrected; one that is missing or damaged gives a problem in its place."""
    item = store.taken(book, one.record_id, one.file_sha256)
    return apply(item, one.corrections) if isinstance(item, Record) else item


def labels(book: Book, contents: Contents) -> dict[str, str]:
    """The label of each current record by its id, as corrected, in the order of the labels.

    Raises:
        SweepbookError: a corrected record is damaged.
    """
    held = load(book, contents).by_record
    entries = contents.entries()
    found = {entry.listed.record_id: entry.listed.label for entry in entries}
    for record_id, its in held.items():
        if any(correction.field == "link.label" for correction in its):
            found[record_id] = apply(store.load(book, record_id), its).label
    order = sorted(place_of(one.listed, found[one.listed.record_id]) for one in entries)
    return {str(place[-1]): found[str(place[-1])] for place in order}


def enter(book: Book, correction: Correction) -> None:
    """Add a correction to the table and to the journal. Call with the book locked.

    What the correction changes has to be read under the same lock: of two people who correct one
    field at once, the second corrects what the first made of it.

    It is entered once the journal tells of it. By then the new table is on the disk, and takes the
    place of the old one after that: where a program is stopped in between, the row is missing, is
    in use all the same (see `finished`), and is put in by the next one that writes (see `finish`).

    Args:
        book: the book.
        correction: what to add; its record is in the book.

    Raises:
        SweepbookError: the book is damaged or cannot be written to.
    """
    contents, texts = store.contents_of(book), table.texts(correction)
    raw = table.with_row(finished(_bytes(book), contents), texts)
    body = {"program": PROGRAM, "correction": texts, "table_sha256": _digest(raw)}
    with files.replaced(book.corrections, book.root) as part:
        part.write_bytes(raw)
        journal.append(book.journal, contents.last, CORRECTED, body)


def finish(book: Book, contents: Contents) -> None:
    """Put into the table what a program was stopped before it put there. Call with the book locked.

    Raises:
        SweepbookError: the book cannot be read or written to.
    """
    raw = _bytes(book)
    whole = finished(raw, contents)
    if whole is not None and whole != raw:
        files.write_bytes(book.corrections, whole, book.root)


def finished(raw: bytes | None, contents: Contents) -> bytes | None:
    """The table with the last correction that the journal tells of, where this alone is missing.

    That is so where the table gets the digest which the journal tells by that row; else somebody
    wrote into it since, and it stays as it is.

    Args:
        raw: the table as it lies in the book; None for none.
        contents: the journal, added up.
    """
    if not contents.corrections or (raw is not None and _digest(raw) == contents.table_sha256):
        return raw
    _, texts = contents.corrections[-1]
    if texts.keys() != set(table.TITLES) or not all(isinstance(of, str) for of in texts.values()):
        return raw
    whole = table.with_row(raw, texts)
    return whole if _digest(whole) == contents.table_sha256 else raw


def _digest(raw: bytes) -> str:
    return hashlib.sha256(raw).hexdigest()


def _bytes(book: Book) -> bytes | None:
    try:
        return small_file(book.corrections, MOST_TABLE)
    except FileNotFoundError:
        return None
    except OSError as error:
        raise SweepbookError(
            f"{book.corrections}: cannot be read: {error.strerror or error}.",
            "Check that you may read the book.",
        ) from error


def _successor(book: Book, contents: Contents, correction: Correction) -> str | None:
    """The record that came last from the place of the corrected one; None for none.

    It counts no more where its source is withdrawn.
    """
    at_rest: str | None = None
    try:
        old = store.load(book, correction.record)
    except SweepbookError:
        return None
    for origin in old.document["origin"]:
        joined = tuple(part["sha256"] for part in origin.get("joined", ()))
        same = contents.current.get((origin["sha256"], joined))
        every = [one for of, one in contents.current.items() if of[0] == origin["sha256"]]
        for reading in [same] if same else every:
            at_place = (one for one in reading.records if one.locator == origin["locator"])
            if listed := next(at_place, None):
                if contents.counts(reading.of):
                    return listed.record_id
                at_rest = at_rest or listed.record_id
    return at_rest
