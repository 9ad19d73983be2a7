"""One writer at a time; the second waits, says so, and gives up in the end."""

import errno
import os
from pathlib import Path

import pytest

from sweepbook.book import lock
from sweepbook.book.lock import BookInUse
from sweepbook.errors import SweepbookError


def test_the_second_waits_says_so_once_and_gives_up(tmp_path: Path) -> None:
    said: list[str] = []
    with (
        lock.held(tmp_path / ".lock"),
        pytest.raises(BookInUse, match="run the same command again"),
        lock.held(tmp_path / ".lock", wait_s=0.2, on_wait=lambda: said.append("waiting")),
    ):
        pass
    assert said == ["waiting"]


def test_what_was_let_go_can_be_held_again(tmp_path: Path) -> None:
    for _ in range(2):
        with lock.held(tmp_path / ".lock", wait_s=0):
            pass


def test_a_book_that_cannot_be_written_to_is_told(tmp_path: Path) -> None:
    (tmp_path / "plain").write_bytes(b"")
    with (
        pytest.raises(SweepbookError, match="cannot be written"),
        lock.held(tmp_path / "plain" / ".lock"),
    ):
        pass


def test_a_file_system_without_locks_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def none(_: object) -> bool:
        raise OSError(errno.ENOLCK, os.strerror(errno.ENOLCK))

    monkeypatch.setattr(lock, "taken", none)
    with pytest.raises(SweepbookError, match="cannot be locked"), lock.held(tmp_path / ".lock"):
        pass
