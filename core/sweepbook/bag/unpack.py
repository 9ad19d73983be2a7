"""A packed bag, read within bounds, and nothing of it beyond the folder that it goes to."""

import io
import tarfile
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path, PurePosixPath
from typing import IO, BinaryIO, NamedTuple

from sweepbook import archive
from sweepbook.bag.layout import NotABag
from sweepbook.inputs import check_regular
from sweepbook.source import Bounded, Bounds, UnreadableSource
from sweepbook.text import utf8_safe
from sweepbook.zstd import DamagedZstd, NoZstd, Unpacked, is_zstd

MOST_FILES = 1_000_000
_ZIP = b"PK\x03\x04"
_CHUNK = 1 << 20
_DAMAGE = (*archive.BAD_DATA, tarfile.TarError, DamagedZstd)
_OF_ONE = (zipfile.BadZipFile, zlib.error)
"""What is raised where one file of an archive is damaged and the others are not."""
_IF_TRUSTED = (
    "If you trust it, verify it with --unpack-up-to and how many GiB it may take, or unpack it "
    "yourself and give the folder."
)
_DISTRUST = "Do not trust this file; ask whoever sent it."
_AGAIN = "Copy it again from where it came from."


class Packed(NamedTuple):
    """A file in a packed bag: its path there, and what gives its bytes."""

    path: str
    stream: "IO[bytes]"


def unpack(path: Path, target: Path, bounds: Bounds | None = None) -> Path:
    """Unpack a bag.

    Args:
        path: of the packed bag.
        target: an empty folder.
        bounds: how far it may expand.

    Returns:
        The bag's own folder in it. A file of a ZIP archive that is damaged is there as far as it
        could be unpacked.

    Raises:
        NotABag: it is none, is damaged, names a file twice or one beyond its folder, or expands
            past the bounds.
    """
    shown = utf8_safe(path.name)
    tops: set[str] = set()
    with _files(path, bounds or Bounds()) as found:
        for entry in found:
            tops.add(entry.path.partition("/")[0])
            place = target / entry.path
            try:
                place.parent.mkdir(parents=True, exist_ok=True)
                with place.open("xb") as out, suppress(*_OF_ONE):
                    while chunk := entry.stream.read(_CHUNK):
                        out.write(chunk)
            except (FileExistsError, NotADirectoryError) as error:
                why = f"{shown} holds {utf8_safe(entry.path)} twice."
                raise NotABag(why, "Unpack it yourself and give the folder.") from error
    if len(tops) != 1:
        raise NotABag(
            f"{shown} holds {len(tops)} folders or files at its top, and a packed bag one folder.",
            "Unpack it yourself and give the bag's folder.",
        )
    return target / tops.pop()


def bounds_of(most_gib: float) -> Bounds:
    """Bounds for somebody who trusts a packed bag as far as so many GiB, however it was packed."""
    most = int(most_gib * (1 << 30))
    return Bounds(most_bytes=most, free_bytes=most)


def first_file(path: Path, name: str) -> bytes:
    """The file of a name in a packed bag's own folder.

    Raises:
        NotABag: there is none, or the bag cannot be unpacked.
    """
    with _files(path, Bounds(), whole=False) as found:
        for entry in found:
            if entry.path.split("/")[1:] == [name]:
                return entry.stream.read(_CHUNK)
    raise NotABag(f"{utf8_safe(path.name)} holds no {name}.", "Give a bag.")


@contextmanager
def _files(path: Path, bounds: Bounds, *, whole: bool = True) -> Iterator[Iterator[Packed]]:
    """The files of a packed bag, each to be read before the next.

    A bag that would expand past the bounds is refused at once where all of it is to be read, else
    once so much of it was.
    """
    shown = utf8_safe(path.name)
    try:
        check_regular(path)  # whoever opens a pipe may wait for ever
        with path.open("rb") as stream:
            begins = stream.read(4)
            stream.seek(0)
            if begins == _ZIP:
                yield _counted(_of_zip(stream, shown, bounds if whole else None), shown)
            elif is_zstd(begins):
                yield _counted(_of_tar(stream, shown, bounds), shown)
            else:
                raise NotABag(
                    f"{shown} is no bag: neither a folder, nor a .zip or .tar.zst.",
                    "Give what `sweepbook archive make` made.",
                )
    except NoZstd as error:
        raise NotABag(f"{shown}: {error}", NoZstd.TODO) from error
    except UnreadableSource as error:
        raise NotABag(error.message, _IF_TRUSTED) from error
    except _DAMAGE as error:
        raise NotABag(
            f"{shown} is damaged or cut off ({str(error).rstrip('.')}).", _AGAIN
        ) from error
    except OSError as error:
        raise NotABag(
            f"{shown} cannot be unpacked: {error.strerror or error}.",
            "Check that you may read it, and that the folder for temporary files has room; the "
            "variable TMPDIR names another one.",
        ) from error


def _of_zip(stream: BinaryIO, shown: str, bounds: Bounds | None) -> Iterator[Packed]:
    """The files of a ZIP archive; one whose beginning is damaged is empty."""
    size = stream.seek(0, io.SEEK_END)
    with zipfile.ZipFile(stream) as opened:
        entries = [entry for entry in opened.infolist() if not entry.is_dir()]
        total = sum(entry.file_size for entry in entries)
        if bounds is not None and _too_much(total, size, bounds):
            raise NotABag(
                f"{shown} would expand to {total >> 20} MiB from {size} bytes; it was left packed.",
                _IF_TRUSTED,
            )
        for entry in entries:
            if why := archive.unfit(entry):
                raise NotABag(f"{shown}: {utf8_safe(entry.filename)} {why}.", _DISTRUST)
            try:
                inner = opened.open(entry)
            except zipfile.BadZipFile:
                yield Packed(_path(entry.filename, shown), io.BytesIO())
                continue
            with inner:
                yield Packed(_path(entry.filename, shown), inner)


def _too_much(total: int, packed: int, bounds: Bounds) -> bool:
    ratio = max(bounds.free_bytes, bounds.most_ratio * packed)
    return total > min(bounds.most_bytes, ratio)


def _of_tar(stream: BinaryIO, shown: str, bounds: Bounds) -> Iterator[Packed]:
    size = stream.seek(0, io.SEEK_END)
    stream.seek(0)
    bounded = io.BufferedReader(Bounded(Unpacked(stream), shown, bounds, size), _CHUNK)
    with tarfile.open(fileobj=bounded, mode="r|") as opened:
        for entry in opened:
            if entry.isdir():
                continue
            plain = entry.isfile() and not entry.issparse()  # holes are not counted as they expand
            inner = opened.extractfile(entry) if plain else None
            if inner is None:
                raise NotABag(f"{shown}: {utf8_safe(entry.name)} is no plain file.", _DISTRUST)
            yield Packed(_path(entry.name, shown), inner)


def _counted(found: Iterator[Packed], shown: str) -> Iterator[Packed]:
    for number, entry in enumerate(found):
        if number >= MOST_FILES:
            raise NotABag(
                f"{shown} holds more than {MOST_FILES:,} files.",
                "If you trust it, unpack it yourself and give the folder.",
            )
        yield entry


def _path(name: str, shown: str) -> str:
    parts = PurePosixPath(name.replace("\\", "/")).parts
    if not parts or ".." in parts or parts[0] == "/" or ":" in parts[0] or "\0" in name:
        raise NotABag(
            f"{shown} holds {utf8_safe(name)!r}, a name that leads out of it.",
            _DISTRUST,
        )
    return "/".join(parts)
