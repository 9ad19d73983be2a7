"""Zstandard (RFC 8878), a little at a time, with a library that not everybody needs."""

from typing import TYPE_CHECKING, BinaryIO, ClassVar

if TYPE_CHECKING:
    from zstandard import ZstdCompressionWriter, ZstdDecompressor

ZSTD_MAGIC = b"\x28\xb5\x2f\xfd"
"""How every frame begins (RFC 8878, section 3.1.1)."""

_SKIPPED_FIRST = tuple(bytes([first]) for first in range(0x50, 0x60))
_SKIPPED_MAGIC = b"\x2a\x4d\x18"
"""How a frame to be skipped goes on behind a first byte of 0x50 to 0x5f (section 3.1.2)."""

_FED = 512
"""Bytes fed at once: 4 of them make a block of 128 KiB at most, so that 16 MiB come out at most."""

_LEVEL = 9
"""How hard to pack: the numbers of sweeps become hardly smaller with a higher one."""

_WIDEST = 128 << 20
"""The widest window that is unpacked, in bytes; the usual program asks before it takes more."""


def is_zstd(begins: bytes) -> bool:
    """Whether a file with these first four bytes or more is packed with Zstandard."""
    skipped = begins[:1] in _SKIPPED_FIRST and begins[1:4] == _SKIPPED_MAGIC
    return skipped or begins.startswith(ZSTD_MAGIC)


class DamagedZstd(Exception):
    """The data are damaged or cut off."""


class NoZstd(Exception):
    """The library is not installed."""

    TODO: ClassVar[str] = "Run `pip install zstandard`, or unpack the file first."


class Unpacked:
    """What comes out of a packed stream.

    Args:
        packed: the stream.

    Raises:
        NoZstd: the library is not installed.
    """

    def __init__(self, packed: BinaryIO) -> None:
        self._packed = packed
        self._ready = b""
        self._unpacker = _unpacker()
        self._frame = self._unpacker.decompressobj()
        self._begun = False

    def read(self, size: int, /) -> bytes:
        """Give no more than so many bytes; none at the end.

        Raises:
            DamagedZstd: they are damaged or cut off.
        """
        from zstandard import ZstdError

        fed = b""
        while not self._ready:
            if self._frame.eof:
                fed, self._begun = self._frame.unused_data, False
                self._frame = self._unpacker.decompressobj()
            fed = fed or self._packed.read(_FED)
            if not fed:
                if self._begun:
                    raise DamagedZstd("the last frame does not end")
                return b""
            try:
                self._ready, fed = self._frame.decompress(fed), b""
            except ZstdError as error:
                raise DamagedZstd(str(error)) from error
            self._begun = True
        given, self._ready = self._ready[:size], self._ready[size:]
        return given


def packer(target: BinaryIO) -> "ZstdCompressionWriter":
    """What packs all that is written to it into a stream, which stays open when this is closed.

    Raises:
        NoZstd: the library is not installed.
    """
    try:
        from zstandard import ZstdCompressor
    except ImportError as error:
        raise NoZstd("The library that packs with Zstandard is not installed.") from error
    packing = ZstdCompressor(level=_LEVEL, write_checksum=True)
    return packing.stream_writer(target, closefd=False)


def _unpacker() -> "ZstdDecompressor":
    """What unpacks one frame after another."""
    try:
        from zstandard import ZstdDecompressor
    except ImportError as error:
        raise NoZstd(
            "It is packed with Zstandard, and the library that unpacks it is not installed."
        ) from error
    return ZstdDecompressor(max_window_size=_WIDEST)
