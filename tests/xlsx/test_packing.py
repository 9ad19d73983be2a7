"""An archive that is packed in pieces is one that everybody can read, and the same each time."""

import io
import shutil
import subprocess
import zipfile
from collections.abc import Iterator
from pathlib import Path
from random import Random

import pytest

from sweepbook_plugins.xlsx.packing import PIECE, pack

SIZES = (0, 1, PIECE - 1, PIECE, PIECE + 1, 3 * PIECE + 12345)


def contents(size: int) -> bytes:
    """Rows that are alike, as those of a sheet."""
    dice = Random(size)
    row = b'<c r="A%d" s="7" t="inlineStr"><is><t>%d</t></is></c>'
    made = b"".join(row % (at, dice.randrange(10**6)) for at in range(size // 40 + 1))
    return made[:size]


def parts(folder: Path) -> Iterator[tuple[Path, str]]:
    for size in SIZES:
        path = folder / str(size)
        path.write_bytes(contents(size))
        yield path, f"xl/{size}.xml"


def test_every_part_comes_out_as_it_went_in(tmp_path: Path) -> None:
    one, two = io.BytesIO(), io.BytesIO()
    pack(parts(tmp_path), one)
    pack(parts(tmp_path), two)
    assert one.getvalue() == two.getvalue()
    with zipfile.ZipFile(one) as archive:
        assert archive.testzip() is None
        assert {info.filename: archive.read(info) for info in archive.infolist()} == {
            f"xl/{size}.xml": contents(size) for size in SIZES
        }
    assert list(tmp_path.iterdir()) == []


def test_pieces_are_hardly_longer_than_the_whole(tmp_path: Path) -> None:
    ours, whole = io.BytesIO(), io.BytesIO()
    pack(parts(tmp_path), ours)
    with zipfile.ZipFile(whole, "w", zipfile.ZIP_DEFLATED) as archive:
        for size in SIZES:
            archive.writestr(f"xl/{size}.xml", contents(size))
    assert len(ours.getvalue()) < 1.01 * len(whole.getvalue())


@pytest.mark.skipif(shutil.which("unzip") is None, reason="unzip is not installed")
def test_another_program_finds_nothing_wrong(tmp_path: Path) -> None:
    target = tmp_path / "made.zip"
    (tmp_path / "parts").mkdir()
    with target.open("wb") as stream:
        pack(parts(tmp_path / "parts"), stream)
    done = subprocess.run(["unzip", "-tqq", target], capture_output=True, check=False)
    assert (done.returncode, done.stdout, done.stderr) == (0, b"", b"")
