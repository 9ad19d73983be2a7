"""Where everything lies in a book, and what a new book starts with."""

import json
import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sweepbook import __version__, files
from sweepbook.book import lock
from sweepbook.clock import now
from sweepbook.errors import SweepbookError
from sweepbook.inputs import is_book, small_file
from sweepbook.text import utf8_safe
from sweepbook.unfinished import is_unfinished

_SCHEMAS = "urn:sweepbook:book-"
SCHEMA = f"{_SCHEMAS}0"
PROGRAM = f"sweepbook {__version__}"
LOCK = ".lock"
"""The file that whoever writes holds locked."""
MOST_BYTES = 1 << 20
"""Of book.json."""
MOST_TABLE = 64 << 20
"""Bytes of a table that people keep in a book."""
MOST_RECORD = 64 << 20
"""Bytes of a record; one of 40 curves of 1,000 points has a quarter of a mebibyte."""
_RECORD_ID = re.compile(r"sb0-([0-9a-f]{2})[0-9a-f]{62}")
_SHA256 = re.compile(r"[0-9a-f]{64}")

README = """\
This folder is a book of cabling test records. It can be read without any program.

book.json      name of the book and when it was begun
records/       one test a file, as text; the file's name is the digest of what was measured and
               stated, so a changed file shows. The same test found twice is one file.
sources/       the testers' export files, byte for byte as they came, once each; the folder's
               name is the SHA-256 of the file
dialects/      the descriptions by which the exports were read
limits/        limit tables of the job's own, where people put some: *.json, see limits-0.md
journal.jsonl  what came in, when, from where and how it was read: one line an event. Each line
               ends in the SHA-256 of its own text before that, and names the digest of the line
               before it. A line may also withdraw sources, with who and why: they and their
               records stay here and count no more
corrections.csv
               what people know better than the testers did: which record and field, from what
               to what, who, when and why. The records themselves stay as they are
project.toml   what the job is (numbers, owner, warranty, what becomes of marginal passes) and
               what it decided for itself: practice figures, rules left out, findings accepted
               with who, when and why. It changes no judgement
people.csv     the names of people by the ids that stand in the records, where somebody put it
               there: id,name. It may be left out of any copy
index.csv      what is current, for people: made anew from the journal, never read back

Nothing that was measured or stated is ever changed after the event. A test that a better
dialect reads otherwise gets a new file; the journal says which is current. Where else the same
test was found, and which limit table its limit's name leads to, is brought up to date in its file.
To prove every digest: sweepbook doctor FOLDER
"""


_MEND = (
    "Restore book.json from a copy of the book. If there is none, put that of another book in its "
    "place and change the name in it: it tells no more than the name and the day it was begun. "
    "Then run `sweepbook doctor` on the book."
)


_MOST_NAMED = 3


class NotABook(SweepbookError):
    """A folder is not a book, or a name inside one is not what it must be."""


@dataclass(frozen=True, slots=True)
class Book:
    """A book's folder and the places in it.

    Attributes:
        root: the folder.
        name: what the job or the book is called.
    """

    root: Path
    name: str

    @property
    def journal(self) -> Path:
        """The journal, one JSON object a line."""
        return self.root / "journal.jsonl"

    @property
    def index(self) -> Path:
        """The index for people."""
        return self.root / "index.csv"

    @property
    def corrections(self) -> Path:
        """What people know better than the testers did, one line a correction."""
        return self.root / "corrections.csv"

    @property
    def people(self) -> Path:
        """The names of people by their ids, where somebody put them there."""
        return self.root / "people.csv"

    @property
    def lock(self) -> Path:
        """The file that whoever writes holds locked."""
        return self.root / LOCK

    def holds_evidence(self) -> bool:
        """Whether a record or a source lies in it, listed or not."""
        places = (*self.root.glob("records/*/*"), *self.root.glob("sources/*/*/*"))
        return any(not is_unfinished(path) for path in places)

    def record(self, record_id: str) -> Path:
        """Where a record lies.

        Raises:
            NotABook: the id is none; it may have come from a damaged journal.
        """
        found = _RECORD_ID.fullmatch(record_id)
        if not found:
            raise _wrong_name("record id", record_id)
        return self.root / "records" / found.group(1) / f"{record_id}.json"

    def source_folder(self, sha256: str) -> Path:
        """The folder that holds the one file with this digest.

        Raises:
            NotABook: the digest is none; it may have come from a damaged journal.
        """
        return self.root / "sources" / _checked(sha256)[:2] / sha256

    def dialect(self, sha256: str) -> Path:
        """Where a dialect as used lies.

        Raises:
            NotABook: the digest is none; it may have come from a damaged journal.
        """
        return self.root / "dialects" / f"{_checked(sha256)}.toml"


def kept_source(book: Book, sha256: str) -> Path | None:
    """The file with this digest, under the name it came with; None where the book has none.

    Raises:
        NotABook: the digest is none.
    """
    kept = [path for path in book.source_folder(sha256).glob("*") if not is_unfinished(path)]
    return min(kept, default=None)


def limit_files(folder: Path) -> list[Path]:
    """The limit tables that people put into a book, by name."""
    return sorted((folder / "limits").glob("*.json"))


def open_book(folder: Path) -> Book:
    """Open an existing book.

    Raises:
        NotABook: there is no book.json, or it is of another schema or damaged.
    """
    shown = utf8_safe(str(folder))
    try:
        about: Any = json.loads(small_file(folder / "book.json", MOST_BYTES))
    except (FileNotFoundError, NotADirectoryError) as error:
        if folder.is_file():
            raise NotABook(
                f"{shown} is a file, and a book is a folder.",
                "Give the folder that `sweepbook gather` made.",
            ) from error
        if is_book(folder):
            raise NotABook(f"The book {shown} has lost its book.json.", _MEND) from error
        raise NotABook(
            f"{shown} is not a book: it has no book.json.",
            _inside(folder) or "Give the folder that `sweepbook gather` made.",
        ) from error
    except OSError as error:
        raise NotABook(
            f"{shown}: book.json cannot be read: {error.strerror or error}.",
            "Check that you may read what is in the folder.",
        ) from error
    except (ValueError, RecursionError) as error:
        raise NotABook(f"{shown}: book.json is damaged, it is no JSON.", _MEND) from error
    named = about.get("schema") if isinstance(about, dict) else None
    if not (isinstance(named, str) and named.startswith(_SCHEMAS)):
        raise NotABook(f"{shown}: book.json is not about a book, or damaged.", _MEND)
    if named != SCHEMA:
        raise NotABook(
            f"{shown}: book.json names the schema {named!r}, and sweepbook {__version__} "
            f"reads {SCHEMA}.",
            "Use the version of sweepbook that made this book, or a newer one.",
        )
    return Book(folder, str(about.get("name", folder.name)))


def _inside(folder: Path) -> str:
    """Which books lie in a folder that is none, in words; "" where none does."""
    try:
        books = sorted(path for path in folder.iterdir() if is_book(path))
    except OSError:
        return ""
    named = " or ".join(utf8_safe(str(book)) for book in books[:_MOST_NAMED])
    return f"Give the book that lies in it: {named}." if books else ""


def open_or_begin(
    folder: Path, name: str | None = None, on_wait: Callable[[], None] = lambda: None
) -> Book:
    """Open a book, or begin one in a folder that is empty or not there yet.

    Args:
        folder: the book's folder.
        name: what to call a new book; by default as the folder is called.
        on_wait: called once when somebody else is beginning it.

    Raises:
        NotABook: the folder holds other things, or a book that cannot be opened.
        SweepbookError: the folder cannot be written to.
    """
    if folder.exists() and not folder.is_dir():
        raise NotABook(f"{utf8_safe(str(folder))} is a file.", "Give a folder for the book.")
    others = folder.is_dir() and any(not _is_trace(entry) for entry in folder.iterdir())
    if _is_begun(folder):  # looked at last: somebody else may begin it in this moment
        return open_book(folder)
    if others:
        raise NotABook(
            f"{utf8_safe(str(folder))} holds files but no book.json, so it is not a book.",
            "Give the book first and the exports after it; for a new book, a new folder.",
        )
    with lock.held(folder / LOCK, on_wait=on_wait):
        if not _is_begun(folder):
            _begin(folder, utf8_safe(name or folder.resolve().name))
    return open_book(folder)


def _is_begun(folder: Path) -> bool:
    return (folder / "book.json").exists() or is_book(folder)


def _begin(folder: Path, called: str) -> None:
    """Write what a new book starts with, while nobody else does."""
    about = {
        "schema": SCHEMA,
        "name": called,
        "created": now(),
        "program": {"name": "sweepbook", "version": __version__},
    }
    files.write_bytes(folder / "README.txt", README.encode(), folder)
    text = json.dumps(about, ensure_ascii=False, indent=2) + "\n"
    files.write_bytes(folder / "book.json", text.encode(), folder)


def _is_trace(entry: Path) -> bool:
    """Whether this is what a beginning that was cut off leaves behind."""
    return entry.name in ("README.txt", LOCK) or is_unfinished(entry)


def _checked(sha256: str) -> str:
    if not _SHA256.fullmatch(sha256):
        raise _wrong_name("digest", sha256)
    return sha256


def _wrong_name(what: str, found: str) -> NotABook:
    return NotABook(
        f"{found[:80]!r} is no {what}.",
        "Run `sweepbook doctor` on the book: its journal may be damaged.",
    )
