"""Exports and records made to harm: the bytes of each by its name, made when asked for."""

import gzip
import json
import stat
import struct
import warnings
import zipfile
from collections.abc import Callable

from tests.program import DEMO

from .zipped import zipped

HERON = (DEMO / "exports" / "heron-1A-P1-01.csv").read_bytes()
ERRUK = (DEMO / "exports" / "erruk-printworks-1.xml").read_bytes()
_KEYS = HERON[: HERON.index(b"\n", HERON.index(b"\nMHz") + 1) + 1]
_ROOT = ERRUK[: ERRUK.index(b" <site")]
_HEAD = b"Heron sweep report,4\nmaker,Brindlewick\n"
_RECORD = b'{"schema":"urn:sweepbook:record-1","kind":"balanced-link","record_id":"sb0-%s",' % (
    b"0" * 64
)
_OPTION = "! two ports\n# MHz S DB R 100\n"
_POINT = " 0 0 0 0 0 0 0 0\n"

Files = dict[str, Callable[[], bytes]]


def _link(archive: zipfile.ZipFile) -> None:
    entry = zipfile.ZipInfo("link.csv")
    entry.external_attr = (stat.S_IFLNK | 0o777) << 16
    archive.writestr(entry, "/etc/passwd")


def _twice(archive: zipfile.ZipFile) -> None:
    with warnings.catch_warnings(action="ignore"):
        archive.writestr("a.csv", HERON)
        archive.writestr("a.csv", b"x")


def _many(archive: zipfile.ZipFile) -> None:
    for number in range(20_000):
        archive.writestr(zipfile.ZipInfo(str(number)), b"")


def _smaller_than_told() -> bytes:
    """A file whose directory says that it has 1,000 bytes, and that has 20 million."""
    raw = bytearray(zipped(lambda archive: archive.writestr("a.csv", HERON + b"\n" * 20_000_000)))
    central = raw.rindex(b"PK\x01\x02")
    for place in (central + 24, 22):
        raw[place : place + 4] = struct.pack("<I", 1_000)
    return bytes(raw)


def _grid() -> bytes:
    run = {"start": "1", "step": "0.1", "count": 10**12}
    return json.dumps(
        {
            "schema": "urn:sweepbook:record-1",
            "kind": "balanced-link",
            "record_id": "sb0-" + "0" * 64,
            "results": {"grids": [{"id": "g", "runs": [run]}], "sweeps": [{"grid": "g"}]},
        }
    ).encode()


XML: Files = {
    "utf-32.xml": lambda: "<r/>".encode("utf-32"),
    "outside.xml": lambda: (
        b'<!DOCTYPE r [<!ENTITY % a SYSTEM "http://127.0.0.1:9/x">%a;]>' + ERRUK[38:]
    ),
    "namespaces.xml": lambda: _ROOT.replace(
        b"<roll ", b"<roll " + b" ".join(b'xmlns:n%d="urn:%d"' % (n, n) for n in range(20_000))
    ),
    "names.xml": lambda: _ROOT + b"".join(b"<a%d/>" % n for n in range(100_000)),
    "attribute.xml": lambda: _ROOT + b'<a b="' + b"x" * 9_000_000 + b'"/>',
    "elements.xml": lambda: ERRUK.replace(b"<tr:trace", b"<a/>" * 4_000_000 + b"<tr:trace", 1),
    "doctype.xml": lambda: b"<!DOCTYPE roll>" + ERRUK[ERRUK.index(b"<roll") :],
    "lost.xml": lambda: _ROOT + b"<entry/>" * 300_000,
    "comments.xml": lambda: _ROOT + b"<!--x-->" * 300_000,
    "depth.xml": lambda: _ROOT + b"<a>" * 300,
    "latin.xml": lambda: ERRUK.replace(b"Printworks", b"Printw\xf6rks", 1),
    "cut.xml": lambda: ERRUK[:400_000],
}
CSV: Files = {
    "lone-returns.csv": lambda: HERON.replace(b"\r\n", b"\n").replace(b"\n", b"\r") + b"\0",
    "mixed.csv": lambda: HERON.replace(b"Reading", b"R\xe9ad\xc3\xa9ng"),
    "columns.csv": lambda: _HEAD + b"\nMHz" + b",IL 1-2" * 1_000_000 + b"\n",
    "cells.csv.gz": lambda: gzip.compress(
        _KEYS + b"".join(b"%d%s\n" % (n, b",1" * 36) for n in range(1, 400_000)), 1
    ),
    "rows.csv.gz": lambda: gzip.compress(
        _KEYS + b"".join(b"%d%s\n" % (n, b",%04000d" % n * 36) for n in range(1, 2_000)), 1
    ),
    "keys.csv": lambda: _HEAD + b"".join(b"key %d,x\n" % n for n in range(100_000)),
    "line.csv": lambda: HERON.replace(b"link,", b"link," + b"x" * 5_000_000, 1),
    "quote.csv": lambda: HERON.replace(b"link,", b'link,"' + b"x\n" * 500_000, 1),
    "digits.csv": lambda: HERON.replace(b"\n1.00,", b"\n" + b"9" * 100_000 + b",", 1),
}
JSON: Files = {
    "objects.json": lambda: _RECORD + b'"extra":[' + b"{}," * 3_000_000 + b"{}]}",
    "texts.json": lambda: _RECORD + b'"extra":[' + b'"ab",' * 6_000_000 + b'"ab"]}',
    "array.json": lambda: b"[" + _RECORD + b'"a":1},' + b"{}," * 3_000_000 + b"{}]",
    "names.json": lambda: _RECORD + b",".join(b'"k%d":1' % n for n in range(1_100_000)) + b"}",
    "deep-array.json": lambda: b"[" + _RECORD + b'"a":' + b"[" * 90_000 + b"]" * 90_000 + b"}]",
    "integer.json": lambda: b"[" + _RECORD + b'"a":' + b"9" * 1_000_000 + b"}]",
    "unclosed.json": lambda: _RECORD + b'"a":"' + b"x" * 4_000_000,
    "grid.json": _grid,
}
TOUCHSTONE: Files = {
    "four.s4p": lambda: (_OPTION + "".join(f"{n}{_POINT}" for n in range(1, 500))).encode(),
    "ports.s999999999999p": lambda: (_OPTION + f"1{_POINT}").encode(),
    "twice.s2p": lambda: (_OPTION * 2 + f"1{_POINT}").encode(),
    "nan.s2p": lambda: f"{_OPTION}1 nan 0 0 0 0 inf 0 0\n".encode(),
    "backwards.s2p": lambda: (_OPTION + f"5{_POINT}1{_POINT}").encode(),
    "endless.s1p.gz": lambda: gzip.compress((_OPTION + "1 0 0\n" * 10_000_000).encode(), 1),
    "told.ts": lambda: (
        b"[Version] 2.0\n# MHz S DB R 100\n[Number of Ports] 99999999999999999999\n"
        b"[Number of Frequencies] 1000000000000\n[Network Data]\n1 0 0\n[End]\n"
    ),
}
_SKIPPED = b"\x50\x2a\x4d\x18\x04\0\0\0skip"
"""A frame of Zstandard that holds nothing (RFC 8878, 3.1.2)."""

PACKED: Files = {
    "climbs.zip": lambda: zipped(lambda archive: archive.writestr("../../climbed.csv", HERON)),
    "nested.zip": lambda: zipped(lambda archive: archive.writestr("in.zip", zipped(_link))),
    "nested-bomb.zip": lambda: zipped(
        lambda archive: archive.writestr("in.csv.gz", gzip.compress(b"0" * 100_000_000, 1))
    ),
    "bomb.zip": lambda: zipped(lambda archive: archive.writestr("a.csv", b"\n" * 100_000_000)),
    "lies.zip": _smaller_than_told,
    "many.zip": lambda: zipped(_many),
    "twice.zip": lambda: zipped(_twice),
    "link.zip": lambda: zipped(_link),
    "long-name.zip": lambda: zipped(lambda a: a.writestr("x" * 60_000 + ".csv", b"hello")),
    "escapes.zip": lambda: zipped(lambda a: a.writestr("\x1b[2J\u202e.csv", b"hello")),
    "cut.zip": lambda: zipped(lambda archive: archive.writestr("a.csv", HERON))[:-40],
    "many-members.csv.gz": lambda: gzip.compress(b"") * 50_000,
    "many-frames.csv.zst": lambda: _SKIPPED * 200_000,
    "long-name.csv.gz": lambda: b"\x1f\x8b\x08\x08" + b"\0" * 6 + b"n" * 5_000_000,
}
FILES: Files = {**XML, **CSV, **JSON, **TOUCHSTONE, **PACKED}
