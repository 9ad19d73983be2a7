"""A file that came from outside: its name, its digest, its first bytes, and a bounded way in."""

import gzip
import hashlib
import io
import lzma
import os
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import BinaryIO, Protocol

from sweepbook.errors import SweepbookError
from sweepbook.inputs import check_regular, what_to_do
from sweepbook.text import utf8_safe
from sweepbook.zstd import ZSTD_MAGIC, DamagedZstd, NoZstd, Unpacked, is_zstd

HEAD_BYTES = 65_536
_GZIP_MAGIC = b"\x1f\x8b"
_CHUNK = 1 << 20
_DAMAGE = (
    EOFError,
    gzip.BadGzipFile,
    zlib.error,
    lzma.LZMAError,
    zipfile.BadZipFile,
    DamagedZstd,
    NotImplementedError,  # a method of packing that the library does not know
)


@dataclass(frozen=True, slots=True)
class Bounds:
    """How far a compressed file may expand before it is refused.

    Attributes:
        most_bytes: the largest expanded size, in bytes.
        most_ratio: the largest expanded size as a multiple of the file's size; asked only once
            `free_bytes` have come out, since small files of zeros compress well.
        free_bytes: bytes for which the ratio is not asked.
    """

    most_bytes: int = 4 << 30
    most_ratio: int = 200
    free_bytes: int = 16 << 20


class UnreadableSource(SweepbookError):
    """A file cannot be opened, or its compression is damaged or expands without end.

    Args:
        name: of the file, or its path.
        what: what is wrong with it.
        todo: what to do next.
    """

    def __init__(self, name: str, what: str, todo: str) -> None:
        self.what = what
        super().__init__(f"{name}: {what}", todo)


@dataclass(frozen=True)
class Source:
    """One file as it came.

    Attributes:
        path: where it lies.
        bounds: how far it may expand.
        called: what to call it instead of by its file's name, such as a file that came out of an
            archive.
    """

    path: Path
    bounds: Bounds = Bounds()
    called: str = ""

    @property
    def name(self) -> str:
        """The file's name without its folder, for messages and records; always valid Unicode."""
        return utf8_safe(self.called or self.path.name)

    @property
    def file_name(self) -> str:
        """The name that the file has in its folder, or in its archive."""
        return self.path.name

    @property
    def folder(self) -> Path:
        """Where files lie that belong to it."""
        return self.path.parent

    @property
    def place(self) -> str:
        """What tells this file from every other: its whole path."""
        return str(self.path.resolve())

    @cached_property
    def sha256(self) -> str:
        """SHA-256 of the bytes as they came (still compressed), as 64 hexadecimal digits.

        Raises:
            UnreadableSource: the file cannot be opened.
        """
        digest = hashlib.sha256()
        for chunk in self.raw_chunks():
            digest.update(chunk)
        return digest.hexdigest()

    def let_go(self) -> None:
        """Keep the first bytes no longer; of very many files they would fill the memory."""
        self.__dict__.pop("head", None)

    def raw_chunks(self) -> Iterator[bytes]:
        """The bytes as they came (still compressed), a mebibyte at a time.

        Raises:
            UnreadableSource: the file cannot be opened or read to its end.
        """
        try:
            with self._raw() as (stream, _):
                while chunk := stream.read(_CHUNK):
                    yield chunk
        except _DAMAGE as error:
            raise _damaged(self.name, error) from error
        except OSError as error:
            raise _cannot_open(self.path, error) from error

    @cached_property
    def head(self) -> bytes:
        """The first 65,536 bytes after decompression; fewer if the file is shorter.

        Raises:
            UnreadableSource: the file cannot be opened or its compression is damaged.
        """
        with self.open() as stream:
            return stream.read(HEAD_BYTES)

    @contextmanager
    def open(self) -> Iterator[BinaryIO]:
        """Open the content for reading, decompressed, never past the bounds.

        Compression is told by the first bytes, not by the name.

        Raises:
            UnreadableSource: the file cannot be opened, is damaged or expands past the bounds.
        """
        try:
            with self._raw() as (raw, size):
                magic = raw.peek(len(ZSTD_MAGIC))
                inner: gzip.GzipFile | Unpacked
                if magic.startswith(_GZIP_MAGIC):
                    inner = gzip.GzipFile(fileobj=raw)
                elif is_zstd(magic):
                    inner = Unpacked(raw)
                else:
                    yield raw
                    return
                yield io.BufferedReader(Bounded(inner, self.name, self.bounds, size), _CHUNK)
        except NoZstd as error:
            raise UnreadableSource(self.name, str(error), NoZstd.TODO) from error
        except _DAMAGE as error:
            raise _damaged(self.name, error) from error
        except OSError as error:
            raise _cannot_open(self.path, error) from error

    @contextmanager
    def _raw(self) -> Iterator[tuple[io.BufferedReader, int]]:
        """The bytes as they came, and how many there are."""
        check_regular(self.path)
        with self.path.open("rb") as stream:
            yield stream, os.fstat(stream.fileno()).st_size


class Readable(Protocol):
    """What gives bytes."""

    def read(self, size: int, /) -> bytes:
        """Give no more than so many."""
        ...


class Bounded(io.RawIOBase):
    """A stream that counts what comes out and stops where the bounds say."""

    def __init__(self, inner: Readable, name: str, bounds: Bounds, packed_bytes: int) -> None:
        self._inner = inner
        self._name = name
        self._bounds = bounds
        self._packed = packed_bytes
        self._seen = 0

    def readable(self) -> bool:
        """It is."""
        return True

    def readinto(self, buffer: memoryview) -> int:  # type: ignore[override]
        """Fill a buffer.

        Raises:
            UnreadableSource: more has come out than the bounds allow.
        """
        data = self._inner.read(len(buffer))
        self._seen += len(data)
        self._check()
        buffer[: len(data)] = data
        return len(data)

    def _check(self) -> None:
        bounds = self._bounds
        grown = self._seen > bounds.free_bytes and self._seen > bounds.most_ratio * self._packed
        if grown or self._seen > bounds.most_bytes:
            raise UnreadableSource(
                self._name,
                f"expands to more than {self._seen >> 20} MiB from {self._packed} bytes and was "
                "not read further.",
                "If you trust the file, unpack it yourself and give the unpacked file.",
            )


def _damaged(name: str, error: Exception) -> UnreadableSource:
    return UnreadableSource(
        name,
        f"the compressed data are damaged or cut off ({str(error).rstrip('.')}).",
        "Copy the file again from where it came from.",
    )


def _cannot_open(path: Path, error: OSError) -> UnreadableSource:
    return UnreadableSource(
        str(path),
        f"cannot be opened: {error.strerror or error}.",
        what_to_do(error, "Check the path and that you may read the file."),
    )
