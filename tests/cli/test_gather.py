"""Gathering with dialects: what a corrected dialect changes, and what it leaves."""

import hashlib
import json
import shutil
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


def test_what_the_book_has_is_unchanged_without_the_dialect_that_read_it(
    demo_book: Path, run: Run, tmp_path: Path
) -> None:
    book = shutil.copytree(demo_book, tmp_path / "book")
    before = (book / "journal.jsonl").read_bytes()
    result = run("gather", book, DEMO / "exports")
    assert result.exit_code == 0
    assert "16 files, 16 of them unchanged; 27 tests, 0 new." in " ".join(result.stdout.split())
    assert "refused" not in result.stdout
    others = tmp_path / "others"
    others.mkdir()
    (others / UPHELD.name).write_bytes(UPHELD.read_bytes())
    (others / "new.csv").write_bytes(UPHELD.read_bytes().replace(b"1A-P1-01", b"1A-P1-99"))
    result = run("gather", book, others)
    assert result.exit_code == 1
    said = " ".join(result.stdout.split())
    assert "refused: new.csv not read: no format or dialect knows this file" in said
    assert "2 files, 1 of them unchanged; 1 test, 0 new. 1 problem in reading." in said
    its = [line for line in _lines(book) if line["event"] == "gathered"]
    assert len(its) == before.count(b'"event":"gathered"')


def test_what_the_book_has_is_read_again_by_another_dialect_and_refused_where_none_is_asked_for(
    run: Run, tmp_path: Path
) -> None:
    book, dialect = tmp_path / "book", tmp_path / "heron.toml"
    dialect.write_bytes(HERON.read_bytes() + b"\n# a remark\n")
    run("gather", book, UPHELD, "--dialect", HERON)
    again = run("gather", book, UPHELD, "--again")
    assert (again.exit_code, "refused: heron-1A-P1-01.csv" in again.stdout) == (3, True)
    assert "unchanged" in run("gather", book, UPHELD).stdout
    other = run("gather", book, UPHELD, "--dialect", dialect)
    assert "read again: heron-1A-P1-01.csv: 1 test, 0 new" in " ".join(other.stdout.split())
    digest = hashlib.sha256(dialect.read_bytes()).hexdigest()
    assert _lines(book)[-1]["dialect"] == {"name": "brindlewick-heron-5", "sha256": digest}


def test_a_file_of_which_no_test_was_read_stays_refused(run: Run, tmp_path: Path) -> None:
    book, export = tmp_path / "book", tmp_path / "lost.csv"
    export.write_bytes(b"\n".join(UPHELD.read_bytes().splitlines()[:3]))
    taken = run("gather", book, export, "--dialect", HERON)
    assert taken.exit_code == 3
    assert [line["event"] for line in _lines(book)] == ["begun", "gathered"]
    result = run("gather", book, export)
    assert (result.exit_code, "refused: lost.csv" in result.stdout) == (3, True)


def test_files_that_are_refused_for_one_reason_are_told_once(run: Run, tmp_path: Path) -> None:
    exports = tmp_path / "exports"
    exports.mkdir()
    for number in range(1, 6):
        (exports / f"{number}.xyz").write_text(f"nobody knows me, {number}")
    (exports / "6.xyz").write_bytes(b"")
    said = " ".join(run("gather", tmp_path / "book", exports).stdout.split())
    assert said.count("no format or dialect knows this file") == 1
    assert "refused: 5 files: 1.xyz, 2.xyz, 3.xyz and 2 more not read: no format" in said
    assert "refused: 6.xyz not read: the file is empty" in said
    assert "6 files; 0 tests, 0 new. 6 problems in reading." in said
    told = json.loads(run("gather", tmp_path / "book", exports, "--json").stdout)
    assert [source["name"] for source in told["sources"]] == [f"{n}.xyz" for n in range(1, 7)]


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
