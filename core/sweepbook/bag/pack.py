"""A bag as one file, the same bytes for the same bag."""

import tarfile
import zipfile
from datetime import UTC, datetime
from enum import Enum
from io import BytesIO
from pathlib import Path
from typing import BinaryIO

from sweepbook import zstd
from sweepbook.bag import layout
from sweepbook.bag.digests import files_below
from sweepbook.clock import now
from sweepbook.errors import SweepbookError

_MODE = 0o100644
_EARLIEST = 1980
"""The first year that a ZIP archive can tell (APPNOTE.TXT 6.3.10, 4.4.6)."""
_CHUNK = 1 << 20


class Pack(Enum):
    """How a bag is packed, by the word for it."""

    ZIP = "zip"
    TAR_ZST = "tar.zst"

    @property
    def ending(self) -> str:
        """Of the name of the file."""
        return f".{self.value}"


def refuse_missing(form: Pack | None) -> None:
    """Refuse a packing whose library is not there.

    Raises:
        SweepbookError: it is not installed.
    """
    if form is Pack.TAR_ZST:
        try:
            zstd.packer(BytesIO())
        except zstd.NoZstd as error:
            raise SweepbookError(
                str(error), "Run `pip install zstandard`, or pack as zip."
            ) from error


def pack(root: Path, name: str, target: Path, form: Pack) -> None:
    """Pack a bag into a file.

    Nothing of the machine goes in: the files stand in one order, tag files first, with the day of
    the bag and one owner.

    Args:
        root: the bag's folder.
        name: of the one folder in the file (RFC 8493, 4.2, has one bag in it).
        target: the file.
        form: how.

    Raises:
        OSError: it cannot be written.
    """
    found = sorted(files_below(root), key=lambda item: (item[0].startswith(layout.PAYLOAD), item))
    entries = [(f"{name}/{path}", file) for path, file in found]
    day = datetime.fromisoformat(now()[:10]).replace(tzinfo=UTC)
    with target.open("wb") as stream:
        if form is Pack.ZIP:
            _zip(entries, day, stream)
        else:
            _tar_zst(entries, day, stream)


def _zip(entries: list[tuple[str, Path]], day: datetime, stream: BinaryIO) -> None:
    date = (max(day.year, _EARLIEST), day.month, day.day, 0, 0, 0)
    with zipfile.ZipFile(stream, "w") as archive:
        for name, file in entries:
            entry = zipfile.ZipInfo(name, date)
            entry.create_system = 3  # of Unix, wherever this runs
            entry.external_attr = _MODE << 16
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.file_size = file.stat().st_size
            with file.open("rb") as source, archive.open(entry, "w") as sink:
                while chunk := source.read(_CHUNK):
                    sink.write(chunk)


def _tar_zst(entries: list[tuple[str, Path]], day: datetime, stream: BinaryIO) -> None:
    packed = zstd.packer(stream)
    with packed, tarfile.open(fileobj=packed, mode="w|", format=tarfile.PAX_FORMAT) as archive:
        for name, file in entries:
            entry = tarfile.TarInfo(name)
            entry.size = file.stat().st_size
            entry.mtime = int(day.timestamp())
            with file.open("rb") as source:
                archive.addfile(entry, source)
