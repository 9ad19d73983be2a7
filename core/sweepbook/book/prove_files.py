"""Proving the files of a book: each record, source and dialect against its digest."""

from collections.abc import Callable, Iterator
from pathlib import Path

from sweepbook.book import store
from sweepbook.book.contents import Contents
from sweepbook.book.layout import Book
from sweepbook.book.proof import Fault, Proof, digest_of
from sweepbook.errors import SweepbookError
from sweepbook.record import validate
from sweepbook.unfinished import is_unfinished

GONE = "is missing. Restore it from a copy."
GONE_OR_AGAIN = "It is missing. Restore it from a copy, or gather its source with --again."
BESIDE = (
    "Its digest is not the journal's, though the evidence in it is: its origin, or the table that "
    "its limit leads to, was changed by hand, or a program was stopped while it wrote. Restore it "
    "from a copy, or gather its source with --again."
)


def records(
    book: Book, known: Contents, proof: Proof, on_file: Callable[[str], None]
) -> Iterator[Fault]:
    """Each record against its id, its schema and the journal, and those that are not there."""
    found = set()
    for path in sorted((book.root / "records").glob("*/*")):
        place = path.relative_to(book.root).as_posix()
        if is_unfinished(path):
            continue
        on_file(place)
        found.add(path.stem)
        try:
            record = store.load(book, path.stem)
            if path != book.record(path.stem):
                yield Fault(place, "It lies in the wrong folder. Put it where its name says.")
        except SweepbookError as error:
            yield Fault(place, f"{error.message} {error.todo}")
            continue
        proof.records += 1
        problems = validate.problems(record.document)
        for problem in problems:
            yield Fault(place, f"{problem.path}: {problem.message}")
        if path.stem not in known.file_sha256:
            if proof.whole:
                todo = "No line of the journal lists it; gather its source again."
                yield Fault(place, todo, False)
        elif not problems and digest_of(path) != known.file_sha256[path.stem]:
            came_from = {origin["sha256"] for origin in record.document["origin"]}
            yield Fault(place, BESIDE, damage=came_from <= known.sources())
    for record_id in sorted(set(known.file_sha256) - found):
        place = f"records/{record_id[4:6]}/{record_id}.json"
        yield Fault(place, _unreachable(book.root / place) or GONE_OR_AGAIN)


def sources(
    book: Book, known: Contents, proof: Proof, on_file: Callable[[str], None]
) -> Iterator[Fault]:
    """Each source file against its digest, and those that are not there."""
    found = set()
    for path in sorted((book.root / "sources").glob("*/*/*")):
        place = path.relative_to(book.root).as_posix()
        if is_unfinished(path):
            continue
        on_file(place)
        digest, folder = digest_of(path), path.parent.name
        found.add(folder)
        if digest != folder:
            yield Fault(place, f"Its digest is {digest}: it was changed. Restore it from a copy.")
            continue
        proof.sources += 1
        if digest not in known.sources() and proof.whole:
            yield Fault(place, "No line of the journal tells of it; gather it again.", False)
        if told := known.withdrawn.get(digest):
            why = f"It is withdrawn and counts no more ({told.who}, {told.when}: {told.why})."
            yield Fault(place, why, False)
    for sha256 in sorted(known.sources() - found):
        name = known.readings_of(sha256)[0][1].name
        place = f"sources/{sha256[:2]}/{sha256}"
        yield Fault(place, _unreachable(book.root / place / name) or f"{name} {GONE}")


def dialects(book: Book, known: Contents, proof: Proof) -> Iterator[Fault]:
    """Each dialect against its digest, and those that are not there."""
    used = {reading.way.dialect_sha256 for _, reading in known.latest.values()} - {""}
    found = set()
    for path in sorted((book.root / "dialects").glob("*.toml")):
        found.add(path.stem)
        if digest_of(path) != path.stem:
            place = path.relative_to(book.root).as_posix()
            yield Fault(place, "It was changed. Restore it from a copy.")
        else:
            proof.dialects += 1
    for sha256 in sorted(used - found):
        place = f"dialects/{sha256}.toml"
        yield Fault(place, _unreachable(book.root / place) or f"It {GONE}")


def _unreachable(path: Path) -> str:
    """What is told of a file that was not found and may be there, where nobody may look."""
    try:
        path.stat()
    except PermissionError as error:
        return f"It cannot be reached: {error.strerror}. Check that you may read the whole book."
    except OSError:
        pass
    return ""
