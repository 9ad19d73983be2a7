"""Records on the shelf of a book: put there once, read back proved, in a stable order."""

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sweepbook import files
from sweepbook.book import contents, journal
from sweepbook.book.contents import Contents
from sweepbook.book.events import Listed
from sweepbook.book.layout import MOST_RECORD, Book
from sweepbook.errors import ReadProblem, SweepbookError
from sweepbook.inputs import small_file
from sweepbook.record import codec, identity
from sweepbook.record.model import Record
from sweepbook.text import text_at, utf8_safe

_TELL = "Tell the author of the reader; `sweepbook formats` says which plugin it belongs to."


class DamagedRecord(SweepbookError):
    """A record's file is not there, or not what was written."""


class LostJournal(SweepbookError):
    """A book holds evidence, and its journal has no line that tells of any."""


class NotKept(SweepbookError):
    """A record that a reader gave cannot be told from others or traced to its source."""


@dataclass(frozen=True, slots=True)
class Kept:
    """What became of a record that was put into the book.

    Attributes:
        new: whether the book did not have it before.
        file_sha256: digest of its file as it now is.
    """

    new: bool
    file_sha256: str


def records(book: Book) -> Iterator[Record | ReadProblem]:
    """Everything that is current, by label in natural order and then by time of the test.

    First come the problems that the last reading of each source met, then the records. One that
    is missing or damaged gives a problem in its place. A record that comes out of here is the
    evidence that went in: its file's digest is the journal's, or its identity was computed anew.

    Raises:
        SweepbookError: the journal is damaged or cannot be opened.
    """
    now = contents_of(book)
    yield from now.problems()
    for entry in now.entries():
        yield taken(book, entry.listed.record_id, now.file_sha256[entry.listed.record_id])


def taken(book: Book, record_id: str, file_sha256: str) -> Record | ReadProblem:
    """One record, or the problem in its place where it is missing or damaged; see `load`."""
    try:
        return load(book, record_id, file_sha256)
    except SweepbookError as error:
        return ReadProblem(book.record(record_id).name, "", f"{error.message} {error.todo}")


def load(book: Book, record_id: str, file_sha256: str = "") -> Record:
    """Read one record and prove it.

    The table that its limit leads to stands outside its identity. It counts only in a file that is
    as the journal has it; in any other the limit is what its name means.

    Args:
        book: the book.
        record_id: which one.
        file_sha256: digest of its file as the journal has it; where it does not fit, or is not
            given, the record's identity is computed from what it says.

    Raises:
        DamagedRecord: it is not there, cannot be read, or is not the one of this name.
    """
    path = book.record(record_id)
    raw = _bytes(path, record_id)
    as_written = hashlib.sha256(raw).hexdigest() == file_sha256
    try:
        record = codec.loads(raw, proven_id=record_id if as_written else "")
    except SweepbookError as error:
        raise _damaged(record_id, f"cannot be read: {error.message}") from error
    if record.record_id != record_id:
        raise _damaged(record_id, "calls itself by another id")
    if record.proven_id != record_id and identity.record_id(record.document) != record_id:
        raise _damaged(record_id, "was changed: its digest does not fit what it says")
    return record if as_written or not file_sha256 else record.without_resolved_limit()


def keep(book: Book, record: Record) -> Kept:
    """Put a record into the book; call with the book locked.

    The evidence of a record that is there already is left alone. It gets the origins that it lacks,
    and what this reading makes of its names: a mended dialect may lead them elsewhere.

    Raises:
        DamagedRecord: the book has the record, damaged.
        NotKept: its id does not follow from what it says, or its origin is not stated.
        SweepbookError: the book cannot be written to.
    """
    if identity.record_id(record.document) != record.record_id:
        raise NotKept("A record's id does not follow from what it says.", _TELL)
    if not _has_origin(record.document):
        raise NotKept("A record does not say which file it came from.", _TELL)
    path = book.record(record.record_id)
    if not path.exists():
        return Kept(True, _write(book, record))
    there = load(book, record.record_id)
    renewed = _renewed(there, record)
    if renewed == there:
        return Kept(False, hashlib.sha256(path.read_bytes()).hexdigest())
    return Kept(False, _write(book, renewed))


def listed(record: Record, locator: str, kept: Kept) -> Listed:
    """The record as the journal lists it."""
    overall = ("stated", "overall")
    return Listed(
        record_id=record.record_id,
        locator=locator,
        label=text_at(record.document, "link", "label"),
        limit=text_at(record.document, "test", "limit", "as_stated"),
        stated=text_at(record.document, *overall, "verdict")
        or text_at(record.document, *overall, "as_stated"),
        file_sha256=kept.file_sha256,
        started=text_at(record.document, "test", "started", "as_stated"),
        began=text_at(record.document, "test", "started", "rfc3339"),
    )


def contents_of(book: Book) -> Contents:
    """The book's journal, added up.

    Raises:
        LostJournal: it has no line, though the book holds records or sources.
        SweepbookError: the journal is damaged or cannot be opened.
    """
    found = contents.add_up(journal.read(book.journal))
    held_against(book, found)
    return found


def held_against(book: Book, found: Contents) -> None:
    """Hold what the journal adds up to against the folder.

    Raises:
        LostJournal: it has no line, though the book holds records or sources.
    """
    if found.last is None and book.holds_evidence():
        raise LostJournal(
            f"The journal of the book {utf8_safe(str(book.root))} has no whole line, though tests "
            "lie in the book: which of them are current is lost.",
            f"Restore {book.journal.name} from a copy of the book. If there is none, gather its "
            "folder sources into a new book, with each file of its folder dialects as a --dialect, "
            "and copy corrections.csv into that.",
        )


def _has_origin(document: dict[str, Any]) -> bool:
    origins = document.get("origin")
    names = ("sha256", "name", "locator")
    return isinstance(origins, list) and all(
        isinstance(origin, dict) and all(isinstance(origin.get(name), str) for name in names)
        for origin in origins
    )


def _write(book: Book, record: Record) -> str:
    raw = codec.dumps(record)
    files.write_bytes(book.record(record.record_id), raw, book.root)
    return hashlib.sha256(raw).hexdigest()


def _renewed(there: Record, read: Record) -> Record:
    """The record with the origins of both, and its names as they were resolved last."""
    origins = _merged(there.document["origin"], read.document["origin"])
    document = {**there.document, "origin": origins}
    if there.document.get("resolved") != read.document.get("resolved"):
        for name in ("resolved", "provenance"):
            document.pop(name, None)
            if name in read.document:
                document[name] = read.document[name]
    return Record(document)


def _merged(there: list[dict[str, Any]], more: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """All origins once, in an order that does not depend on which file came first."""
    once = {(o["name"], o["locator"], o["sha256"]): o for o in [*there, *more]}
    return [once[key] for key in sorted(once)]


def _bytes(path: Path, record_id: str) -> bytes:
    try:
        return small_file(path, MOST_RECORD)
    except OSError as error:
        raise _damaged(record_id, f"cannot be opened: {error.strerror or error}") from error


def _damaged(record_id: str, what: str) -> DamagedRecord:
    return DamagedRecord(
        f"Record {record_id[:16]}… {what}.",
        "Restore its file from a copy, or remove it and gather its source with --again; "
        "`sweepbook doctor` on the book lists everything that is damaged.",
    )
