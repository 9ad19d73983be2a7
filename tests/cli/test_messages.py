"""What is said of a file, a dialect or a book that is not what was meant."""

import json
from pathlib import Path

import pytest

from tests.program import DEMO

from .conftest import UPHELD, Run

ROOT = Path(__file__).parents[2]
DIALECT = DEMO / "dialects" / "brindlewick-heron-5.toml"


@pytest.mark.parametrize("options", [(), ("--dialect", DIALECT), ("--from", "json")])
def test_an_empty_file_is_empty_however_it_is_to_be_read(
    run: Run, tmp_path: Path, options: tuple[str | Path, ...]
) -> None:
    (tmp_path / "e.csv").write_bytes(b"")
    result = run("check", tmp_path, *options)
    assert result.exit_code == 3
    assert "the file is empty" in result.stdout


def test_a_format_and_a_dialect_for_another_are_told_before_anything_is_read(run: Run) -> None:
    result = run("check", UPHELD, "--from", "xml", "--dialect", DIALECT)
    assert result.exit_code == 3
    assert "--from xml does not go with the dialect brindlewick-heron-5" in result.stderr


def test_where_the_label_is_not_found_the_keys_are_named(run: Run, tmp_path: Path) -> None:
    own = tmp_path / "own.toml"
    text = DIALECT.read_text("utf-8")
    (label,) = [line for line in text.splitlines() if line.startswith("link.label")]
    own.write_text(text.replace(label, 'link.label = "Nothing"'), "utf-8")
    said = " ".join(run("check", UPHELD, "--dialect", own).stdout.split())
    assert "there is no label: no text under 'Nothing'; the test has '" in said


def test_a_file_in_place_of_a_book_is_said_to_be_one(run: Run) -> None:
    assert "is a file, and a book is a folder" in run("doctor", UPHELD).stderr


def test_the_guide_that_messages_point_to_is_printed(run: Run, tmp_path: Path) -> None:
    (tmp_path / "e.csv").write_text("a;b\n1;2\n")
    assert "`sweepbook formats --guide`" in " ".join(run("check", tmp_path).stdout.split())
    result = run("formats", "--guide")
    assert result.exit_code == 0
    assert result.stdout == (ROOT / "plugins" / "README.md").read_text("utf-8")


@pytest.mark.parametrize(
    ("arguments", "said", "todo"),
    [
        (("export", "BOOK", "--to", "xlsx", "-o", "."), ". is a folder", "Name a file in it"),
        (("export", "BOOK", "--to", "as-built", "-o", "dir"), "dir is a folder", "Name a file in"),
        (("export", "BOOK", "--to", "xlsx", "-o", "d.json/x"), "d.json is a file and", "another"),
        (("export", UPHELD, "--to", "xlsx", "-o", "x.xlsx"), "is a file, and a book", "convert"),
        (("check", UPHELD, "--dialect", "dir"), "'dir' is a folder", "Name the dialect"),
        (("check", UPHELD, "--dialect", "d.json"), "it is JSON, and no TOML", "shows whole ones"),
        (("check", UPHELD, "--dialect", UPHELD), "it is no TOML", "is a text file in TOML"),
        (("check", UPHELD, "--dialect", "latin.toml"), "it is not UTF-8", "is a text file in TOML"),
        (("reconcile", "BOOK", "--schedule", "e.csv"), "e.csv: there is nothing in it", "again"),
        (("reconcile", "BOOK", "--schedule", "s.pdf"), "none of the endings", "Save the table as"),
        (("check", UPHELD, "--rule", "PLN"), "'PLN' is not asked of tests", "sweepbook reconcile"),
        (("check", UPHELD, "--without-rule", "PLN003"), "is not asked of tests", "accept` lets"),
        (("check", UPHELD, "--rule", "PLX"), "no rule, no group", "Groups are"),
        (("rules", "show", "pln"), "No rule has the id 'pln'", "Show one of PLN001, PLN002"),
        (("rules", "show", "PLX001"), "No rule has the id", "See `sweepbook rules list`"),
        (("gather", "new", "BOOK"), "is a book, and a book is gathered", "sources to take its"),
    ],
    ids=lambda value: (
        " ".join(Path(part).name for part in value[:1] + value[-1:])
        if isinstance(value, tuple)
        else ""
    ),
)
def test_a_wrong_use_says_what_is_wrong_and_what_to_do(
    run: Run,
    book: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    arguments: tuple[str | Path, ...],
    said: str,
    todo: str,
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("dir").mkdir()
    Path("d.json").write_text('{"name": "x"}')
    Path("latin.toml").write_bytes(b'title = "f\xfcr"')
    Path("e.csv").write_text("")
    Path("s.pdf").write_bytes(b"%PDF-1.7\n")
    result = run(*(book if part == "BOOK" else part for part in arguments))
    assert result.exit_code == 3
    what, *next_step = result.stderr.split("Error: ")[1].splitlines()
    assert said in what
    assert todo in " ".join(next_step)
    assert not Path("new").exists()


def test_a_folder_that_holds_a_book_is_told_from_it(run: Run, book: Path) -> None:
    told = run("doctor", book.parent).stderr
    assert "is not a book" in told
    assert f"Give the book that lies in it: {book}." in told


def test_a_test_that_comes_from_two_places_counts_once_and_that_is_told(
    run: Run, book: Path, tmp_path: Path
) -> None:
    copy = tmp_path / "copy.csv"
    copy.write_bytes(UPHELD.read_bytes())
    twice = ("check", book, copy, "--dialect", DIALECT)
    result = run(*twice)
    assert "3 tests:" in result.stdout
    assert "To know: 1 test came again" in result.stderr
    assert "1A-P1-01" in result.stderr
    assert len(json.loads(run(*twice, "--json").stdout)["records"]) == 3
    assert result.exit_code == run("check", book).exit_code


def test_a_test_that_was_corrected_in_one_of_two_places_is_not_taken_for_the_same(
    run: Run, tmp_path: Path
) -> None:
    book = tmp_path / "book"
    run("gather", book, UPHELD, "--dialect", DIALECT)
    run("correct", book, "1A-P1-01", "label", "1A-P1-99", "--who", "K. Orme", "--why", "seen")
    result = run("check", UPHELD, book, "--dialect", DIALECT)
    assert "2 tests:" in result.stdout
    assert "came again" not in result.stderr


def test_a_book_that_is_named_twice_is_read_once(run: Run, book: Path) -> None:
    result = run("check", book, book / ".." / book.name)
    assert "3 tests:" in result.stdout
    assert result.stderr == ""


def test_corrections_that_were_taken_out_of_the_table_are_missed(run: Run, tmp_path: Path) -> None:
    book = tmp_path / "book"
    run("gather", book, UPHELD, "--dialect", DIALECT)
    known = "that the journal tells of last is not in it", "tells of and that are not in it: 2,"
    for text, said in zip(("op-3", "op-4"), known, strict=True):
        run("correct", book, "1A-P1-01", "operator", text, "--who", "K. Orme", "--why", "seen")
        whole = (book / "corrections.csv").read_bytes()
        for emptied in (True, False):
            (book / "corrections.csv").unlink()
            if emptied:
                (book / "corrections.csv").write_bytes(b"")
            result = run("check", book)
            assert said in " ".join(result.stdout.split())
            assert result.exit_code == 1
        (book / "corrections.csv").write_bytes(whole)
