"""What proving a book comes to: faults with their places, and what was looked at."""

import hashlib
from dataclasses import dataclass
from pathlib import Path

from sweepbook.book.layout import MOST_TABLE
from sweepbook.inputs import check_regular, small_file


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


def digest_of(path: Path) -> str:
    """SHA-256 of a file; of nothing where it cannot be read."""
    try:
        check_regular(path)
        with path.open("rb") as stream:
            return hashlib.file_digest(stream, "sha256").hexdigest()
    except OSError as error:
        return f"not to be had ({error.strerror or error})"


def text_of(path: Path) -> str:
    """What is written in a file; nothing where it is not there or cannot be read."""
    try:
        return small_file(path, MOST_TABLE).decode("utf-8", "backslashreplace")
    except OSError:
        return ""
