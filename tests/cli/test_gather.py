"""Gathering with dialects: what a corrected dialect changes, and what it leaves."""

import hashlib
import json
from pathlib import Path

from tests.program import DEMO

from .conftest import UPHELD, Run

HERON = DEMO / "dialects" / "brindlewick-heron-5.toml"


def _lines(book: Path) -> list[dict[str, object]]:
    return [json.loads(line) for line in (book / "journal.jsonl").read_bytes().splitlines()]


def test_a_corrected_dialect_makes_a_new_reading_current_and_keeps_the_old(
    run: Run, tmp_path: Path
) -> None:
    book, dialect = tmp_path / "book", tmp_path / "heron.toml"
    text = HERON.read_bytes().replace(b'pass = "PASS"', b'pass = "FAIL"', 1)
    dialect.write_bytes(text.replace(b'fail = "FAIL"', b'fail = "PASS"', 1))
    run("gather", book, UPHELD, "--dialect", dialect)
    assert "1 test: 1 overturned." in run("check", book).stdout
    result = run("gather", book, UPHELD, "--dialect", HERON)
    assert "read again: heron-1A-P1-01.csv: 1 test, 1 new" in " ".join(result.stdout.split())
    assert "No longer current from the reading before: 1 test." in result.stdout
    digests = [hashlib.sha256(path.read_bytes()).hexdigest() for path in (dialect, HERON)]
    last = _lines(book)[-1]
    assert last["dialect"] == {"name": "brindlewick-heron-5", "sha256": digests[1]}
    assert last["read_before"]["dialect_sha256"] == digests[0]  # type: ignore[index] # an object
    assert sorted(path.stem for path in book.glob("dialects/*.toml")) == sorted(digests)
    assert len(list(book.glob("records/*/*.json"))) == 2
    assert "1 test: 1 upheld." in run("check", book).stdout
    assert run("doctor", book).exit_code == 0


def test_a_dialect_with_another_remark_gives_the_same_records(run: Run, tmp_path: Path) -> None:
    book, dialect = tmp_path / "book", tmp_path / "heron.toml"
    dialect.write_bytes(HERON.read_bytes() + b"\n# a remark\n")
    run("gather", book, UPHELD, "--dialect", HERON)
    result = run("gather", book, UPHELD, "--dialect", dialect)
    assert result.exit_code == 0
    assert "1 test, 0 new" in " ".join(result.stdout.split())
    assert "No longer current" not in result.stdout
    assert len(list(book.glob("records/*/*.json"))) == 1


def test_a_run_that_finds_nothing_new_writes_nothing(run: Run, tmp_path: Path) -> None:
    book = tmp_path / "book"
    run("gather", book, UPHELD, "--dialect", HERON)
    before = {path: path.read_bytes() for path in book.rglob("*") if path.is_file()}
    result = run("gather", book, UPHELD, "--dialect", HERON)
    assert "1 file, 1 of them unchanged" in result.stdout
    assert {path: path.read_bytes() for path in book.rglob("*") if path.is_file()} == before


def test_a_file_that_comes_twice_is_named_and_counts_once(run: Run, tmp_path: Path) -> None:
    book, exports = tmp_path / "book", tmp_path / "exports"
    exports.mkdir()
    for name in ("link.csv", "link (copy).csv"):
        (exports / name).write_bytes(UPHELD.read_bytes())
    said = " ".join(run("gather", book, exports, "--dialect", HERON).stdout.split())
    assert "link.csv: to the last byte the same as link (copy).csv, so it counts once" in said
    assert "2 files, 1 of them unchanged; 1 test, 1 new." in said
    again = run("gather", book, exports, "--dialect", HERON).stdout
    assert "to the last byte" not in again
    assert "2 files, 2 of them unchanged; 1 test, 0 new." in " ".join(again.split())


def test_a_changed_journal_is_never_written_on(run: Run, tmp_path: Path) -> None:
    book = tmp_path / "book"
    run("gather", book, UPHELD, "--dialect", HERON)
    journal = book / "journal.jsonl"
    journal.write_bytes(journal.read_bytes().replace(b"1A-P1-01", b"1A-P1-99", 1))
    before = journal.read_bytes()
    for command in (["gather", book, UPHELD], ["check", book], ["export", book, "--to", "xlsx",
                    "-o", tmp_path / "x.xlsx"]):  # fmt: skip
        result = run(*command)
        assert result.exit_code == 3
        assert "changed after the event" in " ".join(result.output.split())
    assert journal.read_bytes() == before
