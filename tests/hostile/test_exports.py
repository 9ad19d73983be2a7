"""Exports made to harm: one clear line each, in bounded time and memory, and the rest is done."""

from pathlib import Path

import pytest

from tests.program import DIALECTS

from .conftest import Limited
from .exports import FILES, HERON


@pytest.mark.parametrize("name", FILES)
def test_a_check_answers_with_the_name_of_the_file(
    limited: Limited, tmp_path: Path, name: str
) -> None:
    folder = tmp_path / "in"
    folder.mkdir()
    (folder / name).write_bytes(FILES[name]())
    (folder / "zz-good.csv").write_bytes(HERON)
    done = limited("check", folder, *DIALECTS)
    assert done.exit_code == 1, done.output
    assert name in done.output.replace("\n", "") or name == "cut.xml"
    assert "1A-P1-01" in done.output, "the good one is judged all the same"
    assert [path.name for path in tmp_path.iterdir()] == ["in"]


def test_a_draft_of_numbers_in_columns_is_done_in_bounded_time(
    limited: Limited, tmp_path: Path
) -> None:
    """Blanks and digits begin no word, and are not searched for hundreds of them each."""
    rows = "".join(f"{at:>8}{'     86,8' * 12}\n" for at in range(1, 3_000))
    (tmp_path / "print.txt").write_text(f"NEXT\n     MHz{'  1/2:3/6' * 12}\n{rows}")
    done = limited("dialect", "draft", tmp_path / "print.txt")
    assert done.exit_code in (0, 3), done.output


def test_a_draft_of_very_many_tests_of_a_line_is_done_in_bounded_time(
    limited: Limited, tmp_path: Path
) -> None:
    """A text of each is not searched for among those of all others."""
    rows = "".join(f"{test};link;;;;;X-{test}\n" for test in range(30_000))
    (tmp_path / "many.csv").write_text(f"test;what;pair;side;kHz;reading;text\n{rows}")
    done = limited("dialect", "draft", tmp_path / "many.csv")
    assert done.exit_code in (0, 3), done.output[-2000:]


@pytest.mark.parametrize("mark", [b"\0", b"x", b"-"])
def test_a_draft_quotes_no_line_without_end(limited: Limited, tmp_path: Path, mark: bytes) -> None:
    (tmp_path / "long.csv").write_bytes(HERON + mark * 3_000_000 + b"\n")
    done = limited("dialect", "draft", tmp_path / "long.csv")
    assert done.exit_code == 0, done.output[-2000:]
    assert "COULD NOT TELL: what a line of more than 500 characters may mean" in done.text
    assert len(done.output) < 20_000


def test_a_draft_takes_no_rows_that_a_broken_quote_parts_from_their_table_for_keys(
    limited: Limited, tmp_path: Path
) -> None:
    path = tmp_path / "quote.csv"
    path.write_bytes(HERON.replace(b"\n1.15,", b'\n"1.15,', 1))
    done = limited("dialect", "draft", path)
    assert done.exit_code == 0, done.output[-2000:]
    assert "'1.30'" not in done.text, "neither key nor value"
    (tmp_path / "mine.toml").write_text(done.output)
    tried = limited("dialect", "try", tmp_path / "mine.toml", path)
    assert 'a quote (") is opened and not closed on this line' in tried.text
