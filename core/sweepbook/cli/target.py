"""What may be written to: never over files that are read, inside a book, or to the name `-`."""

import os
from collections.abc import Iterable, Sequence
from pathlib import Path
from urllib.parse import unquote, urlsplit

from sweepbook.database_url import IS_URL, DatabaseUrl
from sweepbook.errors import SweepbookError
from sweepbook.formats import Format
from sweepbook.inputs import files_of, is_book
from sweepbook.text import utf8_safe

Target = Path | DatabaseUrl


def target_of(text: str) -> Target:
    """What `-o` names: a path, also one written as `sqlite:///path`, or a database on a server.

    Raises:
        SweepbookError: it looks like a URL and is none that can be used.
    """
    if not IS_URL.match(text):
        return Path(text)
    url = DatabaseUrl(text)
    if url.scheme != "sqlite":
        return url
    parts = urlsplit(text)
    if parts.netloc or parts.query or len(parts.path) < 2:
        raise SweepbookError(
            f"{utf8_safe(str(url))} names no file.",
            "Write sqlite:///file.sqlite, sqlite:////folder/file.sqlite, or the path alone.",
        )
    return Path(unquote(parts.path[1:]))


def refuse_other_kind(writer: Format, target: Target) -> None:
    """Refuse a database on a server for a format that is written to files, or of another kind.

    Raises:
        SweepbookError: it is one.
    """
    if isinstance(target, Path) or target.scheme in writer.url_schemes:
        return
    schemes = ", ".join(f"{scheme}://" for scheme in writer.url_schemes)
    raise SweepbookError(
        f"The format {writer.name} is not written to {target.scheme}://.",
        f"Name a file after -o, or a URL that begins with {schemes}."
        if schemes
        else "Name a file after -o.",
    )


def refuse_evidence(
    target: Path,
    paths: Sequence[Path],
    helpers: Iterable[Path] = (),
    beside: Sequence[str] = (),
    printed: str = "",
) -> None:
    """Refuse to write where what is read would be lost, or a book would be changed.

    A link, a second name of the same file and another spelling of its path are all seen through.

    Args:
        target: the file or folder to be written.
        paths: the books, files and folders that are read.
        helpers: files that the reading rests on, such as dialects and limit tables.
        beside: endings of the names of what the writer writes beside the target.
        printed: how the same is printed.

    Raises:
        SweepbookError: the target, or what is written beside it, is one of them; it is a folder
            that is read or that a file which is read lies in; it lies in a book, or is `-`.
    """
    refuse_place(target, printed)
    if target.is_dir():
        _refuse_folder(target, paths)
        return
    written = [target, *(target.with_name(target.name + ending) for ending in beside)]
    there = [path for path in written if path.is_file()]
    if not there:
        return
    for entry in (*helpers, *files_of(paths)):
        for path in there:
            if isinstance(entry, Path) and _same(entry, path):
                raise SweepbookError(
                    f"{utf8_safe(str(path))} is a file that is being read, and would be "
                    "overwritten.",
                    "Name another file after -o.",
                )


def _refuse_folder(target: Path, paths: Sequence[Path]) -> None:
    """Refuse a folder that is read, or that holds a file that is read."""
    for path in paths:
        if path.is_dir() and _same(path, target):
            raise SweepbookError(
                f"{utf8_safe(str(target))} is a folder that is being read, and what is written "
                "there would be read as an export the next time.",
                "Name another folder after -o.",
            )
    for entry in files_of(paths):
        if isinstance(entry, Path) and _same(entry.parent, target):
            raise SweepbookError(
                f"{utf8_safe(str(entry))}, which is being read, lies in the folder "
                f"{utf8_safe(str(target))}, and files in there may be overwritten.",
                "Name another folder after -o.",
            )


def refuse_place(place: Path, printed: str = "") -> None:
    """Refuse a book, any place inside one, and what would make something called `-`.

    Elsewhere `-` is standard output. Here what is written is a file or a folder, which takes its
    place once it is whole.

    Args:
        place: the file or folder to be written.
        printed: how the same is printed; "" where it is not.

    Raises:
        SweepbookError: it is one of these.
    """
    made = (one for one in place.parents if not os.path.lexists(one))
    if any(one.name == "-" for one in (place, *made)):
        raise SweepbookError(
            f"{utf8_safe(str(place))}: nothing is written to a file or folder called `-`, and not "
            "to standard output either.",
            " ".join(filter(None, ("Name another file or folder.", printed))),
        )
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
