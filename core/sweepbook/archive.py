"""ZIP archives of exports: each file in one is a source of its own."""

import io
import lzma
import os
import stat
import struct
import zipfile
import zlib
from collections import Counter
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path, PurePosixPath

from sweepbook.errors import ReadProblem
from sweepbook.inputs import files_of
from sweepbook.source import Bounded, Bounds, Source
from sweepbook.text import natural_key, utf8_safe

MOST_MEMBERS = 10_000
_MAGIC = b"PK\x03\x04"
_BEGINS = (_MAGIC, b"PK\x05\x06", b"PK\x07\x08")
"""An archive with files, one without any, and one that was in parts (APPNOTE.TXT 6.3.10, sections
4.3.7, 4.3.16 and 8.5)."""
_PROGRAM = b"MZ"
"""How a program for Windows begins, such as an archive that unpacks itself."""
_BAD_DIRECTORY = (zipfile.BadZipFile, NotImplementedError, ValueError, struct.error)
"""What the library raises on a directory that is damaged: a name that is not in the encoding which
the archive states (a UnicodeDecodeError is a ValueError), a place before its beginning."""
BAD_DATA = (*_BAD_DIRECTORY, RuntimeError, EOFError, zlib.error, lzma.LZMAError)
_OPENED = 4
_OFFICE = ("[Content_Types].xml", "mimetype", "META-INF/MANIFEST.MF")
"""Files that make an archive a document or a program, which is one thing."""
_ENCRYPTED = 0x1
_UNPACK = "Unpack it yourself and give what comes out."


@dataclass(frozen=True)
class Member(Source):
    """A file in an archive.

    Attributes:
        member: its name in the archive, with folders.
    """

    member: str = ""

    @property
    def name(self) -> str:
        """`archive.zip!folder/file.csv`."""
        return utf8_safe(f"{self.path.name}!{self.member}")

    @property
    def file_name(self) -> str:
        """The name without folders."""
        return PurePosixPath(self.member).name

    @property
    def folder(self) -> Path:
        """A path that all files of one folder of an archive share."""
        return self.path / PurePosixPath(self.member).parent

    @property
    def place(self) -> str:
        """The path of the archive and the name in it."""
        return f"{self.path.resolve()}!{self.member}"

    @contextmanager
    def _raw(self) -> Iterator[tuple[io.BufferedReader, int]]:
        """The bytes as they were put into the archive."""
        try:
            archive = _archive(self.path)
            info = archive.getinfo(self.member)
            opened = archive.open(info)
        except (*BAD_DATA, KeyError) as error:
            raise zipfile.BadZipFile(str(error)) from error
        with opened as inner:
            yield (
                io.BufferedReader(Bounded(inner, self.name, self.bounds, info.compress_size)),
                info.file_size,
            )


def sources_of(
    paths: Iterable[Path], bounds: Bounds | None = None
) -> Iterator[Source | ReadProblem]:
    """Give every file once, in a stable order, those in ZIP archives included.

    Args:
        paths: files and folders, in the order in which their files shall come.
        bounds: how far packed files may expand.

    Yields:
        A source for each file, and a problem for what is named or found and is none.
    """
    bounds = bounds or Bounds()
    for path in files_of(paths):
        if isinstance(path, ReadProblem):
            yield path
        elif _is_archive(path):
            yield from _members(path, bounds)
        else:
            yield Source(path, bounds)


def _is_archive(path: Path) -> bool:
    """Whether a file is an archive, by its first bytes; one that cannot be opened is none.

    One that unpacks itself is a program with an archive behind it, so its end is looked at too.
    """
    try:
        with path.open("rb") as stream:
            begins = stream.read(len(_MAGIC))
        return begins in _BEGINS or (begins.startswith(_PROGRAM) and zipfile.is_zipfile(path))
    except OSError:
        return False


def _archive(path: Path) -> zipfile.ZipFile:
    """An archive with its directory read, which is done once for all its files.

    Raises:
        OSError: it cannot be opened.
        zipfile.BadZipFile, ValueError, NotImplementedError, struct.error: it is damaged.
    """
    stands = path.stat()
    return _opened(path, (stands.st_ino, stands.st_size, stands.st_mtime_ns), os.getpid())


@lru_cache(maxsize=_OPENED)
def _opened(path: Path, version: tuple[int, ...], process: int) -> zipfile.ZipFile:
    """An archive as it stands, for one process; the last few stay open, and close when let go."""
    return zipfile.ZipFile(path)


def _members(path: Path, bounds: Bounds) -> Iterator[Source | ReadProblem]:
    """The files in an archive by name in natural order, as those of a folder are."""
    name = utf8_safe(path.name)
    try:
        infos = _archive(path).infolist()
    except (*_BAD_DIRECTORY, OSError) as error:
        why = f"The archive is damaged or cut off ({str(error).rstrip('.')})."
        yield ReadProblem(name, "", f"{why} Copy it again from where it came from.")
        return
    if any(info.filename in _OFFICE for info in infos):
        yield Source(path, bounds)
        return
    if problem := _too_much(infos, path, bounds):
        yield ReadProblem(name, "", problem)
        return
    shown = [info for info in infos if not info.is_dir() and not _hidden(info.filename)]
    if not shown:
        yield ReadProblem(name, "", "There is no file in this archive. Pack the exports again.")
    count = Counter(info.filename for info in shown)
    named = {info.filename: info for info in shown}
    for member in sorted(named, key=lambda each: (natural_key(each), each)):
        why, todo = _refused(path, named[member]), _UNPACK
        if count[member] > 1:
            why = f"stands {count[member]} times in the archive, so that none of them was read"
            todo = "Pack each under a name of its own."
        if why:
            yield ReadProblem(f"{name}!{utf8_safe(member)}", "", f"The file {why}. {todo}")
        else:
            yield Member(path, bounds, member=member)


def _too_much(infos: list[zipfile.ZipInfo], path: Path, bounds: Bounds) -> str:
    """Why an archive is not looked into; "" if it is."""
    size = sum(info.file_size for info in infos)
    packed = path.stat().st_size
    grown = size > bounds.free_bytes and size > bounds.most_ratio * packed
    if len(infos) > MOST_MEMBERS:
        return f"The archive holds more than {MOST_MEMBERS:,} files. {_UNPACK}"
    if grown or size > bounds.most_bytes:
        return (
            f"The archive would expand to {size >> 20} MiB from {packed} bytes, and was not "
            f"unpacked. If you trust it: {_UNPACK[0].lower()}{_UNPACK[1:]}"
        )
    return ""


def _hidden(name: str) -> bool:
    """Whether a file is hidden, or a note of the packing program beside another one."""
    return any(
        (part.startswith(".") and part not in (".", "..")) or part == "__MACOSX"
        for part in _parts(name)
    )


def unfit(info: zipfile.ZipInfo) -> str:
    """What the directory of an archive says against taking a file out, in words; "" if nothing."""
    parts = _parts(info.filename)
    if ".." in parts or not parts[0] or ":" in parts[0]:
        return "has a name that leads out of the archive"
    if info.flag_bits & _ENCRYPTED:
        return "is encrypted"
    if stat.S_ISLNK(info.external_attr >> 16):
        return "is a link to another one"
    return ""


def _refused(path: Path, info: zipfile.ZipInfo) -> str:
    """What is wrong with a file in an archive, in words; "" if nothing is."""
    if why := unfit(info):
        return why
    try:
        with _archive(path).open(info) as stream:
            nested = stream.read(len(_MAGIC)) == _MAGIC
    except (*BAD_DATA, OSError) as error:
        return f"is damaged, or packed in a way that is not known ({str(error).rstrip('.')})"
    return "is an archive in an archive" if nested else ""


def _parts(name: str) -> list[str]:
    return name.replace("\\", "/").split("/")
