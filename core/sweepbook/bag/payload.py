"""What goes into a bag: the book, what its tests are judged by, and the specifications."""

import json
import os
import shutil
from collections.abc import Callable
from contextlib import nullcontext
from dataclasses import asdict, replace
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import Any

from sweepbook.audit.context import Context
from sweepbook.bag import layout
from sweepbook.bag.digests import files_below
from sweepbook.book import corrections, lock, store
from sweepbook.book.layout import Book
from sweepbook.book.proof import Proof
from sweepbook.book.prove import prove
from sweepbook.errors import SweepbookError
from sweepbook.rules.catalogue import built_in_entries
from sweepbook.text import utf8_safe
from sweepbook.unfinished import is_unfinished

_NOT_HERE = ("as-built-", "comparison-", "retests-", "testers-", "trial-")
"""Beginnings of the names of schemas of what a bag does not hold."""
_MOST_NAMED = 3


def copy_book(
    book: Book,
    root: Path,
    on_file: Callable[[str], None] = lambda _: None,
    on_wait: Callable[[], None] = lambda: None,
    *,
    without_people: bool = False,
) -> None:
    """Copy a book into a bag, while nobody writes to it, prove the copy, and finish it.

    Args:
        book: the book.
        root: the bag's folder.
        on_file: called with the place of each file.
        on_wait: called once when somebody is writing to the book.
        without_people: whether the names of people stay behind.

    Raises:
        SweepbookError: something of the book is damaged or missing, is a link, has a name that no
            manifest can hold, or cannot be read.
    """
    left = {book.lock, *([book.people] if without_people else [])}
    writable = os.access(book.root, os.W_OK)
    with lock.held(book.lock, on_wait=on_wait) if writable else nullcontext():
        for place, file in sorted(files_below(book.root)):
            if file not in left and not is_unfinished(file):
                on_file(place)
                _copy(file, place, root / layout.BOOK / place)
    (root / layout.BOOK).mkdir(parents=True, exist_ok=True)
    faults = [fault for fault in prove(root / layout.BOOK, Proof(), on_file) if fault.damage]
    if faults:
        named = " ".join(f"{fault.place}: {fault.message}" for fault in faults[:_MOST_NAMED])
        more = f" And {len(faults) - _MOST_NAMED} more." if len(faults) > _MOST_NAMED else ""
        raise SweepbookError(
            f"The book {utf8_safe(str(book.root))} is damaged, and no bag was made. {named}{more}",
            "Mend what `sweepbook doctor` on the book lists, then make the bag.",
        )
    copy = replace(book, root=root / layout.BOOK)
    corrections.finish(copy, store.contents_of(copy))


def _copy(file: Path, place: str, target: Path) -> None:
    if file.is_symlink():
        raise SweepbookError(
            f"{utf8_safe(place)} in the book is a link, and a bag has to be whole by itself.",
            "Put what it leads to in its place.",
        )
    if utf8_safe(place) != place:
        raise SweepbookError(
            f"The name of {utf8_safe(place)} in the book is no UTF-8, and no manifest can hold it.",
            "Give the file another name.",
        )
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(file, target)
    except OSError as error:
        raise SweepbookError(
            f"{utf8_safe(place)} in the book cannot be copied: {error.strerror or error}.",
            "Check that you may read the book, and that the disk has room for a copy of it.",
        ) from error


def write_judged_by(context: Context, project: Path | None, root: Path) -> None:
    """Write what the tests are judged by: limit tables, readings, figures, rules, decisions.

    Args:
        context: what they are judged by.
        project: the project file in force, None where there is none.
        root: the bag's folder.

    Raises:
        OSError: it cannot be written.
    """
    for path, raw in context.library.files.items():
        _write(root / layout.LIMITS / f"{path}.json", raw)
    for entry in _data():
        if entry.name.endswith(".json") and not entry.name.endswith(".schema.json"):
            _write(root / layout.JUDGED_BY / entry.name, entry.read_bytes())
    if contributed := _contributed(context):
        text = json.dumps({"rules": contributed}, ensure_ascii=False, indent=2) + "\n"
        _write(root / layout.CONTRIBUTED, text.encode())
    if project is not None:
        _write(root / layout.PROJECT, project.read_bytes())


def _contributed(context: Context) -> list[dict[str, Any]]:
    """What plugins say of their rules, as the catalogue says it of its own."""
    own = {entry.id for entry in built_in_entries()}
    entries = [entry for entry in context.catalogue.entries if entry.id not in own]
    return [{**asdict(entry), "severity": entry.severity.value} for entry in entries]


def write_specifications(root: Path) -> None:
    """Write the specifications and schemas of what lies in a bag.

    Raises:
        OSError: it cannot be written.
    """
    for entry in _data():
        if entry.name.endswith((".schema.json", ".md")):
            _write(root / layout.SPECIFICATIONS / entry.name, entry.read_bytes())


def _data() -> list[Traversable]:
    """Files of the schemas' package that are about what a bag holds."""
    found = files("sweepbook_schemas").iterdir()
    return [file for file in found if file.is_file() and not file.name.startswith(_NOT_HERE)]


def _write(target: Path, raw: bytes) -> None:
    target.parent.mkdir(parents=True, exist_ok=True)
    target.write_bytes(raw)
