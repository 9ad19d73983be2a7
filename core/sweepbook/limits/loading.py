"""Reading many limit tables, some of them based on others, in whatever order they come."""

import hashlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path
from types import MappingProxyType

from sweepbook.errors import SweepbookError
from sweepbook.inputs import bytes_of, what_to_do
from sweepbook.limits.basing import Document
from sweepbook.limits.build import build
from sweepbook.limits.load import completed, parse
from sweepbook.limits.model import LimitTable
from sweepbook.limits.names import name_letters

MOST_BYTES = 1 << 20
"""Of one limit table; the largest that comes with the program has a hundredth of it."""

_NO_TABLES: Mapping[str, LimitTable] = MappingProxyType({})
_NO_DOCUMENTS: Mapping[str, Document] = MappingProxyType({})
_NO_FILES: Mapping[str, bytes] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Source:
    """A file of one limit table; trusted where it comes with the program."""

    file: Traversable
    trusted: bool = False


@dataclass(frozen=True, slots=True)
class Loaded:
    """Limit tables by path, in three forms.

    Attributes:
        tables: for judging.
        documents: the same as whole documents, for a table to be based on.
        files: the bytes of their files, as they came.
    """

    tables: Mapping[str, LimitTable] = field(default_factory=lambda: _NO_TABLES)
    documents: Mapping[str, Document] = field(default_factory=lambda: _NO_DOCUMENTS)
    files: Mapping[str, bytes] = field(default_factory=lambda: _NO_FILES)


@dataclass(frozen=True, slots=True)
class _Waiting:
    """A file read and not yet made whole."""

    name: str
    document: Document
    raw: bytes
    trusted: bool

    @property
    def base(self) -> str | None:
        """Path of the table it is based on; what a broken file gives there is told later."""
        base = self.document.get("based_on")
        return base if isinstance(base, str) else None


def load_all(sources: Iterable[Source], known: Loaded | None = None) -> Loaded:
    """Read limit tables; one that is based on another is read after it.

    Args:
        sources: the files.
        known: tables that are there already.

    Returns:
        The tables in the order of their paths, those already there included.

    Raises:
        LimitFault: a file is no usable limit table.
        SweepbookError: two files give the same path, or a file cannot be read.
    """
    known = known or Loaded()
    tables, documents, raw = dict(known.tables), dict(known.documents), dict(known.files)
    waiting = [_opened(source) for source in sources]
    while waiting:
        ready = [item for item in waiting if item.base is None or item.base in documents]
        # Where none is ready, a base is not there or a circle is closed: the first one says so.
        for item in ready or waiting[:1]:
            document = completed(item.document, item.name, item.trusted, documents)
            path: str = document["path"]
            if path in tables:
                raise SweepbookError(
                    f"{item.name} gives the path {path}, which another table has.",
                    "Give it a path of its own.",
                )
            made = build(document, hashlib.sha256(item.raw).hexdigest())
            _refuse_title(made, item, tables)
            tables[path], documents[path], raw[path] = made, document, item.raw
        waiting = [item for item in waiting if item not in ready]
    return Loaded(dict(sorted(tables.items())), documents, raw)


def _refuse_title(made: LimitTable, item: _Waiting, tables: Mapping[str, LimitTable]) -> None:
    """Own limits under the title of a standard's: whoever reads a report would be misled."""
    title = name_letters(made.title)
    alike = [one.path for one in tables.values() if name_letters(one.title) == title]
    shipped = files("sweepbook_schemas").joinpath("limits")
    for path in alike:
        if not item.trusted and shipped.joinpath(*f"{path}.json".split("/")).is_file():
            raise SweepbookError(
                f"{item.name} has the title {made.title!r}, which is that of {path}.",
                "Give it a title of its own, such as that of the contract.",
            )


def _opened(source: Source) -> _Waiting:
    name = str(source.file) if isinstance(source.file, Path) else source.file.name
    try:
        raw = bytes_of(source.file, MOST_BYTES)
    except OSError as error:
        raise SweepbookError(
            f"{name} cannot be read: {error.strerror or error}.",
            what_to_do(error, "Name a file with one limit table."),
        ) from error
    if len(raw) > MOST_BYTES:
        raise SweepbookError(
            f"{name} is larger than {MOST_BYTES >> 20} MiB, and no limit table is.",
            "Name a file with one limit table.",
        )
    document = parse(raw, name, trusted=source.trusted)
    return _Waiting(name, document, raw, source.trusted)


def json_files(folder: Traversable) -> Iterator[Traversable]:
    """Every *.json of a folder and those below it, by name; none where there is no folder."""
    if not folder.is_dir():
        return
    for entry in sorted(folder.iterdir(), key=lambda item: item.name):
        if entry.is_dir():
            yield from json_files(entry)
        elif entry.name.endswith(".json"):
            yield entry
