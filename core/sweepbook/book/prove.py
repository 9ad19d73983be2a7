"""Proving a book: every digest computed anew, and everything that is not as it should be."""

import hashlib
import json
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sweepbook import schemas
from sweepbook.book import index, journal, store
from sweepbook.book.contents import Contents
from sweepbook.book.layout import Book, is_leftover, open_book
from sweepbook.corrections import table
from sweepbook.errors import ReadProblem, SweepbookError
from sweepbook.record import validate

BESIDE = (
    "Its digest is not the journal's, though the evidence in it is: its origin, or the table that "
    "its limit leads to, was changed by hand, or a program was stopped while it wrote. Restore it "
    "from a copy, or gather its source with --again."
)


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing in a book that is not as it should be.

    Attributes:
        place: file below the book's folder.
        message: what is wrong and what to do.
        damage: True where evidence is wrong or missing or a limit table is faulty; False for a
            trace of an interrupted run and the like, which the next `gather` mends or leaves alone.
    """

    place: str
    message: str
    damage: bool = True


@dataclass
class Proof:
    """What was looked at.

    Attributes:
        lines: lines of the journal that were proved.
        head: digest of the last of them: noted elsewhere, it proves the whole journal later.
        whole: whether the journal holds to its end, so that a file it does not list is unlisted.
        records, sources, dialects: files that were proved.
    """

    lines: int = 0
    head: str = ""
    whole: bool = False
    records: int = 0
    sources: int = 0
    dialects: int = 0


def prove(
    folder: Path, proof: Proof, on_file: Callable[[str], None] = lambda _: None
) -> Iterator[Fault]:
    """Compute every digest of a book anew.

    Args:
        folder: the book's folder.
        proof: takes the counts while this runs.
        on_file: called with the place of each file before it is proved.

    Yields:
        Every fault, in the order of the files; nothing ends the search.

    Raises:
        NotABook: the folder is no book at all.
    """
    book = open_book(folder)
    schema = schemas.schema("book-0.schema.json")
    yield from _about(book, schema)
    known = Contents()
    yield from _journal(book, schema, known, proof)
    yield from _records(book, known, proof, on_file)
    yield from _sources(book, known, proof, on_file)
    yield from _dialects(book, known, proof)
    yield from _corrections(book, known, proof)
    yield from _rest(book, known, proof)


def _about(book: Book, schema: dict[str, Any]) -> Iterator[Fault]:
    about = json.loads((book.root / "book.json").read_bytes())
    for message in _against(schema, about):
        yield Fault("book.json", f"{message} Restore it from a copy.")


def _journal(book: Book, schema: dict[str, Any], known: Contents, proof: Proof) -> Iterator[Fault]:
    """Walk the chain as far as it holds, and add up what it says."""
    shape = {**schema, "$id": "urn:sweepbook:book-0:line", "$ref": "#/$defs/line"}
    for member in ("type", "properties", "required", "additionalProperties"):
        del shape[member]
    try:
        for line in journal.read(book.journal):
            for message in _against(shape, line.body):
                yield Fault(f"journal.jsonl, line {line.number}", f"{message}")
            known.add(line)
            proof.lines, proof.head = line.number, line.digest
        store.held_against(book, known)
    except SweepbookError as error:
        yield Fault("journal.jsonl", f"{error.message} {error.todo}")
        return
    proof.whole = True
    if left := journal.cut_off(book.journal):
        yield Fault(
            f"journal.jsonl, line {proof.lines + 1}",
            f"Only {left} bytes of it are there: a program was stopped while it wrote, or the file "
            "was cut. Restore the journal from a copy, or gather again what no line tells of.",
        )
    else:
        yield from _cut_back(book, known)


def _cut_back(book: Book, known: Contents) -> Iterator[Fault]:
    """Whole lines that were cut off: the index is written after them and never before."""
    ahead = index.record_ids(_text(book.index)) - known.file_sha256.keys()
    if ahead:
        yield Fault(
            "journal.jsonl",
            f"Lines are missing at its end: index.csv has {len(ahead)} of the records that no line "
            "tells of. Restore it from a copy, or gather again what no line tells of.",
        )


def _records(
    book: Book, known: Contents, proof: Proof, on_file: Callable[[str], None]
) -> Iterator[Fault]:
    found = set()
    for path in sorted((book.root / "records").glob("*/*")):
        place = path.relative_to(book.root).as_posix()
        if is_leftover(path):
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
        elif not problems and _digest(path) != known.file_sha256[path.stem]:
            sources = {origin["sha256"] for origin in record.document["origin"]}
            yield Fault(place, BESIDE, damage=sources <= known.latest.keys())
    for record_id in sorted(set(known.file_sha256) - found):
        yield Fault(
            f"records/{record_id[4:6]}/{record_id}.json",
            "It is missing. Restore it from a copy, or gather its source with --again.",
        )


def _sources(
    book: Book, known: Contents, proof: Proof, on_file: Callable[[str], None]
) -> Iterator[Fault]:
    found = set()
    for path in sorted((book.root / "sources").glob("*/*/*")):
        place = path.relative_to(book.root).as_posix()
        if is_leftover(path):
            continue
        on_file(place)
        digest, folder = _digest(path), path.parent.name
        found.add(folder)
        if digest != folder:
            yield Fault(place, f"Its digest is {digest}: it was changed. Restore it from a copy.")
            continue
        proof.sources += 1
        if digest not in known.latest and proof.whole:
            yield Fault(place, "No line of the journal tells of it; gather it again.", False)
    for sha256 in sorted(set(known.latest) - found):
        name = known.latest[sha256][1].name
        yield Fault(f"sources/{sha256[:2]}/{sha256}", f"{name} is missing. Restore it from a copy.")


def _dialects(book: Book, known: Contents, proof: Proof) -> Iterator[Fault]:
    used = {reading.way.dialect_sha256 for _, reading in known.latest.values()} - {""}
    found = set()
    for path in sorted((book.root / "dialects").glob("*.toml")):
        found.add(path.stem)
        if _digest(path) != path.stem:
            place = path.relative_to(book.root).as_posix()
            yield Fault(place, "It was changed. Restore it from a copy.")
        else:
            proof.dialects += 1
    for sha256 in sorted(used - found):
        yield Fault(f"dialects/{sha256}.toml", "It is missing. Restore it from a copy.")


def _corrections(book: Book, known: Contents, proof: Proof) -> Iterator[Fault]:
    """Hold the table of corrections against the journal: people may write into it themselves."""
    place = book.corrections.name
    try:
        held = list(table.parse(book.corrections.read_bytes())) if book.corrections.exists() else []
    except OSError as error:
        yield Fault(place, f"It cannot be read: {error.strerror or error}.")
        return
    there = [table.texts(item) for item in held if not isinstance(item, ReadProblem)]
    entered = [dict(texts) for _, texts in known.corrections]
    for number, texts in known.corrections:
        if dict(texts) not in there:
            yield Fault(
                place,
                f"The correction that line {number} of the journal tells of is not in it. Restore "
                "it from a copy, or enter the correction again.",
            )
    for item in held:
        if isinstance(item, ReadProblem):
            yield Fault(f"{place}, {item.place}", item.message, False)
        elif proof.whole and table.texts(item) not in entered:
            message = "Somebody wrote it by hand: the journal does not tell of it."
            yield Fault(f"{place}, line {item.line}", message, False)


def _rest(book: Book, known: Contents, proof: Proof) -> Iterator[Fault]:
    """What a killed program left, and an index that is not what the journal adds up to."""
    for path in sorted(book.root.rglob(".sweepbook-*.part")):
        place = path.relative_to(book.root).as_posix()
        yield Fault(place, "A program that was stopped left it; you may delete it.", False)
    if proof.whole and known.last is not None and _text(book.index) != index.text(known):
        message = "It does not say what the journal says; the next gather makes it anew."
        yield Fault(book.index.name, message, False)


def _text(path: Path) -> str:
    """What is written in a file; nothing where it is not there or cannot be read."""
    try:
        return path.read_bytes().decode("utf-8", "backslashreplace")
    except OSError:
        return ""


def _digest(path: Path) -> str:
    """SHA-256 of a file; of nothing where it cannot be read."""
    try:
        with path.open("rb") as stream:
            return hashlib.file_digest(stream, "sha256").hexdigest()
    except OSError as error:
        return f"not to be had ({error.strerror or error})"


def _against(schema: dict[str, Any], value: object) -> Iterator[str]:
    """Where a value does not follow a schema, in words."""
    for error in schemas.errors(value, schema):
        yield f"{error.json_path}: {error.message[:200]}."
