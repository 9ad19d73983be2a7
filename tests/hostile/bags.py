"""Bags made to harm: what is changed in a good one, and packed ones."""

import hashlib
import io
import tarfile
import zipfile
from collections.abc import Callable
from pathlib import Path

import zstandard

from .exports import Files
from .zipped import zipped

_NONE = b"0" * 64
_LIST = "manifest-sha256.txt"
_SPARSE = {
    "GNU.sparse.major": "1",
    "GNU.sparse.minor": "0",
    "GNU.sparse.name": "bag/x",
    "GNU.sparse.realsize": "1000000000001",
}

Change = Callable[[Path], object]


def _listed(more: bytes, name: str = _LIST) -> Change:
    """More lines of a list."""

    def change(bag: Path) -> None:
        with (bag / name).open("ab") as stream:
            stream.write(more)

    return change


def _instead(raw: bytes, name: str) -> Change:
    return lambda bag: (bag / name).write_bytes(raw)


def _missing_beside_others(bag: Path) -> None:
    for number in range(500):
        (bag / "data" / f"other-{number}").write_bytes(b"")
    _listed(b"".join(_NONE + b"  data/x%d\n" % n for n in range(10_000)))(bag)


def _links(bag: Path) -> None:
    (bag / "data" / "link").symlink_to("/etc/passwd")
    (bag / "data" / "round").symlink_to(bag)


def tar(name: str, data: bytes = b"x", **told: object) -> bytes:
    """A packed bag of one entry."""
    raw = io.BytesIO()
    with tarfile.open(fileobj=raw, mode="w", format=tarfile.PAX_FORMAT) as archive:
        entry = tarfile.TarInfo(name)
        entry.size = len(data)
        for attribute, value in told.items():
            setattr(entry, attribute, value)
        archive.addfile(entry, io.BytesIO(data))
    return zstandard.compress(raw.getvalue())


def _twice(archive: zipfile.ZipFile) -> None:
    archive.writestr("bag/x", b"x")
    archive.writestr("bag/x/y", b"y")


CHANGES: dict[str, Change] = {
    "climbs": _listed(_NONE + b"  ../../etc/passwd\n" + _NONE + b"  /etc/passwd\n"),
    "escapes": _listed(_NONE + b"  data/\x1b[2J\xe2\x80\xae\n"),
    "long path": _listed(_NONE + b"  data/" + b"x/" * 50_000 + b"\n"),
    "long line": _listed(b"x" * 20_000_000),
    "many lines": _listed((_NONE + b"  data/x\n") * 200_000),
    "missing": _missing_beside_others,
    "fetch": _instead(b"http://127.0.0.1:9/x 10 data/x\n", "fetch.txt"),
    "no digest": _instead(b"0  data/x\n", "manifest-shake128.txt"),
    "no algorithm": _instead(b"0  data/x\n", "manifest-crc32.txt"),
    "large bag-info": _instead(b"X: y\n" * 500_000, "bag-info.txt"),
    "large bagit": _instead(b" " * 20_000_000, "bagit.txt"),
    "deep audit": _instead(b"[" * 1_000_000, "data/audit.json"),
    "deep figures": _instead(b"[" * 1_000_000, "data/judged-by/practice.json"),
    "deep readings": _instead(b"[" * 1_000_000, "data/judged-by/interpretations.json"),
    "deep rules": _instead(b"[" * 1_000_000, "data/judged-by/rules.json"),
    "rules that are texts": _instead(b'{"rules":["x"]}', "data/judged-by/rules.json"),
    "links": _links,
}
PACKED: Files = {
    "climbs.zip": lambda: zipped(lambda archive: archive.writestr("bag/../../x", b"x")),
    "long.zip": lambda: zipped(lambda archive: archive.writestr("bag/" + "x" * 5_000, b"x")),
    "twice.zip": lambda: zipped(_twice),
    "bomb.zip": lambda: zipped(lambda archive: archive.writestr("bag/x", b"\0" * 100_000_000)),
    "cut.zip": lambda: zipped(lambda archive: archive.writestr("bag/x", b"x"))[:-30],
    "climbs.tar.zst": lambda: tar("bag/../../x"),
    "root.tar.zst": lambda: tar("/x"),
    "link.tar.zst": lambda: tar("bag/x", b"", type=tarfile.SYMTYPE, linkname="/etc/passwd"),
    "device.tar.zst": lambda: tar("bag/x", b"", type=tarfile.CHRTYPE),
    "header.tar.zst": lambda: tar("bag/x", pax_headers={"path": "../../x"}),
    "holes.tar.zst": lambda: tar(
        "bag/x", b"1\n1000000000000\n1\n".ljust(512, b"\0") + b"y", pax_headers=_SPARSE
    ),
    "bomb.tar.zst": lambda: tar("bag/x", b"\0" * 100_000_000),
    "cut.tar.zst": lambda: tar("bag/x", hashlib.sha256(b"").digest() * 9)[:-9],
}
