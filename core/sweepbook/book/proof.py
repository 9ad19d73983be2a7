"""What proving a book comes to: faults with their places, and what was looked at."""

import hashlib
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from sweepbook.book.layout import MOST_TABLE
from sweepbook.inputs import check_regular, small_file

MOST_TOLD = 200
"""Faults of one file that are told: so many show what happened to it."""


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing in a book that is not as it should be.

    Attributes:
        place: file below the book's folder.
        message: what is wrong and what to do.
        damage: True where evidence is wrong or missing or a limit table is faulty; False for a
            trace of an interrupted run and the like, which the next `gather` mends or leaves alone.
        count: how many it stands for.
        always: whether it is told however many there are: the proof of a file ends with it.
    """

    place: str
    message: str
    damage: bool = True
    count: int = 1
    always: bool = False


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


def told_in_part(faults: Iterable[Fault]) -> Iterator[Fault]:
    """The first faults of each file and those always told, then how many more there are of it."""
    told: Counter[str] = Counter()
    more: Counter[tuple[str, bool]] = Counter()
    for fault in faults:
        file = fault.place.partition(",")[0]
        told[file] += fault.count
        if fault.always or told[file] <= MOST_TOLD:
            yield fault
        else:
            more[file, fault.damage] += fault.count
    for (file, damage), count in more.items():
        said = f"{count} more of its lines or parts are not as they should be, and are not listed."
        yield Fault(file, said, damage, count)


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
