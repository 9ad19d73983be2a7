"""Books made to harm: what cannot be read is told, and nothing is waited for without end."""

import hashlib
import json
import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from .conftest import Limited

Change = Callable[[Path], object]


def _line(**body: object) -> Change:
    """One more line of the journal, of any content and with the digest that fits it."""

    def change(book: Path) -> None:
        journal = book / "journal.jsonl"
        last = json.loads(journal.read_bytes().splitlines()[-1])
        whole = {**last, **body, "line": last["line"] + 1, "previous": last["digest"]}
        del whole["digest"]
        text = json.dumps(whole).encode()[:-1]
        digest = hashlib.sha256(text).hexdigest().encode()
        with journal.open("ab") as stream:
            stream.write(text + b',"digest":"' + digest + b'"}\n')

    return change


def _instead(raw: bytes, name: str) -> Change:
    return lambda book: (book / name).write_bytes(raw)


def _record(book: Path) -> Path:
    return next((book / "records").glob("*/*"))


def _pipe(of: Callable[[Path], Path]) -> Change:
    def change(book: Path) -> None:
        path = of(book)
        path.unlink(missing_ok=True)
        os.mkfifo(path)

    return change


DAMAGED: dict[str, Change] = {
    "a long line": _instead(b"x" * (65 << 20), "journal.jsonl"),
    "a number in place of a line": _line(read_before=7),
    "no source": _line(source=None),
    "a record that climbs": _line(records=[{"record_id": "../../etc/passwd"}]),
    "a large book.json": _instead(b'{"a":[' + b"{}," * 3_000_000 + b"{}]}", "book.json"),
    "a deep book.json": _instead(b"[" * 100_000, "book.json"),
    "a large table": _instead(b"x" * (65 << 20), "corrections.csv"),
    "a deep record": lambda book: _record(book).write_bytes(b"[" * 1_000_000),
    "a record of objects": lambda book: _record(book).write_bytes(
        b'{"a":[' + b"{}," * 3_000_000 + b"{}]}"
    ),
    "a pipe as journal": _pipe(lambda book: book / "journal.jsonl"),
    "a pipe as record": _pipe(_record),
    "a pipe as source": _pipe(lambda book: next((book / "sources").glob("*/*/*"))),
    "a pipe as table": _pipe(lambda book: book / "corrections.csv"),
}


@pytest.mark.parametrize("what", DAMAGED)
def test_a_book_made_to_harm_is_told(
    limited: Limited, book: Path, tmp_path: Path, what: str
) -> None:
    copy = tmp_path / "copy"
    shutil.copytree(book, copy)
    DAMAGED[what](copy)
    doctor = limited("doctor", copy, seconds=120)
    assert doctor.exit_code in (1, 3), doctor.output
    assert "damaged" in doctor.output or "book.json" in doctor.output
    assert limited("check", copy, seconds=120).exit_code in (0, 1, 3)
    assert limited("archive", "make", copy, tmp_path / "bag", seconds=120).exit_code == 3
    assert not (tmp_path / "bag").exists()
