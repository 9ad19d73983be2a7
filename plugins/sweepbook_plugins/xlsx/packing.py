"""Putting the parts of a workbook into its archive, packed by two threads at once.

zlib packs outside of the interpreter's lock. A part is packed in pieces that each know the end of
the one before, so that they are hardly longer than in one go (the way of pigz), and the same bytes
whoever packs which.
"""

import zlib
from collections import deque
from collections.abc import Iterable
from concurrent.futures import Executor, Future, ThreadPoolExecutor
from pathlib import Path
from shutil import copyfileobj
from typing import IO, Any
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

THREADS = 2
PIECE = 1 << 20
_WINDOW = 1 << 15
"""How far back deflate looks (RFC 1951, 3.2.5)."""
_MOST_WAITING = 2 * THREADS
_MOMENT = (1980, 1, 31, 0, 0, 0)
"""The same for all parts, since nobody is told by it when anything was made."""


def pack(parts: Iterable[tuple[Path, str]], target: IO[bytes]) -> None:
    """Write an archive, and delete each part once it is in it.

    Args:
        parts: files, with their names in the archive.
        target: where it is written; it can be gone back in.

    Raises:
        OSError: a part cannot be read, or the disk is full.
    """
    with ThreadPoolExecutor(THREADS) as pool, ZipFile(target, "w", ZIP_DEFLATED) as archive:
        for path, name in parts:
            info = ZipInfo(name, _MOMENT)
            info.compress_type, info.file_size = ZIP_DEFLATED, path.stat().st_size
            with path.open("rb") as source, archive.open(info, "w") as part:
                if info.file_size > PIECE:
                    _share_out(part, pool)
                copyfileobj(source, part, PIECE)
            path.unlink()


def _share_out(part: Any, pool: Executor) -> None:  # noqa: ANN401 - of a class without a name
    """Let the pool do what the library has a compressor for; it would do it itself without this."""
    part._compressor = Pieces(pool)


class Pieces:
    """Takes the place of a compressor of zlib's, for one stream."""

    def __init__(self, pool: Executor) -> None:
        self._pool = pool
        self._waiting: deque[Future[bytes]] = deque()
        self._data, self._window = bytearray(), b""

    def compress(self, data: bytes) -> bytes:
        """Take data, and give what of the stream is ready."""
        self._data += data
        while len(self._data) >= PIECE:
            piece = bytes(self._data[:PIECE])
            del self._data[:PIECE]
            self._hand_over(piece, last=False)
        return self._ready(_MOST_WAITING)

    def flush(self) -> bytes:
        """Give the rest of the stream."""
        self._hand_over(bytes(self._data), last=True)
        return self._ready(0)

    def _hand_over(self, piece: bytes, *, last: bool) -> None:
        self._waiting.append(self._pool.submit(packed, piece, self._window, last=last))
        self._window = piece[-_WINDOW:]

    def _ready(self, most_waiting: int) -> bytes:
        """The packed pieces in their order, until so many wait."""
        found = []
        while len(self._waiting) > most_waiting:
            found.append(self._waiting.popleft().result())
        return b"".join(found)


def packed(piece: bytes, window: bytes, *, last: bool) -> bytes:
    """A piece of a raw deflate stream, which ends on a whole byte.

    Args:
        piece: to be packed.
        window: what stands before it in the stream, at least as far as deflate looks back.
        last: whether the stream ends with it.
    """
    method, bits = zlib.DEFLATED, -zlib.MAX_WBITS
    packer = zlib.compressobj(method=method, wbits=bits, zdict=window)
    return packer.compress(piece) + packer.flush(zlib.Z_FINISH if last else zlib.Z_SYNC_FLUSH)
