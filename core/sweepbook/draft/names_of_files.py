"""What the names of files of curves, one a test, hold that a table of tests holds as well."""

import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from typing import TypeVar

from sweepbook.dialect.paired_names import unpacked
from sweepbook.draft.joins import SHARED
from sweepbook.given import path_of
from sweepbook.source import Source

_PIECE = re.compile(r"[0-9]+|[^\W\d_]+|[\W_]")
_MOST_PIECES = 40

At = TypeVar("At")


def offers(source: Source) -> Iterator[tuple[str, str]]:
    """Each part of a file's name that may tell the test, and the name with {} in its place.

    The name of its folder comes last.
    """
    name = unpacked(source.file_name)
    folder = path_of(source).parent.name
    if "{" in name + folder or "}" in name + folder:
        return
    ends = [0, *(found.end() for found in _PIECE.finditer(name))][: _MOST_PIECES + 1]
    for at, start in enumerate(ends):
        for stop in ends[at + 1 :]:
            yield name[start:stop], f"{name[:start]}{SHARED}{name[stop:]}"
    yield folder, f"{SHARED}/{name}"


def by_form(
    texts: Collection[str], names: Mapping[At, Sequence[tuple[str, str]]]
) -> dict[str, dict[At, str]]:
    """The files whose names hold one of the texts, with that, by the form of their names.

    Args:
        texts: what names may hold.
        names: the offers of each file.
    """
    found: dict[str, dict[At, str]] = {}
    for at, some in names.items():
        for text, form in some:
            if text in texts:
                found.setdefault(form, {})[at] = text
    return found


def with_folder(form: str, files: Sequence[Source], beside: Source) -> str:
    """The form, with the folder of the files where that lies beside another file.

    Args:
        form: of the names of the files.
        files: they.
        beside: the other file.
    """
    folders = {path_of(one).parent for one in files}
    if "/" in form or len(folders) > 1:
        return form
    folder = folders.pop()
    return f"{folder.name}/{form}" if folder.parent == path_of(beside).parent else form
