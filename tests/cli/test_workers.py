"""Several processes: what they say of a book is what one says, damage and corrections included."""

import shutil
from pathlib import Path

import pytest

from sweepbook.cli import workers

from .conftest import Run


@pytest.fixture
def spoiled(run: Run, demo_book: Path, tmp_path: Path) -> Path:
    """The demo's book with a damaged record, a correction and an accepted finding."""
    book = tmp_path / "book"
    shutil.copytree(demo_book, book)
    first, second, *_ = sorted(book.rglob("sb0-*.json"))
    first.write_bytes(first.read_bytes().replace(b'"label"', b'"lable"', 1))
    why = ("--who", "K. Orme", "--why", "read off the panel")
    assert run("correct", book, second.stem, "label", "Z-99", *why).exit_code == 0
    assert run("accept", book, "REC004", "1A-P1-02", *why).exit_code == 0
    return book


@pytest.mark.parametrize("options", [(), ("--json",)])
def test_it_is_the_same_as_by_one_process(
    run: Run, book: Path, spoiled: Path, options: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(workers, "AT_ONCE", 5)
    command = ("check", book, spoiled, f"--project={spoiled / 'project.toml'}", *options)
    alone, together = run(*command), run(*command, "--workers", "2")
    assert alone.stdout == together.stdout
    assert alone.stderr == together.stderr
    assert alone.exit_code == together.exit_code == 1
