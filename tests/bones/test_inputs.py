"""Which files a person means: each once, in a stable order, nothing hidden, no book."""

import os
from pathlib import Path

import pytest
from tests.closed import closed

from sweepbook.errors import ReadProblem
from sweepbook.inputs import files_of, small_file


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for name in (
        "b.csv",
        "a10.csv",
        "a2.csv",
        ".hidden.csv",
        "sub/c.csv",
        ".git/x",
        "sub/.d/e.csv",
    ):
        path = tmp_path / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(name)
    return tmp_path


def _names(*paths: Path) -> list[str]:
    return [path.name for path in files_of(paths) if isinstance(path, Path)]


def test_a_folder_is_walked_in_natural_order_without_what_is_hidden(folder: Path) -> None:
    assert _names(folder) == ["a2.csv", "a10.csv", "b.csv", "c.csv"]


def test_a_hidden_file_that_is_named_is_meant(folder: Path) -> None:
    assert _names(folder / ".hidden.csv") == [".hidden.csv"]


def test_named_files_come_in_the_order_in_which_they_are_named_and_once(folder: Path) -> None:
    assert _names(folder / "b.csv", folder / "a2.csv", folder / "b.csv", folder) == [
        "b.csv", "a2.csv", "a10.csv", "c.csv",
    ]  # fmt: skip


def test_a_book_below_a_folder_is_passed_over(folder: Path) -> None:
    (folder / "sub" / "book.json").write_text("{}")
    assert "c.csv" not in _names(folder)


def test_links_to_files_are_followed_and_links_to_folders_are_not(folder: Path) -> None:
    (folder / "sub" / "z.csv").symlink_to(folder / "b.csv")
    (folder / "sub" / "up").symlink_to(folder, target_is_directory=True)
    assert _names(folder / "sub") == ["c.csv", "z.csv"]


def test_a_pipe_is_told_and_never_opened(folder: Path) -> None:
    os.mkfifo(folder / "a.csv")
    problems = [entry for entry in files_of([folder]) if isinstance(entry, ReadProblem)]
    assert [problem.source for problem in problems] == ["a.csv"]
    assert "no regular file" in problems[0].message


def test_a_link_in_a_circle_is_told_and_the_rest_is_read(folder: Path) -> None:
    (folder / "a.csv").symlink_to(folder / "a.csv")
    (folder / "aa.csv").symlink_to(folder / "aaa.csv")
    (folder / "aaa.csv").symlink_to(folder / "aa.csv")
    problems = [entry for entry in files_of([folder]) if isinstance(entry, ReadProblem)]
    assert [problem.source for problem in problems] == ["a.csv", "aa.csv", "aaa.csv"]
    assert "circle" in problems[0].message
    assert _names(folder) == ["a2.csv", "a10.csv", "b.csv", "c.csv"]


def test_a_folder_that_nobody_may_open_ends_no_walk(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder.chmod(0o755)
    monkeypatch.chdir(folder)
    with closed(Path("sub")):
        *found, last = files_of([Path()])
    assert [str(entry) for entry in found] == ["a2.csv", "a10.csv", "b.csv"]
    assert isinstance(last, ReadProblem)
    assert last.message == "The folder cannot be listed: Permission denied."


def test_a_file_in_a_closed_folder_is_told_when_it_is_named(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder.chmod(0o755)
    monkeypatch.chdir(folder)
    with closed(Path("sub")):
        (found,) = files_of([Path("sub/c.csv")])
    assert isinstance(found, ReadProblem)
    assert found.message == "The file cannot be reached: Permission denied."


def test_a_file_that_is_made_in_this_moment_is_none_that_is_no_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It is not there at the first look, and at the next one it is."""
    path, real = tmp_path / "journal.jsonl", Path.stat

    def made_meanwhile(self: Path, *, follow_symlinks: bool = True) -> os.stat_result:
        try:
            return real(self, follow_symlinks=follow_symlinks)
        except FileNotFoundError:
            self.write_bytes(b"a line\n")
            raise

    monkeypatch.setattr(Path, "stat", made_meanwhile)
    assert small_file(path, 100) == b"a line\n"
