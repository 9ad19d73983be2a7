"""What is said of a file, a dialect or a book that is not what was meant."""

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
