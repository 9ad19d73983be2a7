"""Proving a book: every digest computed anew, and everything that is not as it should be."""

import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from sweepbook import schemas, unfinished
from sweepbook.book import corrections, index, journal, people, prove_files, store
from sweepbook.book.contents import Contents
from sweepbook.book.events import GIVEN, RETURNED, WITHDRAWN
from sweepbook.book.layout import MOST_BYTES, MOST_TABLE, Book, open_book
from sweepbook.book.proof import MOST_TOLD, Fault, Proof, text_of, told_in_part
from sweepbook.corrections import table
from sweepbook.errors import ReadProblem, SweepbookError
from sweepbook.inputs import small_file


def prove(
    folder: Path, proof: Proof, on_file: Callable[[str], None] = lambda _: None
) -> Iterator[Fault]:
    """Compute every digest of a book anew.

    Args:
        folder: the book's folder.
        proof: takes the counts while this runs.
        on_file: called with the place of each file before it is proved.

    Yields:
        The faults in the order of the files, of each file the first ones and how many more there
        are; nothing ends the search.

    Raises:
        NotABook: the folder is no book at all.
    """
    yield from told_in_part(_every(open_book(folder), proof, on_file))


def _every(book: Book, proof: Proof, on_file: Callable[[str], None]) -> Iterator[Fault]:
    schema = schemas.schema("book-0.schema.json")
    yield from _about(book, schema)
    known = Contents()
    yield from _journal(book, schema, known, proof)
    yield from prove_files.records(book, known, proof, on_file)
    yield from prove_files.sources(book, known, proof, on_file)
    yield from prove_files.dialects(book, known, proof)
    yield from _corrections(book, known, proof)
    yield from _people(book)
    yield from _rest(book, known, proof)


def _about(book: Book, schema: dict[str, Any]) -> Iterator[Fault]:
    about = json.loads(small_file(book.root / "book.json", MOST_BYTES))
    for message in _against(schema, about, MOST_TOLD):
        yield Fault("book.json", f"{message} Restore it from a copy.")


def _journal(book: Book, schema: dict[str, Any], known: Contents, proof: Proof) -> Iterator[Fault]:
    """Walk the chain as far as it holds, and add up what it says."""
    shape = line_schema(schema)
    follows, described = schemas.quick(shape), 0
    try:
        for line in journal.read(book.journal):
            if not follows(line.body):  # to say why takes a thousand times as long
                said = _against(shape, line.body, MOST_TOLD - described) or ["It has no such form."]
                described += len(said)
                yield from (Fault(f"journal.jsonl, line {line.number}", text) for text in said)
            known.add(line)
            yield from _of_no_source(known, line)
            proof.lines, proof.head = line.number, line.digest
        store.held_against(book, known)
    except SweepbookError as error:
        yield Fault("journal.jsonl", f"{error.message} {error.todo}", always=True)
        return
    proof.whole = True
    if left := journal.cut_off(book.journal):
        yield Fault(
            f"journal.jsonl, line {proof.lines + 1}",
            f"Only {left} bytes of it are there: a program was stopped while it wrote, or the file "
            "was cut. Restore the journal from a copy, or gather again what no line tells of.",
            always=True,
        )
    else:
        yield from _cut_back(book, known)


def _of_no_source(known: Contents, line: journal.Line) -> Iterator[Fault]:
    """What a line withdraws, takes back in or found elsewhere, and no line before it tells of.

    Args:
        known: what was added up, the line itself included, which is of its form therefore.
        line: the line.
    """
    if line.event not in (WITHDRAWN, RETURNED, GIVEN):
        return
    about = {source["sha256"] for source in line.body["sources"]}
    for sha256 in sorted(one for one in about if not known.has(one)):
        message = f"It is about the source {sha256}, and no line before it tells of that."
        yield Fault(f"journal.jsonl, line {line.number}", message)


def line_schema(schema: dict[str, Any]) -> dict[str, Any]:
    """The schema of a line of the journal, out of that of a book."""
    shape = {**schema, "$id": "urn:sweepbook:book-0:line", "$ref": "#/$defs/line"}
    for member in ("type", "properties", "required", "additionalProperties"):
        del shape[member]
    return shape


def _cut_back(book: Book, known: Contents) -> Iterator[Fault]:
    """Whole lines that were cut off."""
    if said := index.cut_back(book, known):
        yield Fault(book.journal.name, said, always=True)


def _corrections(book: Book, known: Contents, proof: Proof) -> Iterator[Fault]:
    """Hold the table of corrections against the journal: people may write into it themselves."""
    place = book.corrections.name
    try:
        raw = small_file(book.corrections, MOST_TABLE) if book.corrections.exists() else None
    except OSError as error:
        yield Fault(place, f"It cannot be read: {error.strerror or error}.")
        return
    whole = corrections.finished(raw, known)
    if whole != raw:
        yield Fault(place, corrections.STOPPED, False)
    held = [] if whole is None else list(table.parse(whole))
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
            message = (
                "The journal does not tell of it: somebody wrote it by hand. `sweepbook correct` "
                "without LABEL says whether it is in use."
            )
            yield Fault(f"{place}, line {item.line}", message, False)


def _people(book: Book) -> Iterator[Fault]:
    """Lines of the names of people that cannot be used; no evidence rests on them."""
    try:
        problems = people.load(book).problems
    except SweepbookError as error:
        yield Fault(book.people.name, f"{error.message} {error.todo}", False)
        return
    for problem in problems:
        yield Fault(f"{book.people.name}, {problem.place}", problem.message, False)


def _rest(book: Book, known: Contents, proof: Proof) -> Iterator[Fault]:
    """Links to elsewhere, what a killed program left, and an index that the journal contradicts."""
    everything = sorted(book.root.rglob("*"))
    for path in everything:
        if path.is_symlink():
            place = path.relative_to(book.root).as_posix()
            yield Fault(
                place,
                "It is a symbolic link, and a book has to be whole by itself: put "
                "what it leads to in its place.",
            )
    for path in filter(unfinished.is_left, everything):
        place = path.relative_to(book.root).as_posix()
        yield Fault(place, "A program that was stopped left it; you may delete it.", False)
    if proof.whole and known.last is not None and text_of(book.index) != index.text(known):
        message = "It does not say what the journal says; the next gather makes it anew."
        yield Fault(book.index.name, message, False)


def _against(schema: dict[str, Any], value: object, most: int) -> list[str]:
    """Where a value does not follow a schema, in words; so many places at most."""
    found = schemas.first_errors(value, schema, most) if most > 0 else []
    return [f"{error.json_path}: {error.message[:200]}." for error in found]
