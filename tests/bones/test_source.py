"""A source is read within bounds, whatever its name says."""

import gzip
import sys
from hashlib import sha256
from pathlib import Path

import pytest
import zstandard

from sweepbook.source import HEAD_BYTES, Bounds, Source, UnreadableSource


def test_compression_is_told_by_the_bytes_not_by_the_name(tmp_path: Path) -> None:
    packed = tmp_path / "export.csv"
    packed.write_bytes(gzip.compress(b"Link;1A-07\n"))
    with Source(packed).open() as stream:
        assert stream.read() == b"Link;1A-07\n"
    assert Source(packed).sha256 == sha256(packed.read_bytes()).hexdigest()


def test_the_head_is_short_and_unpacked(tmp_path: Path) -> None:
    packed = tmp_path / "export.gz"
    packed.write_bytes(gzip.compress(b"x" * (HEAD_BYTES + 5)))
    assert Source(packed).head == b"x" * HEAD_BYTES


@pytest.mark.parametrize("bounds", [Bounds(most_bytes=1 << 20), Bounds(free_bytes=1 << 20)])
def test_a_file_that_expands_without_end_is_stopped(tmp_path: Path, bounds: Bounds) -> None:
    bomb = tmp_path / "bomb.gz"
    bomb.write_bytes(gzip.compress(bytes(8 << 20)))
    with (
        pytest.raises(UnreadableSource, match=r"bomb\.gz: expands to more than .* unpack it"),
        Source(bomb, bounds).open() as stream,
    ):
        while stream.read(1 << 20):
            pass


@pytest.mark.parametrize("nibble", [0, 15])
def test_frames_to_be_skipped_are_skipped(nibble: int, tmp_path: Path) -> None:
    """Such a frame is 0x184D2A5?, its size in 4 bytes, then that many (RFC 8878, section 3.1.2)."""
    skipped = bytes([0x50 + nibble]) + b"\x2a\x4d\x18" + (700).to_bytes(4, "little") + bytes(700)
    data = zstandard.ZstdCompressor().compress(b"Link;1A-07\n")
    packed = tmp_path / "export.csv"
    packed.write_bytes(skipped + skipped + data + skipped + data)
    with Source(packed).open() as stream:
        assert stream.read() == b"Link;1A-07\n" * 2


@pytest.mark.parametrize("cut", [-9, 15])
def test_a_damaged_archive_says_so(tmp_path: Path, cut: int) -> None:
    packed = tmp_path / "cut.gz"
    packed.write_bytes(gzip.compress(b"Link;1A-07\n" * 500)[:cut])
    with (
        pytest.raises(UnreadableSource, match=r"cut\.gz: .*damaged or cut off"),
        Source(packed).open() as stream,
    ):
        stream.read()


def test_a_missing_file_is_named(tmp_path: Path) -> None:
    missing = Source(tmp_path / "gone.csv")
    for look in (lambda: missing.sha256, lambda: missing.head):
        with pytest.raises(UnreadableSource, match=r"gone\.csv: cannot be opened: No such file"):
            look()


def test_zstandard_is_told_by_the_bytes_and_its_frames_follow_one_another(tmp_path: Path) -> None:
    pack = zstandard.ZstdCompressor().compress
    packed = tmp_path / "export.csv"
    packed.write_bytes(pack(b"Link;1A-07\n" * 70_000) + pack(b"end\n"))
    with Source(packed).open() as stream:
        assert stream.read() == b"Link;1A-07\n" * 70_000 + b"end\n"
    assert Source(packed).sha256 == sha256(packed.read_bytes()).hexdigest()


@pytest.mark.parametrize("cut", [-3, 9])
def test_damaged_zstandard_says_so(tmp_path: Path, cut: int) -> None:
    packed = tmp_path / "cut.zst"
    packed.write_bytes(zstandard.ZstdCompressor().compress(b"Link;1A-07\n" * 500)[:cut])
    with (
        pytest.raises(UnreadableSource, match=r"cut\.zst: .*damaged or cut off"),
        Source(packed).open() as stream,
    ):
        stream.read()


def test_zstandard_that_expands_without_end_is_stopped(tmp_path: Path) -> None:
    bomb = tmp_path / "bomb.zst"
    bomb.write_bytes(zstandard.ZstdCompressor(level=19).compress(bytes(64 << 20)))
    with (
        pytest.raises(UnreadableSource, match=r"bomb\.zst: expands to more than .* unpack it"),
        Source(bomb).open() as stream,
    ):
        while stream.read(1 << 20):
            pass


def test_without_the_library_the_message_says_how_to_get_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    packed = tmp_path / "export.zst"
    packed.write_bytes(zstandard.ZstdCompressor().compress(b"x"))
    monkeypatch.setitem(sys.modules, "zstandard", None)
    with pytest.raises(
        UnreadableSource, match=r"It is packed with Zstandard.*pip install zstandard"
    ):
        _ = Source(packed).head
