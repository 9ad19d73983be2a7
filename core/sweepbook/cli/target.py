"""What may be written to: never over the files that are read, never inside a book."""

from collections.abc import Iterable, Sequence
from pathlib import Path

from sweepbook.errors import SweepbookError
from sweepbook.inputs import files_of, is_book
from sweepbook.text import utf8_safe


def refuse_evidence(target: Path, paths: Sequence[Path], helpers: Iterable[Path] = ()) -> None:
    """Refuse to write where what is read would be lost, or a book would be changed.

    A link, a second name of the same file and another spelling of its path are all seen through.

    Args:
        target: the file or folder to be written.
        paths: the books, files and folders that are read.
        helpers: files that the reading rests on, such as dialects and limit tables.

    Raises:
        SweepbookError: the target is one of them, is a folder that is read, or lies in a book.
    """
    refuse_book(target)
    shown = utf8_safe(str(target))
    for path in paths:
        if path.is_dir() and _same(path, target):
            raise SweepbookError(
                f"{shown} is a folder that is being read, and what is written there would be read "
                "as an export the next time.",
                "Name another folder after -o.",
            )
    if not target.is_file():
        return
    for entry in (*helpers, *files_of(paths)):
        if isinstance(entry, Path) and _same(entry, target):
            raise SweepbookError(
                f"{shown} is a file that is being read, and would be overwritten.",
                "Name another file after -o.",
            )


def refuse_book(place: Path) -> None:
    """Refuse a book, and any place inside one.

    Raises:
        SweepbookError: it is one, or lies in one.
    """
    whole = place.resolve()
    for folder in (whole, *whole.parents):
        if is_book(folder):
            raise SweepbookError(
                f"{utf8_safe(str(place))} lies in the book {utf8_safe(folder.name)}, which holds "
                "nothing but evidence.",
                "Name a place outside of the book.",
            )


def _same(one: Path, other: Path) -> bool:
    try:
        return one.samefile(other)
    except OSError:
        return False
