"""A file of another make than the one dialect named is of: said once, with what to do next."""

import shutil
from pathlib import Path

import pytest

from tests.program import DEMO

from .conftest import UPHELD, Run

HERON, TOLK, ERRUK = (
    DEMO / "dialects" / f"{name}.toml"
    for name in ("brindlewick-heron-5", "osquary-tolk", "thrennoby-erruk-3")
)


def _said(run: Run, *arguments: str | Path) -> str:
    result = run(*arguments)
    assert result.exit_code in (1, 3), result.output
    return " ".join(result.output.split())


def _unbroken(text: str | Path) -> str:
    """A text without blanks: a path that is wider than the screen goes on in the next line."""
    return "".join(str(text).split())


@pytest.fixture
def alone(tmp_path: Path) -> Path:
    """A dialect in a folder with no other one."""
    (tmp_path / "alone").mkdir()
    return Path(shutil.copy(TOLK, tmp_path / "alone"))


def test_a_dialect_that_fits_and_lies_beside_the_wrong_one_is_named(
    run: Run, tmp_path: Path
) -> None:
    said = _said(run, "gather", tmp_path / "book", UPHELD, "--dialect", TOLK)
    assert "the signature of the dialect osquary-tolk, 'TOLK SURVEY;7', is not in this file" in said
    assert _unbroken(f"name it, too: --dialect {HERON}.") in _unbroken(said)
    assert "holds all the titles" not in said
    assert _unbroken(ERRUK) not in _unbroken(said)
    both = run("gather", tmp_path / "b", UPHELD, "--dialect", TOLK, "--dialect", HERON)
    assert both.exit_code == 0, "and that is right"


def test_a_dialect_of_another_format_is_told_by_how_files_begin(run: Run, tmp_path: Path) -> None:
    said = _said(run, "gather", tmp_path / "book", UPHELD, "--dialect", ERRUK)
    assert "this file does not begin as those of the dialect thrennoby-erruk-3 do" in said
    assert _unbroken(f"--dialect {HERON}.") in _unbroken(said)


def test_where_none_fits_the_reader_is_heard_too(run: Run, tmp_path: Path, alone: Path) -> None:
    said = _said(run, "check", UPHELD, "--dialect", alone)
    assert "'TOLK SURVEY;7', is not in this file" in said
    assert "`sweepbook dialect draft` works a dialect out" in said
    assert "Read by osquary-tolk all the same: lines 1-1143: no line holds all the titles" in said
    tried = _said(run, "dialect", "try", alone, UPHELD)
    assert tried.count("'TOLK SURVEY;7', is not in this file") == 1


def test_files_lost_for_one_reason_are_told_together(run: Run, tmp_path: Path, alone: Path) -> None:
    folder = tmp_path / "exports"
    folder.mkdir()
    for number in range(6):
        text = UPHELD.read_text("utf-8").replace("op-17", f"op-{number}")
        (folder / f"{number}.csv").write_text(text, encoding="utf-8")
    said = _said(run, "gather", tmp_path / "book", folder, "--dialect", alone)
    assert "gathered: 6 files: 0.csv, 1.csv, 2.csv and 3 more: 0 tests, 0 new" in said
    assert said.count("is not in this file") == 1


def test_a_file_that_has_the_signature_is_told_of_as_before(run: Run, tmp_path: Path) -> None:
    """Nothing speaks for another make: what the reader says is all there is to say."""
    file = tmp_path / "cut.csv"
    file.write_text("TOLK SURVEY;7\nmaker;Osquary\nmodel;Tolk\n", encoding="utf-8")
    said = _said(run, "gather", tmp_path / "book", file, "--dialect", TOLK)
    assert "no line holds all the titles" in said
    assert "another make" not in said


def test_a_dialect_that_reads_something_is_used_whatever_the_file_begins_with(
    run: Run, tmp_path: Path
) -> None:
    file = tmp_path / "renamed.csv"
    text = UPHELD.read_text("utf-8").replace("Heron sweep report,4", "Heron sweep report,5")
    file.write_text(text, encoding="utf-8")
    result = run("gather", tmp_path / "book", file, "--dialect", HERON)
    assert "1 test, 1 new" in result.output
    assert "another make" not in result.output
